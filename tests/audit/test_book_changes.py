"""What changed between two books, each kind of change on the small book of another trade."""

from pathlib import Path

import pytest

from mendbook.audit.book_changes import compare_books
from mendbook.audit.changes import Changed, Item, Way
from mendbook.card.compared import item_words
from mendbook.proof.region import Box, spell_box
from mendbook.rulebook.book import Rulebook
from tests.proof.sound_ladders import replaced
from tests.rulebook.ladders import CHART, COVER, FILES, TABLE, WHEN, open_ladders, write_book

CRACK, ROT, GLUE, LOAD = (
    "rules/rails/crack.yaml",
    "rules/rails/rot.yaml",
    "rules/mending/glue.yaml",
    "rules/limits/load.yaml",
)
STANDARD, PAGE, FACTS = "knowledge/sources/standard.yaml", "rules/rulebook.yaml", "knowledge/vocabulary/all.yaml"
DECLARED = replaced(TABLE, "unit: kg\n", "unit: kg\nstricter when: {load: smaller}\n")


def books(folder: Path, file: str, text: str | None, before: str | None = None) -> tuple[Rulebook, Rulebook]:
    write_book(folder / "old", **({file: before} if before else {}))
    write_book(folder / "new", **{file: text})
    return open_ladders(folder / "old"), open_ladders(folder / "new")


def changes(folder: Path, file: str, text: str | None, before: str | None = None) -> tuple[Changed, ...]:
    return compare_books(*books(folder, file, text, before))


@pytest.mark.parametrize(
    ("file", "before", "after", "said"),
    [
        (CRACK, "up to 60 mm", "up to 50 mm", "line 10: crack length up to 60 -> up to 50 mm, stricter"),
        (CRACK, "up to 60 mm", "up to 70 mm", "line 10: crack length up to 60 -> up to 70 mm, looser"),
        (CRACK, "    wood left: at least 10 mm\n", "", "line 5: wood left at least 10 mm -> nothing, looser"),
        (CRACK, "up to light", "up to deep", "line 10: rot [none, light] -> [none, light, deep], looser"),
        (CRACK, "[ash, spruce]}", "[ash]}", "applies to: kind [ash, spruce] -> ash, looser"),
        (CRACK, "verdict: mend\n", "verdict: scrap\n", "line 10: verdict mend -> scrap, stricter"),
        (CRACK, "more than a mend holds", "too long",
         "line 16: because <crack length> is more than a mend holds. -> <crack length> is too long. (reworded)"),
        (CRACK, "house, cracks\n    also", "house, rails\n    also",
         "line 10: source house, cracks; ladder standard, table 3 -> house, rails; ladder standard, table 3"),
        (ROT, "below 20 mm", "below 15 mm", "line 1: wood left below 20 -> below 15 mm, looser"),
        (ROT, "rotten rail", "rotten rails", "name rotten rail -> rotten rails"),
        (GLUE, "{load: half}", "{load: most}",
         "line 1: cap load half -> load most, stricter in one way, looser in another"),
        (GLUE, "[hot glue]", "[hot glue, cold glue]", "line 1: rule out hot glue -> hot glue; cold glue, stricter"),
        (GLUE, "caution: [gloves]\n", "", "line 1: caution gloves -> nothing, looser"),
        (GLUE, "warm the rail", "warm it", "line 1: do warm the rail -> warm it"),
        (LOAD, "90 x 3 kg", "80 x 3 kg",
         "yes, crack length up to 20 mm, ash or spruce: load 90 -> 80 kg, not known which way is stricter"),
        (LOAD, "source: house, loads", "source: house, load", "source house, loads -> house, load"),
        (LOAD, "unit: kg\n", "unit: kg\nstricter when: {load: smaller}\n", "stricter when nothing -> load smaller"),
        (PAGE, "edition: first", "edition: second", "edition first -> second"),
        (PAGE, "[hot glue, cold glue]", "[cold glue, hot glue]",
         "methods of glue hot glue, cold glue -> cold glue, hot glue"),
        (FACTS, "range: 0 to 900", "range: 0 to 800", "range 0 to 900 -> 0 to 800 mm"),
        (FACTS, "reading error: 2 mm", "reading error: 3 mm", "reading error 2 -> 3 mm"),
        (STANDARD, "kind: standard", "kind: law", "kind standard -> law"),
        (STANDARD, "table 3: cracks", "table 3: long cracks", "place table 3 cracks -> long cracks"),
    ],
)  # fmt: skip
def test_each_change_is_told_in_its_own_words(file: str, before: str, after: str, said: str, tmp_path: Path) -> None:
    [changed] = changes(tmp_path, file, replaced(FILES[file], before, after))
    assert said in [item_words(item) for item in changed.items]


