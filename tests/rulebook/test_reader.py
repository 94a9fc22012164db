"""Every way a rulebook can be written wrong is answered with file, line, what, and what to write instead."""

import json
from collections.abc import Iterator
from itertools import islice
from pathlib import Path
from typing import Any

import pytest

from mendbook.columns import Columns
from mendbook.inference.lower import lower
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.examples import check_examples
from mendbook.rulebook.tree import Op
from mendbook.terms.document import DocumentError, parse_document
from mendbook.terms.vocabulary import Subject
from tests.rulebook.ladders import CHART, FILES, WHEN, open_ladders, write_book
from tests.rulebook.slips import BETWEEN_LINES, CRACK, PAGE, SLIPS, first_difference


def refusal(folder: Path) -> str:
    """Return the one error of the book in `folder`, with places written from there."""
    with pytest.raises((RulebookError, DocumentError)) as caught:
        open_ladders(folder)
    return str(caught.value).replace(f"{folder}/", "")


def test_the_ladder_book_is_read_whole(tmp_path: Path) -> None:
    write_book(tmp_path)
    book = open_ladders(tmp_path)
    assert check_examples(book) == []
    assert [(rule.id, rule.stage, rule.subject) for rule in book.rules] == [
        ("mending/glue", "work", Subject.TYRE),
        ("rails/crack", "look", Subject.INJURY),
        ("rails/rot", "look", Subject.INJURY),
    ]
    assert book.rank("scrap") == 2
    assert book.tables_giving("reach") == book.tables
    crack = book.rules[1]
    assert [line.at for line in crack.lines] == [5, 10, 16]
    assert crack.lines[1].bounds[1].values == ("none", "light")
    assert crack.lines[1].bounds[1].others == ("deep", "through")
    assert [(c.source, c.place) for c in crack.lines[1].sources] == [
        ("house", "cracks"),
        ("ladder standard", "table 3"),
    ]
    glue = book.rules[0].lines[0]
    assert [(b.op, b.number) for b in glue.bounds] == [(Op.AT_LEAST, 40.0), (Op.UP_TO, 80.0)]
    assert glue.outcome.words() == ("rule out", "cap", "do", "caution")
    crack_length = book.vocabulary["crack length"]
    assert (crack_length.error, crack_length.error_if, crack_length.decimals) == (2.0, (("cleaned", "yes", 1.0),), 1)


def test_a_limit_table_gives_the_first_row_that_fits(tmp_path: Path) -> None:
    write_book(tmp_path)
    table = open_ladders(tmp_path).tables[0]
    assert table.facts() == ("cleaned", "crack length", "kind")
    facts = {"cleaned": "yes", "crack length": 20.0, "kind": "spruce"}
    assert table.look_up("load", facts) == 90.0
    assert table.look_up("reach", {**facts, "crack length": 20.1}) == 2.0
    assert table.look_up("load", {**facts, "kind": "metal"}) == 120.0
    assert table.look_up("load", {**facts, "cleaned": "no"}) is None


@pytest.mark.parametrize(("place", "right", "wrong", "what", "instead"), SLIPS, ids=[f"{m[0]}: {m[3]}" for m in SLIPS])
def test_a_fault_is_named_with_its_line_and_what_to_write(
    place: str, right: str, wrong: str, what: str, instead: str, tmp_path: Path
) -> None:
    before = FILES[place]
    assert right in before
    after = before.replace(right, wrong, 1)
    write_book(tmp_path, **{place: after})
    message = refusal(tmp_path)
    assert message.startswith(f"{place}:{first_difference(before, after)}: {what}")
    assert instead in message


@pytest.mark.parametrize(
    ("place", "right", "wrong", "line", "what", "instead"),
    BETWEEN_LINES,
    ids=[f"{m[0]}: {m[4]}" for m in BETWEEN_LINES],
)
def test_a_fault_that_lies_between_lines_is_named_where_it_is_mended(
    place: str, right: str, wrong: str, line: int, what: str, instead: str, tmp_path: Path
) -> None:
    before = FILES[place]
    assert right in before
    write_book(tmp_path, **{place: before.replace(right, wrong, 1)})
    message = refusal(tmp_path)
    assert message.startswith(f"{place}:{line}: {what}")
    assert instead in message


