"""A session: one host for a set of rules, kept for any number of facts in a row."""

import threading
from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from importlib.util import find_spec
from typing import Any

from mendbook.inference.lower import MOST_MATCHES, ROW, Pattern, lower, plain, ruleset
from mendbook.rulebook.tree import Op, Rule, Value

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
        self._lock = threading.Lock()
        self._matched: list[Pattern] = []
        self._host = _quiet_host()
        self._sets: list[tuple[str, tuple[str, ...]]] = []
        chosen = tuple(rules)
        size = MOST_MATCHES - 4
        for number, first in enumerate(range(0, len(chosen), size)):
            part = chosen[first : first + size]
            name = f"set{number}"
            patterns = [pattern for rule in part for pattern in lower(rule)]
            self._host.set_rulesets({name: ruleset(patterns, self._collector)})
            self._sets.append((name, tuple(sorted({fact for rule in part for fact in rule.facts()}))))
        self._facts = tuple(sorted({fact for _, wanted in self._sets for fact in wanted}))
        bounds = [b for rule in chosen for b in (*rule.applies, *(b for line in rule.lines for b in line.bounds))]
        self._measures = frozenset(b.fact for b in bounds if b.op is not Op.IN)

    @property
    def facts(self) -> tuple[str, ...]:
        """The names of the facts that the rules look at."""
        return self._facts

    def infer(self, columns: Mapping[str, Sequence[Value]], height: int) -> list[Firing]:
        """Return every firing over `height` rows, given as one sequence for each of `facts`.

        Rows that look alike to the rules are asserted once.
        """
        with self._lock:
            firings: list[Firing] = []
            for name, wanted in self._sets:
                seen: dict[tuple[Value, ...], list[Pattern]] = {}
                looks = zip(*(columns[fact] for fact in wanted), strict=True) if wanted else [()] * height
                for row, look in enumerate(looks):
                    if look not in seen:
                        seen[look] = self._ask(name, dict(zip(wanted, look, strict=True)))
                    firings += [Firing(row, pattern.rule, pattern.line) for pattern in seen[look]]
            return firings

    def _ask(self, name: str, facts: dict[str, Value]) -> list[Pattern]:
        self._matched = []
        # Typed here: durable-rules compares text with numbers, and takes 'many' for more than any of them.
        fact: dict[str, Any] = {
            name: plain(float(value)) if name in self._measures else str(value) for name, value in facts.items()
        }
        fact |= {"id": "1", "sid": SESSION_ID, ROW: 0}
        self._host.assert_fact(name, fact)
        self._host.retract_fact(name, fact)
        return self._matched

    def _collector(self, pattern: Pattern) -> Callable[[Any], None]:
        # An action with a second parameter would be taken as asynchronous: the pattern comes by closure.
        def collect(_: Any) -> None:
            self._matched.append(pattern)

        return collect


def _quiet_host() -> Any:
    """Return a host that acts only when asked.

    The library's own host starts two threads that look for actions five times a second. One of them may take an
    action out of the middle of an assertion, and its firing is then lost to us: some answers in a million are wrong.
    """
    from durable import engine

    return type("QuietHost", (engine.Host,), {"_run": lambda _: None})()
