from pathlib import Path

import pytest

from mendbook.proof.edges import just_past
from mendbook.rulebook.tree import Bound, Op
from mendbook.terms.vocabulary import Fact, Subject, Worse
from tests.proof.sound_ladders import CHART_FILE, SOUND_CHART, SOUND_WHEN, SOUND_WINDOW, WHEN_FILE, WINDOW_FILE, faults


def without(text: str, start: str) -> str:
    """Return the rule without the one example that begins so."""
    lines = text.splitlines(keepends=True)
    left = [line for line in lines if not line.startswith(f"  - {{{start}")]
    assert len(left) == len(lines) - 1
    return "".join(left)


@pytest.mark.parametrize(
    ("file", "text", "example", "line", "limit", "where"),
    [
        (CHART_FILE, SOUND_CHART, "kind: ash, crack length: 26 mm", 5, "crack length: up to 25 mm", "just past it, "),
        (CHART_FILE, SOUND_CHART, "kind: ash, crack length: 61 mm", 10, "crack length: up to 60 mm", "just past it, "),
        (CHART_FILE, SOUND_CHART, "asks: on the line", 10, "crack length: up to 60 mm", "on the line, at 60 mm"),
        (CHART_FILE, SOUND_CHART, "asks: too little wood", 5, "wood left: at least 10 mm", "just past it, "),
        (CHART_FILE, SOUND_CHART, "asks: rotten", 10, "rot: up to light", "outside the list"),
        (WHEN_FILE, SOUND_WHEN, "asks: just under", 1, "wood left: below 20 mm", "between 19 and 20 mm"),
        (WHEN_FILE, SOUND_WHEN, "asks: on the line", 1, "wood left: below 20 mm", "on the line, at 20 mm"),
        (WHEN_FILE, SOUND_WHEN, "asks: little rot", 1, "rot: at least deep", "outside the list"),
        (WINDOW_FILE, SOUND_WINDOW, "asks: just under", 1, "damp: at least 40 %", "between 38 and 40 %"),
        (WINDOW_FILE, SOUND_WINDOW, "asks: just over", 1, "damp: up to 80 %", "between 80 and 84 %"),
    ],
)
def test_a_limit_that_no_example_tries_is_named(
    tmp_path: Path, file: str, text: str, example: str, line: int, limit: str, where: str
) -> None:
    [fault] = faults(tmp_path, {file: without(text, example)})
    assert fault.startswith(f"{file}:{line}: no example tries '{limit}' ")
    assert where in fault
    assert fault.endswith("Add one that meets the other limits of the line and fits no line above.")


def test_an_example_that_another_limit_decides_tries_nothing(tmp_path: Path) -> None:
    text = SOUND_CHART.replace("crack length: 26 mm, wood left: 10 mm", "crack length: 26 mm, wood left: 9 mm")
    [fault] = faults(tmp_path, {CHART_FILE: text})
    assert fault.startswith(f"{CHART_FILE}:5: no example tries 'crack length: up to 25 mm' just past it")


def test_an_example_far_from_the_limit_tries_nothing(tmp_path: Path) -> None:
    text = SOUND_CHART.replace("crack length: 61 mm", "crack length: 90 mm")
    [fault] = faults(tmp_path, {CHART_FILE: text})
    assert fault.startswith(f"{CHART_FILE}:10: no example tries 'crack length: up to 60 mm' just past it")


def test_an_example_outside_the_rule_tries_nothing(tmp_path: Path) -> None:
    text = SOUND_WHEN.replace("kind: ash, rot: deep, wood left: 20 mm", "kind: metal, rot: deep, wood left: 20 mm")
    [fault] = faults(tmp_path, {WHEN_FILE: text})
    assert fault.startswith(f"{WHEN_FILE}:1: no example tries 'wood left: below 20 mm' on the line")


@pytest.mark.parametrize(
    ("op", "number", "decimals", "high", "ends"),
    [
        (Op.UP_TO, 100.0, 0, 500.0, (100.0, 105.0)),  # a hundredth of the range, which is 5 % of the limit too
        (Op.OVER, 6.0, 0, 5000.0, (6.0, 12.0)),  # a hundredth of the range, but no more than twice the limit
        (Op.UP_TO, 0.0, 0, 300.0, (0.0, 3.0)),  # nothing to take 5 % of
        (Op.UP_TO, 2.0, 0, 20.0, (2.0, 3.0)),  # things that are counted: one more
        (Op.BELOW, 2.0, 1, 4.0, (1.9, 2.0)),
        (Op.AT_LEAST, 100.0, 0, 100.0, (95.0, 100.0)),
        (Op.UP_TO, 99.0, 0, 100.0, (99.0, 100.0)),  # the range ends
    ],
)
def test_what_is_just_past(op: Op, number: float, decimals: int, high: float, ends: tuple[float, float]) -> None:
    fact = Fact("size", "size", Subject.INJURY, Worse.BIGGER, unit="mm", high=high, decimals=decimals)
    assert just_past(fact, Bound("size", op, number)) == pytest.approx(ends)
