"""Lower rules to durable-rules definitions: conjunctions of comparisons with constants, nothing else."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from math import copysign
from typing import Any

from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.tree import Bound, Op, Rule

MOST_COMPARISONS = 32  # of one pattern, that with ROW among them; durable-rules reads past its buffer beyond
MOST_MATCHES = 64  # rules that may match one fact; error 303 beyond
LEAST, MOST = 0.0001, 1e15  # Python writes numbers nearer to nothing, or larger, with an exponent
ROW = "row"

_COMPARE = {Op.UP_TO: "$lte", Op.BELOW: "$lt", Op.AT_LEAST: "$gte", Op.OVER: "$gt"}


@dataclass(frozen=True)
class Pattern:
    """One durable rule: when all of `conditions` hold for a fact, line `line` of rule `rule` has spoken."""

    rule: str
    line: int
    conditions: tuple[dict[str, Any], ...]


def lower(rule: Rule) -> tuple[Pattern, ...]:
    """Return the patterns of `rule`. At most one of them matches any fact.

    Raises RulebookError when a pattern would need more comparisons than durable-rules can hold.
    """
    patterns: list[Pattern] = []
    for line, bounds in rule.exclusive_conditions():
        for conditions in _conjunctions(bounds):
            if len(conditions) >= MOST_COMPARISONS:
                raise RulebookError(
                    f"{rule.file}:{rule.lines[line].at}: this line and those above it compare {len(conditions)} facts; "
                    f"{MOST_COMPARISONS - 1} is the most\n  Split the chart by a listed fact under 'applies to'."
                )
            patterns.append(Pattern(rule.id, line, conditions))
    return tuple(patterns)


def _conjunctions(bounds: Iterable[Bound]) -> Iterable[tuple[dict[str, Any], ...]]:
    """Yield disjoint conjunctions: a list of values becomes one conjunction for each value."""
    done: list[tuple[dict[str, Any], ...]] = [()]
    for bound in bounds:
        if bound.op is Op.IN:
            done = [(*so_far, {bound.fact: value}) for so_far in done for value in bound.values]
        else:
            done = [(*so_far, {_COMPARE[bound.op]: {bound.fact: plain(bound.number)}}) for so_far in done]
    return done


def plain(number: float) -> float:
    """Return `number` so that its JSON has no exponent, which durable-rules refuses.

    What lies between 0 and LEAST becomes LEAST, what lies beyond MOST becomes MOST. Nothing else is rounded:
    both evaluators must compare the same number. Raises ValueError for one that is not a number.
    """
    if number != number:
        raise ValueError("a fact is not a number (NaN); every evaluator would take it for something else")
    size = min(max(abs(float(number)), LEAST), MOST)
    return copysign(size, number) if number else 0.0


def ruleset(patterns: Iterable[Pattern], on_match: Callable[[Pattern], Callable[[Any], None]]) -> dict[str, Any]:
    """Return the durable-rules definition of `patterns`, with a rule that catches every fact."""
    definition: dict[str, Any] = {
        f"p{number}": {
            "all": [{"m": {"$and": [{"$gte": {ROW: 0}}, *pattern.conditions]}}],
            "run": on_match(pattern),
        }
        for number, pattern in enumerate(patterns)
    }
    definition["seen"] = {"all": [{"m": {"$gte": {ROW: 0}}}], "run": _nothing}
    return definition


def _nothing(_: Any) -> None:
    """Catch a fact that no rule matches; durable-rules raises otherwise."""
