"""Which numbers feed which facts, and which way a number is stricter: tried number by number on invented cases."""

from collections.abc import Iterator
from dataclasses import replace
from functools import cache

import polars as pl
import pytest

from mendbook.facts.case_reading import read_readings
from mendbook.facts.derive import Derivation
from mendbook.facts.feeding import FED_BY
from mendbook.facts.scenarios import THREE_READINGS, Frames, lay_out
from mendbook.facts.spacing import CLASS, TYRE_CLASS
from mendbook.folders import folder
from mendbook.proof.loosenings import scale_of
from mendbook.proof.looser import LAW
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.limits import Direction, LimitTable
from mendbook.terms.case import Repair
from mendbook.terms.vocabulary import Worse
from tests.facts.derived import JUDGED
from tests.triage.cases import CUT, LOADER, Tree, but, read

BOOK = open_book(folder("rules"), folder("knowledge"))
NUMBERS = tuple(dict.fromkeys(name for table in BOOK.tables for name in table.gives))
DECLARED = sorted({(name, way) for table in BOOK.tables for name, way in table.stricter.items()})


def pair(tyre: Tree, **both: object) -> Tree:
    injuries = [but(CUT, name=name, clock=f"{at} deg", **both) for name, at in (("A", 10), ("B", 35))]
    return but(LOADER, tyre=tyre, injuries=injuries)


def crown(*from_centreline: str) -> Tree:
    cut = but(CUT, side="crown", distance_from_bead=None, reaches="plies", belts_damaged="0",
              belt_edge_distance="30 mm", depth=None)  # fmt: skip
    injuries = [but(cut, name=place, clock="10 deg", distance_from_centreline=place) for place in from_centreline]
    return but(LOADER, tyre={"designation": "17.5R25", "belts": "4"}, injuries=injuries)


CASES = (
    pair({}, length="40 mm", width="70 mm", cords_cut="unknown", distance_from_bead="200 mm", depth=None),
    pair({"designation": "14.00-24", "casing": "nylon", "plies": "4", "date code": "2010"}, distance_from_bead="80 mm"),
    {**crown("100 mm", "150 mm"), "service": {**LOADER["service"], "fitment": "dual", "dual difference": "8 mm"}},
    {**pair({"casing": "nylon", "designation": "12.00R20", "date code": "2010"}, reaches="rubber"),
     "service": {**LOADER["service"], "duty": "mobile crane", "ambient": "45 °C", "tkph use": "95 %"}},
)  # fmt: skip


def test_every_number_in_the_tables_feeds_a_fact() -> None:
    assert set(NUMBERS) == {number for numbers in FED_BY.values() for number in numbers}


def test_facts_that_are_fed_are_in_the_vocabulary() -> None:
    assert [fact for fact in FED_BY if fact not in BOOK.vocabulary] == []


def test_no_stop_and_no_law_hangs_on_a_number_that_a_shop_may_change() -> None:
    scale = scale_of(BOOK)
    for rule in BOOK.rules:
        if rule.id.startswith(f"{LAW}/") or any(line.outcome.stop or scale.rests_on_law(line) for line in rule.lines):
            assert not rule.facts() & set(FED_BY), rule.id


def scaled(book: Rulebook, name: str, factor: float) -> Rulebook:
    """Return `book` with every number called `name` multiplied."""

    def change(table: LimitTable) -> LimitTable:
        if name not in table.gives:
            return table
        place = table.gives.index(name)
        rows = tuple(
            replace(row, numbers=tuple(n * factor if i == place else n for i, n in enumerate(row.numbers)))
            for row in table.rows
        )
        return replace(table, rows=rows)

    return replace(book, tables=tuple(map(change, book.tables)))


@cache
def frames() -> tuple[tuple[Frames, tuple[Repair, ...]], ...]:
    """Return the rows of every case at its three readings, off the road."""
    cases = [read(case, BOOK.vocabulary) for case in CASES]
    readings = [read_readings(case, BOOK.vocabulary, JUDGED, "none") for case in cases]
    laid = [lay_out(reading, THREE_READINGS, BOOK.vocabulary, ("off-road",)) for reading in readings]
    return tuple((frame, tuple(case.mapped_repairs)) for frame, case in zip(laid, cases, strict=True))


@cache
def facts(name: str = "", factor: float = 1.0) -> tuple[pl.DataFrame, ...]:
    """Return the rows of every case, all facts derived, when the numbers called `name` are multiplied."""
    derivation = Derivation(scaled(BOOK, name, factor))
    found = []
    for laid, repairs in frames():
        tyres = derivation.tyres(laid.tyres)
        rows = derivation.injuries(laid.injuries, tyres)
        as_section = [pl.lit("section").alias(one) for one in (CLASS, TYRE_CLASS)]
        paired = derivation.pairs(Frames(tyres.with_columns(as_section), rows.with_columns(as_section)), repairs)
        keys = ("variant", "choice", "use")
        numbers = paired.tyres.select(*keys, pl.col("^share of (section|sidewall|all) repairs$"))
        found.append(derivation.method(paired.injuries).join(numbers, on=list(keys), how="left", maintain_order="left"))
    return tuple(found)


def differing(name: str, factor: float) -> Iterator[tuple[str, pl.Series, pl.Series]]:
    """Yield the facts that come out otherwise when a number is multiplied, as they were and as they are."""
    for before, after in zip(facts(), facts(name, factor), strict=True):
        if not before["zone"].equals(after["zone"]):
            yield "zone", before["zone"], after["zone"]
            continue
        for fact in BOOK.vocabulary:
            if fact.name in before.columns and not before[fact.name].equals(after[fact.name]):
                yield fact.name, before[fact.name], after[fact.name]


SOME = NUMBERS[::4]  # in the default run; the long one tries them all


@pytest.mark.parametrize("name", [*SOME, *(pytest.param(n, marks=pytest.mark.long) for n in NUMBERS if n not in SOME)])
def test_a_number_feeds_the_facts_that_say_so_and_no_other(name: str) -> None:
    found = {fact for factor in (0.8, 1.25) for fact, _, _ in differing(name, factor)}
    assert found <= {fact for fact, numbers in FED_BY.items() if name in numbers}


@pytest.mark.parametrize("names", [SOME, pytest.param(NUMBERS, marks=pytest.mark.long)], ids=["some", "all"])
def test_the_cases_reach_most_of_the_numbers(names: tuple[str, ...]) -> None:
    """Else the test above could not fail. No tyre this large has so low a flange that its least height counts."""
    silent = [name for name in names if not any(True for factor in (0.8, 1.25) for _ in differing(name, factor))]
    assert silent == [name for name in names if name == "flange least"]


@pytest.mark.parametrize(("name", "way"), DECLARED)
def test_a_number_is_stricter_in_the_direction_that_its_table_declares(name: str, way: Direction) -> None:
    for told, before, after in differing(name, 0.8 if way is Direction.SMALLER else 1.25):
        fact = BOOK.vocabulary[told]
        if told == "class edge":
            assert (before.eq("near") <= after.eq("near")).all()
        elif fact.is_listed:
            assert fact.worse is Worse.LATER, told
            ranks = [[fact.rank(value) for value in column] for column in (before, after)]
            assert all(worse >= good for good, worse in zip(*ranks, strict=True)), told
        else:
            bigger = (after >= before).all() if fact.worse is Worse.BIGGER else (after <= before).all()
            assert fact.worse is not Worse.NEITHER, told
            assert bigger, told
