"""The same rules in general-purpose rule engines, each lowered the way its language has it.

A peer is given flat rows on which every fact already stands, and answers what the fold of our columns answers: the rank
of the most severe verdict, and how many holds and stops were said. Rules and lines that say none of the three are left
out for all of them.
"""

from collections.abc import Iterable, Mapping, Sequence
from typing import Any, Protocol

from mendbook.columns.speak import SILENT
from mendbook.inference import Session
from mendbook.rulebook.tree import Bound, Line, Op, Rule, Value

Row = Mapping[str, Value]
Answer = tuple[int, int, int]  # severity, holds, stops
SILENCE: Answer = (SILENT, 0, 0)

_SIGNS = {Op.UP_TO: "<=", Op.BELOW: "<", Op.AT_LEAST: ">=", Op.OVER: ">"}


class Peer(Protocol):
    """An engine with the rules of one subject."""

    def fold(self, rows: Sequence[Row]) -> list[Answer]:
        """Return the answer for each row."""


class Lowered:
    """What every lowering needs: names without blanks, ranks, and which lines matter."""

    def __init__(self, rules: Iterable[Rule], verdicts: Sequence[str]) -> None:
        self.rules = [rule for rule in rules if any(map(matters, rule.lines))]
        self.facts = sorted({fact for rule in self.rules for fact in rule.facts()})
        self.name = {fact: f"f{number}" for number, fact in enumerate(self.facts)}
        self._rank = {verdict: place for place, verdict in enumerate(verdicts)}

    def answer(self, line: Line) -> Answer:
        """Return what one line says."""
        said = line.outcome
        return self._rank.get(said.verdict or "", SILENT), int(said.hold is not None), int(said.stop is not None)

    def ladder(self, rule: Rule, part: int, silent: int) -> str:
        """Return part of what `rule` says, as one expression of choices."""
        text = str(silent)
        for line in reversed(rule.lines):
            said = self.answer(line)[part]
            test = self.all(line.bounds)
            text = f"({test} ? {said} : {text})" if test else str(said)
        test = self.all(rule.applies)
        return f"({test} ? {text} : {silent})" if test else text

    def all(self, bounds: Iterable[Bound]) -> str:
        """Return a conjunction, "" of nothing."""
        return " and ".join(map(self.test, bounds))

    def test(self, bound: Bound) -> str:
        """Return one comparison."""
        name = self.name[bound.fact]
        if bound.op is not Op.IN:
            return f"{name} {_SIGNS[bound.op]} {bound.number!r}"
        if len(bound.values) == 1:
            return f'{name} == "{bound.values[0]}"'
        return f"{name} in [{', '.join(f'{value!r}' for value in bound.values)}]".replace("'", '"')


def matters(line: Line) -> bool:
    """Return whether a line says a verdict, a hold or a stop."""
    return bool(line.outcome.verdict or line.outcome.hold or line.outcome.stop)


class Clips:
    """clipspy: one CLIPS rule for each disjoint condition of a line, a fact for each row, answers in globals.

    A fact written out as text for CLIPS to parse takes some eight times as long.
    """

    def __init__(self, rules: Iterable[Rule], verdicts: Sequence[str]) -> None:
        import clips

        self._low = low = Lowered(rules, verdicts)
        self._env = env = clips.Environment()
        env.build(f"(deftemplate row {' '.join(f'(slot {low.name[fact]})' for fact in low.facts)})")
        env.build(f"(defglobal ?*severity* = {SILENT} ?*holds* = 0 ?*stops* = 0)")
        for rule in low.rules:
            for number, (line, bounds) in enumerate(rule.exclusive_conditions()):
                if matters(rule.lines[line]):
                    env.build(self._rule(f"{rule.id.replace('/', '-')}-{number}", bounds, low.answer(rule.lines[line])))
        self._template = env.find_template("row")
        self._globals = [env.find_global(name) for name in ("severity", "holds", "stops")]

    def _rule(self, name: str, bounds: Sequence[Bound], said: Answer) -> str:
        by_fact: dict[str, list[str]] = {}
        for bound in bounds:
            if bound.op is Op.IN:
                test = "|".join(f'"{value}"' for value in bound.values)
            else:
                slot = self._low.name[bound.fact]
                test = f"?{slot}&:({_SIGNS[bound.op]} ?{slot} {bound.number!r})"
            by_fact.setdefault(bound.fact, []).append(test)
        pattern = " ".join(f"({self._low.name[fact]} {'&'.join(tests)})" for fact, tests in by_fact.items())
        severity, holds, stops = said
        actions = [f"(bind ?*severity* (max ?*severity* {severity}))"] if severity != SILENT else []
        actions += ["(bind ?*holds* (+ ?*holds* 1))"] if holds else []
        actions += ["(bind ?*stops* (+ ?*stops* 1))"] if stops else []
        return f"(defrule {name} (row {pattern}) => {' '.join(actions)})"

    def fold(self, rows: Sequence[Row]) -> list[Answer]:
        """Return the answer for each row."""
        names = self._low.name
        answers: list[Answer] = []
        for row in rows:
            fact = self._template.assert_fact(**{name: row[fact] for fact, name in names.items()})
            answer = SILENCE
            if self._env.run():
                answer = tuple(one.value for one in self._globals)
                for one, silent in zip(self._globals, SILENCE, strict=True):
                    one.value = silent
            answers.append(answer)
            fact.retract()
        return answers


