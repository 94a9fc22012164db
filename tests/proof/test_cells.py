from pathlib import Path

import pytest

from mendbook.proof.cells import is_ordered
from mendbook.terms.vocabulary import Fact, Subject, Worse
from tests.proof.sound_ladders import TABLE_FILE, VOCABULARY_FILE, faults, replaced
from tests.rulebook.ladders import TABLE, VOCABULARY

SIZES = f"""{VOCABULARY}\
  size class:
    means: how long the ladder is
    about: tyre
    worse when: neither
    values: [L1, L2, L3]
"""

BY_SIZE = """\
table: rungs
asks: How many rungs may crack?
down: size class
gives: [rungs, stiles]
source: house, rungs
rows:
  L1: 2 x 9
  L2: 3 x 8
  L3: 3 x 8
"""


def listed(*values: str, worse: Worse = Worse.NEITHER) -> Fact:
    return Fact("size", "size", Subject.TYRE, worse, values=values)


def test_a_value_without_a_cell_is_named(tmp_path: Path) -> None:
    text = replaced(TABLE, "{'ash, spruce': 60 x 2 kg, metal: 100 x 4 kg}", "{ash: 60 x 2 kg, metal: 100 x 4 kg}")
    [fault] = faults(tmp_path, {TABLE_FILE: text})
    assert fault.startswith(f"{TABLE_FILE}:11: there is no number for cleaned: yes, ")
    assert "kind: spruce" in fault
    assert fault.endswith("Add the cell, or narrow 'applies to'.")


def test_a_row_without_its_last_values_is_named(tmp_path: Path) -> None:
    text = replaced(BY_SIZE, "  L3: 3 x 8\n", "")
    [fault] = faults(tmp_path, {VOCABULARY_FILE: SIZES, "rules/limits/rungs.yaml": text})
    assert fault.startswith("rules/limits/rungs.yaml:7: there is no number for size class: L3. ")


def test_measures_downward_need_a_last_row(tmp_path: Path) -> None:
    text = "table: reach\nasks: How far?\ndown: crack length\ngives: stretch\nsource: house, reach\n"
    [fault] = faults(tmp_path, {"rules/limits/reach.yaml": f"{text}rows: {{up to 9 mm: 4}}\n"})
    assert fault.startswith("rules/limits/reach.yaml:6: there is no number for crack length: over 9 mm. ")


def test_two_tables_for_the_same_facts_are_named(tmp_path: Path) -> None:
    again = replaced(replaced(TABLE, "table: load by kind", "table: again"), "[load, reach]", "[load, most]")
    place = "rules/limits/more.yaml"
    [fault] = faults(tmp_path, {place: again})
    assert fault.startswith(f"{TABLE_FILE.replace('load', 'more')}:1: 'load' is given here and in ")
    assert "for cleaned: yes, crack length: up to 20 mm, kind: [ash, spruce]. Narrow 'applies to'" in fault
    assert faults(tmp_path, {place: replaced(again, "cleaned: 'yes'", "cleaned: 'no'")}) == []


def test_numbers_may_rise_or_fall_but_not_turn(tmp_path: Path) -> None:
    place = "rules/limits/rungs.yaml"
    assert faults(tmp_path, {VOCABULARY_FILE: SIZES, place: BY_SIZE}) == []
    turning = replaced(BY_SIZE, "L3: 3 x 8", "L3: 2 x 8")
    assert faults(tmp_path, {VOCABULARY_FILE: SIZES, place: turning}) == [
        f"{place}:9: rungs goes from 3 at L2 to 2 at L3, against the numbers before. "
        "Correct the number, or say why under 'numbers turn:'."
    ]
    said = replaced(turning, "rows:", "numbers turn: The longest ladder is of other wood.\nrows:")
    assert faults(tmp_path, {VOCABULARY_FILE: SIZES, place: said}) == []


def test_numbers_of_columns_are_followed_across(tmp_path: Path) -> None:
    text = BY_SIZE[: BY_SIZE.index("rows:")].replace("down: size class", "down: rot\nacross: size class")
    rows = "rows:\n" + "".join(
        f"  {rot}: {{L1: 1 x 1, L2: {middle} x 1, L3: 2 x 1}}\n"
        for rot, middle in (("none", 2), ("light", 3), ("deep", 2))
    )
    [fault] = faults(tmp_path, {VOCABULARY_FILE: SIZES, "rules/limits/rungs.yaml": text + rows})
    assert fault.startswith("rules/limits/rungs.yaml:9: rungs goes from 3 at L2 to 2 at L3")


@pytest.mark.parametrize(
    ("fact", "ordered"),
    [
        (listed("L1", "L2", "L10"), True),
        (listed("L1", "L3", "L2"), False),
        (listed("L1", "M2"), False),
        (listed("ash", "spruce"), False),
        (listed("none", "deep", worse=Worse.LATER), True),
        (listed("L1"), False),
    ],
)
def test_which_lists_run_in_an_order(fact: Fact, ordered: bool) -> None:
    assert is_ordered(fact) is ordered