def test_a_fact_described_in_two_files_is_refused(tmp_path: Path) -> None:
    again = "facts:\n  rot: {means: r, about: injury, worse when: later, values: [a, b]}\n"
    write_book(tmp_path, **{"knowledge/vocabulary/more.yaml": again})
    assert refusal(tmp_path) == "knowledge/vocabulary/more.yaml:2: the fact 'rot' is described twice"


def test_a_folder_that_belongs_to_no_stage_is_refused(tmp_path: Path) -> None:
    write_book(tmp_path, **{"rules/rungs/rot.yaml": WHEN})
    message = refusal(tmp_path)
    assert message.startswith("rules/rungs/rot.yaml:1: the folder 'rungs' belongs to no stage")
    assert "Name it in rulebook.yaml under stages." in message


def test_a_rule_that_would_be_passed_over_for_its_ending_is_refused(tmp_path: Path) -> None:
    write_book(tmp_path, **{"rules/rails/deep.yml": WHEN})
    assert refusal(tmp_path).endswith("deep.yml: this file would not be read. Rename it to end in '.yaml'.")


@pytest.mark.parametrize("name", ["vocabulary", "sources"])
def test_a_missing_folder_is_named(name: str, tmp_path: Path) -> None:
    write_book(tmp_path, **{place: None for place in FILES if place.startswith(f"knowledge/{name}")})
    assert f"no folder '{name}' here." in refusal(tmp_path)


def test_a_missing_cover_page_is_named(tmp_path: Path) -> None:
    write_book(tmp_path, **{PAGE: None})
    assert "no rulebook.yaml here." in refusal(tmp_path)
    with pytest.raises(RulebookError, match=r"no rulebook\.yaml here"):
        open_book(tmp_path / "nowhere", tmp_path / "knowledge")


def test_a_listed_fact_may_stand_in_any_order_on_its_good_side(tmp_path: Path) -> None:
    write_book(tmp_path, **{CRACK: CHART.replace("rot: up to light", "rot: any of [light, none]")})
    crack = next(rule for rule in open_ladders(tmp_path).rules if rule.is_chart)
    assert set(crack.lines[1].bounds[1].values) == {"none", "light"}


STAND_INS: tuple[Any, ...] = ("", "x", "7", "nan", "1e9", [], ["x"], [["x"]], [{"a": "b"}], {}, {"a": "b"}, {"a": {}})


def broken(tree: Any, rebuild: Any) -> Iterator[Any]:
    """Yield the whole tree with each node in turn left out or replaced by something that does not belong there."""
    for stand_in in STAND_INS:
        yield rebuild(stand_in)
    if isinstance(tree, dict):
        for key, value in tree.items():
            yield rebuild({k: v for k, v in tree.items() if k != key})
            yield rebuild({**tree, f"{key}x": value})
            yield from broken(value, lambda new, key=key: rebuild({**tree, key: new}))
    elif isinstance(tree, list):
        for place, value in enumerate(tree):
            yield rebuild([*tree, value])
            yield from broken(value, lambda new, place=place: rebuild([*tree[:place], new, *tree[place + 1 :]]))


@pytest.mark.parametrize("every", [3, pytest.param(1, marks=pytest.mark.long)])
@pytest.mark.parametrize("place", [place for place in FILES if place != "knowledge/sources/house.yaml"])
def test_whatever_is_written_a_book_is_refused_in_words_or_can_be_judged_with(
    place: str, every: int, tmp_path: Path
) -> None:
    write_book(tmp_path)
    refusals: list[str] = []
    for tree in islice(broken(parse_document(FILES[place], place).tree, lambda new: new), 0, None, every):
        (tmp_path / place).write_text(json.dumps(tree), encoding="utf-8")
        try:
            book = open_ladders(tmp_path)
        except (RulebookError, DocumentError) as error:
            refusals.append(str(error))
        else:
            _can_judge(book)
    assert len(refusals) > 20 / every
    assert all(message.startswith(f"{tmp_path}/") for message in refusals)


def _can_judge(book: Rulebook) -> None:
    for rule in book.rules:
        assert all(line.sources for line in rule.lines)
        lower(rule)
    Columns(book.rules, book.verdicts)
    check_examples(book)
