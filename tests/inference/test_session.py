"""A session keeps inside the walls of durable-rules, and the walls are where we think they are."""

import math
from collections.abc import Sequence
from concurrent.futures import ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from mendbook.inference import Firing, Session, is_available
from mendbook.rulebook.tree import Bound, Line, Op, Outcome, Rule
from mendbook.terms.vocabulary import Subject

if not is_available():  # every test here asks a session of durable-rules
    pytest.skip("durable-rules cannot be imported here (Python 3.13 and later)", allow_module_level=True)

STATM = Path("/proc/self/statm")
MIB = 2**20


def rule(name: str, *rows: tuple[Bound, ...], applies: tuple[Bound, ...] = ()) -> Rule:
    lines = tuple(Line(row, Outcome(verdict="mend"), "so", (), 1) for row in rows)
    return Rule(name, name, "", f"{name}.yaml", "look", Subject.TYRE, applies, lines, is_chart=len(rows) > 1)


ASH = Bound("kind", Op.IN, values=("ash",), others=("metal",))
CHART = rule("chart", (Bound("length", Op.UP_TO, 25.0),), (Bound("length", Op.UP_TO, 60.0),), (), applies=(ASH,))
LONG = rule("long", (Bound("length", Op.OVER, 90.0),))


def said(length: float) -> list[tuple[str, int]]:
    return [("chart", 0 if length <= 25 else 1 if length <= 60 else 2), *([("long", 0)] if length > 90 else [])]


def ask(session: Session, lengths: Sequence[float], kind: str = "ash") -> list[list[tuple[str, int]]]:
    firings = session.infer({"length": lengths, "kind": [kind] * len(lengths)}, len(lengths))
    return [sorted((f.rule, f.line) for f in firings if f.row == row) for row in range(len(lengths))]


def test_a_session_says_for_each_row_which_line_of_which_rule_spoke() -> None:
    session = Session((CHART, LONG))
    assert session.facts == ("kind", "length")
    firings = session.infer({"length": [25.0, 91.0, 91.0], "kind": ["ash", "ash", "metal"]}, 3)
    assert sorted(firings, key=lambda f: (f.row, f.rule)) == [
        Firing(0, "chart", 0),
        Firing(1, "chart", 2),
        Firing(1, "long", 0),
        Firing(2, "long", 0),
    ]


def test_a_fact_that_no_rule_matches_is_silence() -> None:
    # durable-rules raises MessageNotHandledException; a rule that catches every fact stands beside ours.
    assert ask(Session((CHART,)), [10.0], kind="metal") == [[]]


def test_no_rules_and_no_rows_say_nothing() -> None:
    assert Session(()).infer({}, 3) == []
    assert ask(Session((CHART,)), []) == []


def test_rules_that_look_at_no_fact_speak_about_every_row() -> None:
    assert Session((rule("always", ()),)).infer({}, 3) == [Firing(row, "always", 0) for row in range(3)]


def test_more_rules_than_one_fact_may_match_all_speak() -> None:
    # Error 303 beyond 64: a session splits its rules over rulesets.
    rules = [rule(f"r{n}", (Bound("length", Op.AT_LEAST, 0.0),)) for n in range(200)]
    firings = Session(rules).infer({"length": [1.0, 2.0]}, 2)
    assert sorted((f.row, f.rule) for f in firings) == sorted((row, r.id) for row in (0, 1) for r in rules)


def test_rows_that_look_alike_are_asserted_once_and_answered_each(monkeypatch: pytest.MonkeyPatch) -> None:
    # The same fact twice raises MessageObservedException, and time is saved.
    session, asked = Session((CHART, LONG)), []
    host = session._host
    assert_fact = host.assert_fact

    def counted(name: str, fact: dict[str, Any]) -> Any:
        asked.append(fact["length"])
        return assert_fact(name, fact)

    monkeypatch.setattr(host, "assert_fact", counted)
    assert ask(session, [10.0, 95.0, 10.0, 10.0]) == [said(10.0), said(95.0), said(10.0), said(10.0)]
    assert asked == [10.0, 95.0]


def test_the_same_fact_may_be_asked_again_and_again() -> None:
    # Each fact is retracted after its answer, so it is never met twice.
    session = Session((CHART, LONG))
    assert [ask(session, [95.0]) for _ in range(50)] == [[said(95.0)]] * 50


