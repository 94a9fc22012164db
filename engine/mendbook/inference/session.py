"""A session: one host for a set of rules, kept for any number of facts in a row."""

import threading
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Any

from mendbook.inference.lower import MOST_MATCHES, ROW, Pattern, lower, plain, ruleset
from mendbook.rulebook.tree import Rule, Value

# A new session id for every fact runs durable-rules out of memory at the 1,025th; one id, facts retracted, does not.
SESSION_ID = "bench"


def is_available() -> bool:
    """Return whether durable-rules can be imported here (it cannot on Python 3.13 and later)."""
    return find_spec("durable") is not None


@dataclass(frozen=True)
class Firing:
    """Line `line` of rule `rule` spoke about row `row`."""

    row: int
    rule: str
    line: int


class Session:
    """Judges rows of facts against the rules of one stage.

    The rules are split over rulesets of at most 60 rules, since no more than 64 may match one fact.
    One lock guards the host; a session may be shared between threads.
    """

    def __init__(self, rules: Iterable[Rule]) -> None:
        from durable import engine

        self._lock = threading.Lock()
        self._firings: list[Firing] = []
        self._host = engine.Host()
        self._sets: list[tuple[str, frozenset[str]]] = []
        chosen = tuple(rules)
        size = MOST_MATCHES - 4
        for number, first in enumerate(range(0, len(chosen), size)):
            part = chosen[first : first + size]
            name = f"set{number}"
            patterns = [pattern for rule in part for pattern in lower(rule)]
            self._host.set_rulesets({name: ruleset(patterns, self._collector)})
            self._sets.append((name, frozenset(fact for rule in part for fact in rule.facts())))

    def infer(self, rows: Iterable[Mapping[str, Value]]) -> list[Firing]:
        """Return every firing over `rows`; a row's number is its place. Every fact the rules name must be there."""
        with self._lock:
            self._firings = []
            for number, row in enumerate(rows):
                for name, wanted in self._sets:
                    self._ask(name, number, {fact: row[fact] for fact in wanted})
            return self._firings

    def _ask(self, name: str, number: int, facts: dict[str, Value]) -> None:
        fact: dict[str, Any] = {
            key: plain(value) if isinstance(value, (int, float)) else value for key, value in facts.items()
        }
        fact |= {"id": "1", "sid": SESSION_ID, ROW: number}
        self._host.assert_fact(name, fact)
        self._host.retract_fact(name, fact)

    def _collector(self, pattern: Pattern) -> Callable[[Any], None]:
        # An action with a second parameter would be taken as asynchronous: the pattern comes by closure.
        def collect(context: Any) -> None:
            self._firings.append(Firing(int(context.m[ROW]), pattern.rule, pattern.line))

        return collect
