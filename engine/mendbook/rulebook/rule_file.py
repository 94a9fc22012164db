"""Read one rule file: a chart or a when-rule, in the form that keeps the book monotone."""

from collections.abc import Mapping
from dataclasses import dataclass

from mendbook.rulebook.citations import Source, read_citation
from mendbook.rulebook.errors import refuse
from mendbook.rulebook.phrases import PhraseError, is_on_bad_side, is_on_good_side, read_bounds
from mendbook.rulebook.sentences import LIMIT, has_digit, placeholders
from mendbook.rulebook.tree import Bound, Citation, Example, Line, Op, Outcome, Rule, Value
from mendbook.terms.document import Document
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Subject, Vocabulary, Worse

RULE_KEYS = ("rule", "asks", "applies to", "chart", "otherwise", "when", "examples")
OUTCOME_KEYS = ("verdict", "hold", "stop", "rule out", "cap", "do", "caution")
SAYING_KEYS = (*OUTCOME_KEYS, "because", "source", "also")
Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Context:
    """What a rule may refer to: facts, sources, the verdict scale from mild to severe, method names."""

    vocabulary: Vocabulary
    sources: Mapping[str, Source]
    verdicts: tuple[str, ...]
    methods: tuple[str, ...]


def read_rule(document: Document, rule_id: str, stage: str, context: Context) -> Rule:
    """Return the rule written in `document`. Raises RulebookError with file, line and what to write instead."""
    return _Reader(document, context).rule(rule_id, stage)