def test_facts_are_typed_before_they_are_asserted() -> None:
    # durable-rules compares text with numbers: 'many' would be over 90, and over anything else.
    session = Session((LONG, CHART))
    wrong: Any = ["10", "95"]
    word: Any = "many"
    assert session.infer({"length": wrong, "kind": ["metal", "metal"]}, 2) == [Firing(1, "long", 0)]
    with pytest.raises(ValueError, match="many"):
        ask(session, [word])
    assert ask(session, [95.0]) == [said(95.0)]


BESIDE_25 = (math.nextafter(25, 0), 25, math.nextafter(25, 99))


@pytest.mark.parametrize("length", [1e-7, 5e-5, 1e16, 1e300, math.inf, 0, -0.0, *BESIDE_25])
def test_any_number_may_be_a_fact(length: float) -> None:
    # A number with an exponent is refused by durable-rules (error 204), so is an infinite one (error 202).
    assert ask(Session((CHART, LONG)), [length]) == [said(length)]


def test_what_is_no_number_is_refused_and_the_session_goes_on() -> None:
    session = Session((CHART, LONG))
    with pytest.raises(ValueError, match="not a number"):
        ask(session, [math.nan])
    assert ask(session, [95.0]) == [said(95.0)]


def test_many_facts_in_one_session_keep_firing_right() -> None:
    # A new session id for each fact runs out of memory at the 1,025th; one id, each fact retracted, does not.
    session = Session((CHART, LONG))
    lengths = [float((n * 37) % 120) + n / 10_000 for n in range(5_000)]
    assert [ask(session, [length])[0] for length in lengths] == [said(length) for length in lengths]


def test_facts_leave_no_memory_behind() -> None:
    if not STATM.exists():  # only Linux tells how much a process holds right now
        pytest.skip("the memory of this process is read from /proc/self/statm")
    session = Session((CHART, LONG))

    def run(first: int, number: int) -> int:
        session.infer({"length": [first + n / 1_000 for n in range(number)], "kind": ["ash"] * number}, number)
        return int(STATM.read_text().split()[1]) * 4096

    settled = run(0, 4_000)
    for first in range(1, 6):
        grown = run(first * 100, 4_000) - settled
    assert grown < 4 * MIB


def test_a_session_may_be_shared_between_threads() -> None:
    # A host is not safe between threads: one lock guards it.
    session = Session((CHART, LONG))
    lengths = [[float((n * 31 + start) % 120) for n in range(400)] for start in range(4)]
    with ThreadPoolExecutor(2) as threads:
        answers = list(threads.map(lambda some: ask(session, some), lengths * 3))
    assert answers == [[said(length) for length in some] for some in lengths] * 3


def test_two_sessions_do_not_hear_each_other() -> None:
    # Each has a host of its own, never the one of the module.
    one, other = Session((LONG,)), Session((CHART,))
    assert [f.rule for f in one.infer({"length": [95.0]}, 1)] == ["long"]
    assert [f.rule for f in other.infer({"length": [95.0], "kind": ["ash"]}, 1)] == ["chart"]


# The walls themselves, as far as they can be met without bringing the process down (durable-rules 2.0.28).


def fires(condition: dict[str, Any], fact: dict[str, Any], *, catch: bool = True) -> int:
    from durable import engine

    heard: list[int] = []

    def hear(_: Any) -> None:
        heard.append(1)

    def pass_over(_: Any) -> None: ...

    definition: dict[str, Any] = {"one": {"all": [{"m": condition}], "run": hear}}
    if catch:
        definition["seen"] = {"all": [{"m": {"$gte": {"row": 0}}}], "run": pass_over}
    host = engine.Host()
    host.set_rulesets({"walls": definition})
    host.assert_fact("walls", {"id": "1", "sid": "1", "row": 0, **fact})
    return len(heard)


def test_wall_text_is_compared_with_numbers() -> None:
    assert fires({"$gt": {"length": 90}}, {"length": "95"}) == 1
    assert fires({"$gt": {"length": 90}}, {"length": "many"}) == 1


def test_wall_an_or_fires_once_for_each_branch() -> None:
    either = {"$or": [{"$gt": {"length": 10}}, {"$gt": {"length": 20}}]}
    assert fires(either, {"length": 30}) == 2


def test_wall_a_number_with_an_exponent_is_refused() -> None:
    with pytest.raises(Exception, match="error code: 204"):
        fires({"$gt": {"length": 90}}, {"length": 1e-7})


def test_wall_a_fact_that_nothing_matches_raises() -> None:
    from durable import engine

    with pytest.raises(engine.MessageNotHandledException):
        fires({"$gt": {"length": 90}}, {"length": 10}, catch=False)
