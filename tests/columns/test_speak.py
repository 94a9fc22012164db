"""The columns say what the tree says, row by row, and fold it: most severe, all holds, all stops."""

from random import Random

import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.columns import Columns
from mendbook.columns.speak import HOLDS, SEVERITY, SILENT, STOPS
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound, Line, Op, Outcome, Rule, Value
from mendbook.terms.vocabulary import Subject
from tests.columns.rows import Row, aimed, as_frame, choices, groups, referee

SCALE = ("keep", "mend", "scrap")


def rule(name: str, bounds: tuple[Bound, ...], *outcomes: Outcome, applies: tuple[Bound, ...] = ()) -> Rule:
    said = [Line(bounds if place == 0 else (), outcome, "so", (), 1) for place, outcome in enumerate(outcomes)]
    return Rule(name, name, "", f"{name}.yaml", "look", Subject.TYRE, applies, tuple(said), is_chart=len(said) > 1)


SMALL = Bound("length", Op.UP_TO, 60.0)
ASH = Bound("kind", Op.IN, values=("ash",), others=("metal",))
CHART = rule("chart", (SMALL,), Outcome(verdict="keep"), Outcome(verdict="mend"), applies=(ASH,))
WHEN = rule("when", (Bound("length", Op.OVER, 90.0),), Outcome(verdict="scrap", hold="look inside"))
HOLD = rule("hold", (), Outcome(hold="look outside"))
STOP = rule("stop", (ASH,), Outcome(stop="people first", caution=("mind it",)))
FRAME = pl.DataFrame({"length": [60.0, 60.1, 91.0, 91.0], "kind": ["ash", "ash", "ash", "metal"]})


def test_each_rule_has_a_column_with_the_line_that_spoke() -> None:
    spoken = Columns((CHART, WHEN, HOLD, STOP), SCALE).speak(FRAME)
    assert spoken.to_dict(as_series=False) == {
        "chart": [0, 1, 1, SILENT],
        "when": [SILENT, SILENT, 0, 0],
        "hold": [0, 0, 0, 0],
        "stop": [0, 0, 0, SILENT],
    }


def test_the_fold_takes_the_most_severe_verdict_and_counts_holds_and_stops() -> None:
    fold = Columns((CHART, WHEN, HOLD, STOP), SCALE).fold(FRAME)
    assert fold.to_dict(as_series=False) == {SEVERITY: [0, 1, 2, 2], HOLDS: [1, 1, 2, 2], STOPS: [1, 1, 1, 0]}


@pytest.mark.parametrize("rules", [(), (HOLD,), (STOP,), (CHART,)], ids=["none", "hold", "stop", "chart"])
def test_a_fold_has_its_three_columns_whatever_the_rules_say(rules: tuple[Rule, ...]) -> None:
    fold = Columns(rules, SCALE).fold(FRAME)
    assert fold.shape == (4, 3)
    assert set(fold.dtypes) == {pl.Int16}
    if not any(r is CHART for r in rules):
        assert fold.get_column(SEVERITY).to_list() == [SILENT] * 4


def test_an_empty_frame_folds_to_an_empty_one() -> None:
    assert Columns((CHART, HOLD), SCALE).fold(FRAME.clear()).shape == (0, 3)


def test_a_rule_that_asks_for_what_cannot_be_is_left_out_and_no_answer_changes() -> None:
    columns = Columns((CHART, WHEN, HOLD, STOP), SCALE)
    metal = FRAME.filter(pl.col("kind") == "metal")
    assert columns.fold(metal, {"kind": ("metal",)}).equals(columns.fold(metal))


@pytest.fixture(scope="module")
def rows(book: Rulebook) -> list[Row]:
    """One row aimed at each line of each shipped rule, from a fixed draw."""
    tried, pick = choices(book.rules, book.vocabulary), Random(20261125)
    found: list[Row] = []
    for one in book.rules:
        for line in range(len(one.lines)):
            row: Row = {name: pick.choice(values) for name, values in tried.items()}
            found.append(aimed(one, line, row, pick))
    return found


def test_every_shipped_rule_speaks_as_the_tree_reads(book: Rulebook, rows: list[Row]) -> None:
    frame = as_frame(rows, book.vocabulary)
    columns = Columns(book.rules, book.verdicts)
    said = {
        (place, one.id, line)
        for place, spoken in enumerate(columns.speak(frame).rows())
        for one, line in zip(book.rules, spoken, strict=True)
        if line != SILENT
    }
    assert said == referee(book.rules, rows)
    assert {one.id for one in book.rules} == {name for _, name, _ in said}


def test_the_fold_of_every_shipped_stage_is_that_of_its_rules(book: Rulebook, rows: list[Row]) -> None:
    frame = as_frame(rows, book.vocabulary)
    for _, rules in groups(book):
        outcomes: list[list[Outcome]] = [[] for _ in rows]
        for one in rules:
            for place, row in enumerate(rows):
                if (line := one.speaks(row)) is not None:
                    outcomes[place].append(one.lines[line].outcome)
        want = {
            SEVERITY: [max((book.rank(o.verdict) for o in said if o.verdict), default=SILENT) for said in outcomes],
            HOLDS: [sum(o.hold is not None for o in said) for said in outcomes],
            STOPS: [sum(o.stop is not None for o in said) for said in outcomes],
        }
        assert Columns(rules, book.verdicts).fold(frame).to_dict(as_series=False) == want


@given(st.data())
def test_what_is_possible_changes_no_answer(book: Rulebook, rows: list[Row], data: st.DataObject) -> None:
    _, rules = data.draw(st.sampled_from(groups(book)))
    some = data.draw(st.lists(st.sampled_from(rows), min_size=1, max_size=3))
    frame = as_frame(some, book.vocabulary)
    listed = sorted(name for name in some[0] if book.vocabulary[name].is_listed)
    told = data.draw(st.sets(st.sampled_from(listed)))
    taken: dict[str, set[Value]] = {name: {row[name] for row in some} for name in told}
    possible = {name: {str(value) for value in values} for name, values in taken.items()}
    columns = Columns(rules, book.verdicts)
    assert columns.fold(frame, possible).equals(columns.fold(frame))