@dataclass(frozen=True)
class _Reader:
    document: Document
    context: Context

    def rule(self, rule_id: str, stage: str) -> Rule:
        tree = self.document.tree
        self._known_keys(tree, (), (*RULE_KEYS, *SAYING_KEYS))
        for key in ("rule", "asks", "applies to", "examples"):
            if key not in tree:
                raise refuse(self.document, (), f"the rule does not say '{key}'", f"Add the line '{key}: ...'.")
        is_chart = "chart" in tree
        if is_chart == ("when" in tree):
            raise refuse(self.document, (), "a rule is either a 'chart:' or a 'when:'")
        applies = self._bounds(tree["applies to"], ("applies to",))
        for bound in applies:
            if bound.op is not Op.IN:
                path = ("applies to", bound.fact)
                raise refuse(self.document, path, f"'applies to' takes listed facts only; {bound.fact} is a measure")
        lines = self._chart(tree) if is_chart else (self._when(tree),)
        names = {b.fact for b in applies} | {b.fact for line in lines for b in line.bounds}
        names |= {name for line in lines for name in placeholders(line.because) if name != LIMIT}
        facts = self.context.vocabulary
        about_injury = any(facts[name].subject is Subject.INJURY for name in names)
        return Rule(
            id=rule_id, name=str(tree["rule"]), asks=str(tree["asks"]), file=self.document.name, stage=stage,
            subject=Subject.INJURY if about_injury else Subject.TYRE, applies=applies, lines=lines, is_chart=is_chart,
            examples=self._examples(tree["examples"]),
        )  # fmt: skip

    def _chart(self, tree: Mapping[str, object]) -> tuple[Line, ...]:
        rows = tree["chart"]
        if not isinstance(rows, list) or not rows:
            raise refuse(self.document, ("chart",), "a chart is a list of lines, each with a dash")
        if not isinstance(tree.get("otherwise"), dict):
            raise refuse(
                self.document, ("chart",), "the chart has a gap: no 'otherwise'",
                "Say after the chart what holds when no line fits.",
            )  # fmt: skip
        places: list[tuple[Path, object]] = [(("chart", n), row) for n, row in enumerate(rows)]
        lines = [self._line(row, path, good_side=True) for path, row in places]
        last = self._line(tree["otherwise"], ("otherwise",), good_side=True)
        if last.bounds:
            raise refuse(self.document, ("otherwise",), "'otherwise' has no limits: it holds when no line fits")
        for number, (path, _) in enumerate(places):
            if not lines[number].bounds:
                raise refuse(self.document, path, "this line has no limit, so no line below can be reached")
        lines.append(last)
        self._severity_rises(lines)
        return tuple(lines)

    def _when(self, tree: Mapping[str, object]) -> Line:
        row = {key: value for key, value in tree.items() if key in SAYING_KEYS}
        line = self._line(row, (), good_side=False)
        bounds = self._bounds(tree["when"], ("when",))
        for bound in bounds:
            fact = self.context.vocabulary[bound.fact]
            window = fact.worse is Worse.NEITHER and line.outcome.verdict is None
            if not is_on_bad_side(fact, bound) and not window:
                good, bad = ("up to", "over") if fact.worse is Worse.BIGGER else ("at least", "below")
                raise refuse(
                    self.document, ("when", bound.fact),
                    f"'{bound.fact}' is worse when {fact.worse}, so a 'when' may bound it on its bad side only",
                    f"Write '{bad} ...' (a limit read '{good} ...' belongs in a chart).",
                )  # fmt: skip
        return Line(bounds, line.outcome, line.because, line.sources, line.at)

    def _line(self, row: object, path: Path, *, good_side: bool) -> Line:
        if not isinstance(row, dict):
            raise refuse(self.document, path, "a line is a map of facts and what they mean")
        bounds = self._bounds({k: v for k, v in row.items() if k not in SAYING_KEYS}, path) if good_side else ()
        for bound in bounds:
            fact = self.context.vocabulary[bound.fact]
            if not is_on_good_side(fact, bound):
                want = "at least" if fact.worse is Worse.SMALLER else "up to"
                raise refuse(
                    self.document, (*path, bound.fact),
                    f"'{bound.fact}' is worse when {fact.worse}, so a chart line may bound it on its good side only",
                    f"Write '{want} ...'.",
                )  # fmt: skip
        outcome = self._outcome(row, path)
        because = self._because(row, path)
        return Line(bounds, outcome, because, self._sources(row, path), self.document.line(path))

    def _bounds(self, entry: object, path: Path) -> tuple[Bound, ...]:
        if not isinstance(entry, dict):
            return () if entry in ("", None) else self._fail_map(path)
        bounds: list[Bound] = []
        for name, written in entry.items():
            if name not in self.context.vocabulary:
                raise refuse(self.document, (*path, name), f"no fact is called '{name}'", self._near_fact(name))
            try:
                bounds.extend(read_bounds(self.context.vocabulary[name], written))
            except PhraseError as error:
                raise refuse(self.document, (*path, name), error.what, error.instead) from None
        return tuple(bounds)

    def _fail_map(self, path: Path) -> tuple[Bound, ...]:
        raise refuse(self.document, path, "write 'fact: limit' here, one a line")

    def _outcome(self, row: Mapping[str, object], path: Path) -> Outcome:
        verdict = row.get("verdict")
        if verdict is not None and verdict not in self.context.verdicts:
            near = suggest(str(verdict), self.context.verdicts)
            hint = f"Did you mean '{near}'?" if near else f"Write one of: {', '.join(self.context.verdicts)}."
            raise refuse(self.document, (*path, "verdict"), f"no verdict is called '{verdict}'", hint)
        outcome = Outcome(
            verdict=None if verdict is None else str(verdict),
            hold=_text(row.get("hold")), stop=_text(row.get("stop")),
            rule_out=self._methods(row, path), cap=_pairs(row.get("cap")), do=_texts(row.get("do")),
            caution=_texts(row.get("caution")),
        )  # fmt: skip
        if not outcome.words():
            raise refuse(self.document, path, "this line says nothing", f"Say one of: {', '.join(OUTCOME_KEYS)}.")
        return outcome

    def _methods(self, row: Mapping[str, object], path: Path) -> tuple[str, ...]:
        names = _texts(row.get("rule out"))
        for name in names:
            if name not in self.context.methods:
                near = suggest(name, self.context.methods)
                hint = f"Did you mean '{near}'?" if near else f"Known methods: {', '.join(self.context.methods)}."
                raise refuse(self.document, (*path, "rule out"), f"no method is called '{name}'", hint)
        return names

    def _because(self, row: Mapping[str, object], path: Path) -> str:
        sentence = _text(row.get("because"))
        if not sentence:
            raise refuse(self.document, path, "'because' is missing", "Say in one sentence why.")
        if has_digit(sentence):
            raise refuse(
                self.document, (*path, "because"), f"a number is typed in the sentence: {sentence}",
                "Write <limit> or the name of a fact between < and >.",
            )  # fmt: skip
        for name in placeholders(sentence):
            if name != LIMIT and name not in self.context.vocabulary:
                what = f"the sentence names <{name}>, which is no fact"
                raise refuse(self.document, (*path, "because"), what, self._near_fact(name))
        return sentence

    def _sources(self, row: Mapping[str, object], path: Path) -> tuple[Citation, ...]:
        if "source" not in row:
            raise refuse(
                self.document, path, "no source is named",
                "Write 'source: <id>, <place>'; a limit that nobody published says 'source: house, <what>'.",
            )  # fmt: skip
        cited = [("source", text) for text in _texts(row["source"])]
        cited += [("also", text) for text in _texts(row.get("also"))]
        return tuple(read_citation(self.document, (*path, key), text, self.context.sources) for key, text in cited)

    def _examples(self, entry: object) -> tuple[Example, ...]:
        if not isinstance(entry, list) or not entry:
            raise refuse(self.document, ("examples",), "a rule closes with worked examples, each with a dash")
        return tuple(self._example(row, ("examples", n)) for n, row in enumerate(entry))

    def _example(self, row: object, path: Path) -> Example:
        if not isinstance(row, dict):
            raise refuse(self.document, path, "an example is a map: {fact: value, verdict: ...}")
        facts: dict[str, Value] = {}
        for name, written in row.items():
            if name in ("asks", "verdict", "says"):
                continue
            if name not in self.context.vocabulary:
                raise refuse(self.document, (*path, name), f"no fact is called '{name}'", self._near_fact(name))
            fact = self.context.vocabulary[name]
            try:
                bound = read_bounds(fact, written if fact.is_listed else f"up to {written}")[0]
            except PhraseError as error:
                raise refuse(self.document, (*path, name), error.what, error.instead) from None
            facts[name] = bound.values[0] if fact.is_listed else bound.number
        verdict = _text(row.get("verdict"))
        says = str(row.get("says", "verdict" if verdict else "nothing"))
        if says not in (*OUTCOME_KEYS, "nothing"):
            raise refuse(self.document, (*path, "says"), f"'{says}' is nothing a rule says")
        return Example(facts, verdict, says, str(row.get("asks", "")), self.document.line(path))

    def _severity_rises(self, lines: list[Line]) -> None:
        scale = self.context.verdicts
        worst, at = -1, 0
        for line in lines:
            if line.outcome.verdict is None:
                continue
            rank = scale.index(line.outcome.verdict)
            if rank < worst:
                milder, above = line.outcome.verdict, scale[worst]
                raise refuse(
                    self.document, self._path_of(line), f"'{milder}' is milder than '{above}' on line {at}",
                    "A worse injury may never get a milder verdict. Move the milder line up.",
                )  # fmt: skip
            worst, at = rank, line.at

    def _path_of(self, line: Line) -> Path:
        for number in range(len(self.document.tree["chart"])):
            if self.document.line(("chart", number)) == line.at:
                return ("chart", number)
        return ("otherwise",)

    def _known_keys(self, tree: Mapping[str, object], path: Path, known: tuple[str, ...]) -> None:
        for key in tree:
            if key not in known:
                near = suggest(key, known)
                raise refuse(
                    self.document,
                    (*path, key),
                    f"a rule has no '{key}'",
                    f"Did you mean '{near}'?" if near else "",
                )

    def _near_fact(self, name: str) -> str:
        right = self.context.vocabulary.synonyms.get(name)
        if right:
            return f"Write '{right}' for '{name}'."
        near = suggest(name, self.context.vocabulary.facts)
        return f"Did you mean '{near}'?" if near else "Describe it in knowledge/vocabulary first."


def _text(value: object) -> str | None:
    return None if value is None else " ".join(str(value).split())


def _texts(value: object) -> tuple[str, ...]:
    if value is None:
        return ()
    return tuple(" ".join(str(v).split()) for v in (value if isinstance(value, list) else [value]))


def _pairs(value: object) -> tuple[tuple[str, str], ...]:
    return tuple((k, str(v)) for k, v in value.items()) if isinstance(value, dict) else ()
