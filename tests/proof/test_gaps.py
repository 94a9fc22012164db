from dataclasses import replace
from pathlib import Path

import pytest

from mendbook.folders import folder
from mendbook.proof.gaps import find_gaps
from mendbook.rulebook.book import open_book
from mendbook.rulebook.errors import RulebookError
from tests.proof.sound_ladders import (
    CHART_FILE,
    COVER_FILE,
    SOUND_CHART,
    SOUND_COVER,
    SOUND_WHEN,
    WHEN_FILE,
    faults,
    replaced,
)
from tests.rulebook.ladders import COVER, open_ladders, write_book

HINT = "Write a rule for it, or name it under 'not covered' with the person to refer to."


def test_a_combination_without_a_verdict_is_a_gap(tmp_path: Path) -> None:
    assert faults(tmp_path, {COVER_FILE: COVER}) == [
        f"rules/rulebook.yaml:1: no rule is sure of a verdict for kind: metal. {HINT}"
    ]


def test_a_chart_line_without_a_verdict_leaves_a_gap(tmp_path: Path) -> None:
    said = "    verdict: keep\n    because: <crack length>"
    text = replaced(SOUND_CHART, said, "    caution: [Look again.]\n    because: <crack length>")
    text = text.replace("rot: none, verdict: keep", "rot: none, says: caution")
    assert faults(tmp_path, {CHART_FILE: text}) == [
        f"rules/rulebook.yaml:10: no rule is sure of a verdict for kind: [ash, spruce]. {HINT}"
    ]


def test_a_book_that_is_sure_of_nothing_is_one_gap(tmp_path: Path) -> None:
    told = faults(tmp_path, {COVER_FILE: COVER, CHART_FILE: None})
    assert told == [f"rules/rulebook.yaml:1: no rule is sure of a verdict for anything. {HINT}"]


def test_a_when_on_listed_facts_closes_its_part(tmp_path: Path) -> None:
    when = replaced(SOUND_WHEN, "applies to: {kind: ash}", "applies to: {kind: metal}")
    when = replaced(when, "  wood left: below 20 mm\n", "").replace("kind: ash", "kind: metal")
    when = "".join(line for line in when.splitlines(keepends=True) if "nothing" not in line or "light" in line)
    assert faults(tmp_path, {COVER_FILE: COVER, WHEN_FILE: when}) == [
        f"rules/rulebook.yaml:1: no rule is sure of a verdict for kind: metal, rot: [none, light]. {HINT}"
    ]


def test_a_when_on_a_measure_closes_nothing(tmp_path: Path) -> None:
    when = replaced(SOUND_WHEN, "applies to: {kind: ash}", "applies to: {kind: metal}").replace(
        "kind: ash", "kind: metal"
    )
    [fault] = faults(tmp_path, {COVER_FILE: COVER, WHEN_FILE: when})
    assert fault.startswith("rules/rulebook.yaml:1: no rule is sure of a verdict for kind: metal. ")


def test_the_shipped_book_needs_each_of_its_charts_for_the_bead() -> None:
    book = open_book(folder("rules"), folder("knowledge"))
    left = tuple(rule for rule in book.rules if rule.id != "rubber/rubber_only_at_bead_truck")
    assert len(left) == len(book.rules) - 1
    gaps = list(find_gaps(replace(book, rules=left)))
    assert gaps
    for gap in gaps:
        assert "reaches: rubber" in gap
        assert "zone: bead" in gap
        assert "duty: [truck, trailer, bus]" in gap


@pytest.mark.parametrize(
    ("entry", "said"),
    [
        ("  metal: the smith\n", "not covered is a list of combinations"),
        ("  - {kind: metal}\n", "this does not say which facts, and to whom the fitter turns"),
        ("  - {refer to: the smith}\n", "this does not say which facts, and to whom the fitter turns"),
        ("  - {kind: metall, refer to: the smith}\n", "Did you mean 'metal'?"),
        ("  - {damp: over 40 %, refer to: the smith}\n", "'not covered' takes listed facts only"),
        ("  - {rot: up to light, refer to: the smith}\n", "nobody covers where it is worse: write 'at least none'"),
    ],
)
def test_what_is_not_covered_names_facts_and_a_person(tmp_path: Path, entry: str, said: str) -> None:
    cover = replaced(SOUND_COVER, "  - {kind: metal, refer to: the smith}\n", entry)
    write_book(tmp_path, **{COVER_FILE: cover})
    with pytest.raises(RulebookError, match=r"rulebook\.yaml:\d+: ") as refused:
        open_ladders(tmp_path)
    assert said in str(refused.value)


def test_what_is_not_covered_is_a_hold_that_names_the_person(tmp_path: Path) -> None:
    write_book(tmp_path, **{COVER_FILE: SOUND_COVER})
    [rule] = open_ladders(tmp_path).not_covered
    assert rule.lines[0].outcome.hold == "Refer it to the smith: this rulebook does not cover kind metal."
    assert (rule.speaks({"kind": "metal"}), rule.speaks({"kind": "ash"})) == (0, None)
    assert (rule.id, rule.lines[0].at, rule.stage) == ("rulebook/not covered 1", 11, "work")
    assert rule in open_ladders(tmp_path).rules_of("work")
