"""Read one rule file: a chart or a when-rule, in the form that keeps the book monotone."""

from collections.abc import Mapping
from dataclasses import dataclass

from mendbook.rulebook.context import Context, Path
from mendbook.rulebook.errors import RulebookError, refuse, refuse_unknown_keys
from mendbook.rulebook.phrases import PhraseError, is_on_bad_side, is_on_good_side, known_value, read_number
from mendbook.rulebook.sayings import NOTHING, OUTCOME_KEYS, SAYING_KEYS, read_saying, read_verdict
from mendbook.rulebook.sentences import LIMIT, placeholders
from mendbook.rulebook.tree import Example, Line, Op, Rule, Value
from mendbook.terms.document import Document
from mendbook.terms.vocabulary import Fact, Subject, Worse

RULE_NEEDED = ("rule", "asks", "applies to", "examples")
RULE_KEYS = (*RULE_NEEDED, "chart", "otherwise", "when", "in reserve")
EXAMPLE_KEYS = ("asks", "verdict", "says")


def read_rule(document: Document, rule_id: str, stage: str, context: Context) -> Rule:
    """Return the rule written in `document`. Raises RulebookError with file, line and what to write instead."""
    return _Reader(document, context).rule(rule_id, stage)


@dataclass(frozen=True)
class _Reader:
    document: Document
    context: Context

    def rule(self, rule_id: str, stage: str) -> Rule:
        tree = self.document.tree
        is_chart = self._is_chart(tree)
        applies = self.context.bounds(self.document, ("applies to",), tree["applies to"])
        for bound in applies:
            if bound.op is not Op.IN:
                path = ("applies to", bound.fact)
                raise refuse(self.document, path, f"'applies to' takes listed facts only; {bound.fact} is a measure")
        lines = self._chart(tree) if is_chart else (self._when(tree),)
        names = {b.fact for b in applies} | {b.fact for line in lines for b in line.bounds}
        told = [text for line in lines for text in (line.because, *(said for _, said in line.outcome.sentences()))]
        names |= {name for text in told for name in placeholders(text)} - {LIMIT}
        subjects = {self.context.vocabulary[name].subject for name in names}
        return Rule(
            id=rule_id, name=str(tree["rule"]), asks=str(tree["asks"]),
            in_reserve=str(tree.get("in reserve", "")), file=self.document.name, stage=stage,
            subject=Subject.INJURY if Subject.INJURY in subjects else Subject.TYRE, applies=applies, lines=lines,
            is_chart=is_chart, examples=self._examples(tree["examples"]),
        )  # fmt: skip

    def _is_chart(self, tree: Mapping[str, object]) -> bool:
        """Return whether the rule is a chart, when its keys are those of a chart or of a when-rule."""
        known = (*RULE_KEYS, *SAYING_KEYS)
        refuse_unknown_keys(self.document, (), tree, known, "a rule")
        for key in RULE_NEEDED:
            if key not in tree:
                raise refuse(self.document, (), f"the rule does not say '{key}'", f"Add the line '{key}: ...'.")
        is_chart = "chart" in tree
        if is_chart == ("when" in tree):
            raise refuse(self.document, (), "a rule is either a 'chart:' or a 'when:'")
        for key in SAYING_KEYS if is_chart else ("otherwise",):
            if key in tree:
                where = "on a line of the chart, or under 'otherwise'" if is_chart else "in a chart; a 'when' has none"
                raise refuse(self.document, (key,), f"'{key}' cannot stand here", f"It stands {where}.")
        return is_chart

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
        lines = [self._line(row, path) for path, row in places]
        for (path, _), line in zip(places, lines, strict=True):
            if not line.bounds:
                raise refuse(self.document, path, "this line has no limit, so no line below can be reached")
        last = self._line(tree["otherwise"], ("otherwise",))
        if last.bounds:
            raise refuse(self.document, ("otherwise",), "'otherwise' has no limits: it holds when no line fits")
        self._severity_rises([*lines, last], [*(path for path, _ in places), ("otherwise",)])
        return (*lines, last)

    def _line(self, row: object, path: Path) -> Line:
        if not isinstance(row, dict):
            raise refuse(self.document, path, "a line is a map of facts and what they mean")
        limits = {key: written for key, written in row.items() if key not in SAYING_KEYS}
        bounds = self.context.bounds(self.document, path, limits, keys=SAYING_KEYS)
        for bound in bounds:
            fact = self.context.vocabulary[bound.fact]
            if not is_on_good_side(fact, bound):
                want = "at least" if fact.worse is Worse.SMALLER else "up to"
                raise self._wrong_side(
                    fact, (*path, bound.fact), "a chart line may bound it on its good side only",
                    f"Write '{want} ...'.",
                )  # fmt: skip
        saying = read_saying(self.document, path, row, self.context)
        return Line(bounds, saying.outcome, saying.because, saying.sources, self.document.line(path))

    def _when(self, tree: Mapping[str, object]) -> Line:
        saying = read_saying(self.document, (), tree, self.context)
        bounds = self.context.bounds(self.document, ("when",), tree["when"])
        for bound in bounds:
            fact = self.context.vocabulary[bound.fact]
            window = fact.worse is Worse.NEITHER and saying.outcome.verdict is None
            if not is_on_bad_side(fact, bound) and not window:
                good, bad = {
                    Worse.SMALLER: ("at least", "below"), Worse.LATER: ("up to", "at least"),
                }.get(fact.worse, ("up to", "over"))  # fmt: skip
                raise self._wrong_side(
                    fact, ("when", bound.fact), "a 'when' may bound it on its bad side only",
                    f"Write '{bad} ...' (a limit read '{good} ...' belongs in a chart).",
                )  # fmt: skip
        return Line(bounds, saying.outcome, saying.because, saying.sources, self.document.line(()))

    def _wrong_side(self, fact: Fact, path: Path, why: str, instead: str) -> RulebookError:
        if fact.worse is Worse.NEITHER:
            why, instead = "only a 'when' without a verdict may bound it", "Use a fact that is worse in one direction."
        return refuse(self.document, path, f"'{fact.name}' is worse when {fact.worse}, so {why}", instead)

    def _severity_rises(self, lines: list[Line], paths: list[Path]) -> None:
        """Refuse a line that is milder than one above it; a line without a verdict is milder than any verdict."""
        scale = self.context.verdicts
        worst, at = "", 0
        for line, path in zip(lines, paths, strict=True):
            verdict = line.outcome.verdict
            if worst and (verdict is None or scale.index(verdict) < scale.index(worst)):
                said = "no verdict" if verdict is None else f"'{verdict}'"
                raise refuse(
                    self.document, path, f"{said} is milder than '{worst}' on line {at}",
                    "What is worse may never get a milder verdict. Move the milder line up.",
                )  # fmt: skip
            worst, at = verdict or "", line.at

    def _examples(self, entry: object) -> tuple[Example, ...]:
        if not isinstance(entry, list) or not entry:
            raise refuse(self.document, ("examples",), "a rule closes with worked examples, each with a dash")
        return tuple(self._example(row, ("examples", n)) for n, row in enumerate(entry))

    def _example(self, row: object, path: Path) -> Example:
        if not isinstance(row, dict):
            raise refuse(self.document, path, "an example is a map: {fact: value, verdict: ...}")
        facts: dict[str, Value] = {}
        for name, written in row.items():
            if name in EXAMPLE_KEYS:
                continue
            fact = self.context.fact(self.document, (*path, name), name, keys=EXAMPLE_KEYS)
            try:
                facts[name] = (known_value if fact.is_listed else read_number)(fact, str(written))
            except PhraseError as error:
                raise refuse(self.document, (*path, name), error.what, error.instead) from None
        verdict = read_verdict(self.document, path, row, self.context)
        says = str(row.get("says", "verdict" if verdict else NOTHING))
        if says not in (*OUTCOME_KEYS, NOTHING):
            raise refuse(
                self.document, (*path, "says"), f"'{says}' is nothing a rule says",
                f"Write one of: {', '.join(OUTCOME_KEYS)}, {NOTHING}.",
            )  # fmt: skip
        return Example(facts, verdict, says, str(row.get("asks", "")), self.document.line(path))
