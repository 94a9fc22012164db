"""Every line and every table of the rulebook is listed with what it rests on."""

import re

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.cite import cite, count_kinds
from mendbook.rulebook.source import KINDS


def test_every_line_and_every_table_is_listed_once(book: Rulebook) -> None:
    first = [one for one in cite(book) if one.is_first]
    assert len(first) == sum(len(rule.lines) for rule in book.rules) + len(book.tables)
    assert len({(one.place, one.line, one.limit) for one in first}) == len(first)


def test_the_kinds_add_up(book: Rulebook) -> None:
    cited = cite(book)
    counts = count_kinds(cited)
    assert tuple(counts) == KINDS
    assert sum(counts.values()) == sum(one.is_first for one in cited)
    assert counts["law"] > 0 < counts["house"]


def test_no_off_road_size_limit_is_carried_by_law(book: Rulebook) -> None:
    """No public text gives millimetres for off-road tyres (read: their absence, see the sources)."""
    of_size = re.compile("share of (length|width|area|cord) limit")
    sizes = [one for one in cite(book) if one.is_first and of_size.search(one.limit)]
    assert sizes
    assert {one.kind for one in sizes} <= {"house", "practice"}


def test_a_source_beside_another_is_listed_too(book: Rulebook) -> None:
    wire = [one for one in cite(book) if one.place == "bead/wire"]
    assert [one.is_first for one in wire] == [True, *[False] * (len(wire) - 1)]
    assert len(wire) > 1