class Zen:
    """zen-engine: one compiled expression that folds all rules.

    A decision graph with a table for each rule takes some twenty times as long, many rows in one call a little longer.
    """

    def __init__(self, rules: Iterable[Rule], verdicts: Sequence[str]) -> None:
        import zen

        self._low = low = Lowered(rules, verdicts)
        parts = []
        for part, silent in enumerate(SILENCE):
            said = [rule for rule in low.rules if any(low.answer(line)[part] != silent for line in rule.lines)]
            ladders = [str(silent), *(low.ladder(rule, part, silent) for rule in said)]
            parts.append(f"{'max' if part == 0 else 'sum'}([{', '.join(ladders)}])")
        self._expression = zen.compile_expression(f"[{', '.join(parts)}]")

    def fold(self, rows: Sequence[Row]) -> list[Answer]:
        """Return the answer for each row."""
        names = self._low.name
        answers = (self._expression.evaluate({name: row[fact] for fact, name in names.items()}) for row in rows)
        return [tuple(int(number) for number in answer) for answer in answers]


class RuleEngine:
    """rule-engine: one expression for each rule and each thing it may say."""

    def __init__(self, rules: Iterable[Rule], verdicts: Sequence[str]) -> None:
        import rule_engine

        self._low = low = Lowered(rules, verdicts)
        self._parts = [
            [
                rule_engine.Rule(low.ladder(rule, part, silent))
                for rule in low.rules
                if any(low.answer(line)[part] != silent for line in rule.lines)
            ]
            for part, silent in enumerate(SILENCE)
        ]

    def fold(self, rows: Sequence[Row]) -> list[Answer]:
        """Return the answer for each row."""
        severity, holds, stops = self._parts
        answers: list[Answer] = []
        for row in rows:
            facts = {name: row[fact] for fact, name in self._low.name.items()}
            answers.append(
                (
                    max((int(rule.evaluate(facts)) for rule in severity), default=SILENT),
                    sum(int(rule.evaluate(facts)) for rule in holds),
                    sum(int(rule.evaluate(facts)) for rule in stops),
                )
            )
        return answers


class Durable:
    """durable-rules, through our own lowering and session."""

    def __init__(self, rules: Iterable[Rule], verdicts: Sequence[str]) -> None:
        self._low = Lowered(rules, verdicts)
        self._said = {
            (rule.id, number): self._low.answer(line)
            for rule in self._low.rules
            for number, line in enumerate(rule.lines)
        }
        self._session = Session(self._low.rules)

    def fold(self, rows: Sequence[Row]) -> list[Answer]:
        """Return the answer for each row."""
        columns = {fact: [row[fact] for row in rows] for fact in self._session.facts}
        answers: list[Answer] = [SILENCE] * len(rows)
        for firing in self._session.infer(columns, len(rows)):
            severity, holds, stops = answers[firing.row]
            more = self._said[firing.rule, firing.line]
            answers[firing.row] = (max(severity, more[0]), holds + more[1], stops + more[2])
        return answers


PEERS: dict[str, Any] = {"clipspy": Clips, "zen-engine": Zen, "rule-engine": RuleEngine, "durable-rules": Durable}