@pytest.mark.parametrize(
    ("file", "text", "said"),
    [
        (ROT, None, "withdrawn, looser: Is the rail rotten?"),
        ("rules/rails/again.yaml", WHEN, "added, stricter: Is the rail rotten?"),
        (LOAD, None, "withdrawn: How much may it carry?"),
        (PAGE, f"{COVER}not covered: [{{kind: metal, refer to: the smith}}]\n", "added, stricter: Who decides?"),
    ],
)
def test_what_comes_and_goes_is_told(file: str, text: str | None, said: str, tmp_path: Path) -> None:
    [changed] = changes(tmp_path, file, text)
    assert item_words(changed.items[0]) == said


def test_books_that_differ_in_comments_alone_do_not_differ(tmp_path: Path) -> None:
    text = f"# Read again.\n{CHART}".replace("up to 25 mm", "up to  25 mm")
    assert changes(tmp_path, CRACK, text) == ()


def test_a_declared_number_says_its_way(tmp_path: Path) -> None:
    [changed] = changes(tmp_path, LOAD, replaced(DECLARED, "90 x 3 kg", "80 x 3 kg"), DECLARED)
    assert [item_words(item) for item in changed.items] == [
        "yes, crack length up to 20 mm, ash or spruce: load 90 -> 80 kg, stricter"
    ]


def test_a_line_that_comes_in_between_is_told_as_added(tmp_path: Path) -> None:
    line = "  - crack length: up to 40 mm\n    verdict: mend\n    because: Short.\n    source: house, cracks\n"
    [changed] = changes(
        tmp_path, CRACK, replaced(CHART, "  - crack length: up to 60 mm", f"{line}  - crack length: up to 60 mm")
    )
    assert changed.items == (Item("added", "", "mend where crack length: up to 40 mm", Way.LOOSER, "line 10"),)


def test_a_moved_limit_tells_the_region_and_asks_for_a_case_in_it(tmp_path: Path) -> None:
    old, new = books(tmp_path, CRACK, replaced(CHART, "up to 60 mm", "up to 50 mm"))
    asked: list[str] = []

    def find(place: str, box: Box) -> str | None:
        assert place
        asked.append(spell_box(box, new.vocabulary))
        return "case: found"

    [changed] = compare_books(old, new, find)
    assert [(region.way, region.says, region.case) for region in changed.regions] == [
        (Way.STRICTER, ("the verdict 'scrap' (it says 'mend')",), "case: found")
    ] * len(asked)
    assert [region.where for region in changed.regions] == asked
    assert all("crack length: over 50 mm and up to 60 mm" in where for where in asked)


def test_by_another_scale_nothing_is_stricter_or_looser(tmp_path: Path) -> None:
    write_book(tmp_path / "old")
    page = replaced(COVER, "[keep, mend, scrap]", "[keep, mend, watch, scrap]")
    write_book(tmp_path / "new", **{PAGE: page, CRACK: replaced(CHART, "60 mm", "50 mm")})
    cover, rule = compare_books(open_ladders(tmp_path / "old"), open_ladders(tmp_path / "new"))
    assert [item_words(item) for item in cover.items] == ["verdicts keep, mend, scrap -> keep, mend, watch, scrap"]
    assert [item.way for item in rule.items] == [Way.UNKNOWN]
    assert rule.regions == ()
