"""How much room a line left: every bound of every line of the shipped book, against plain arithmetic row by row."""

from itertools import pairwise
from random import Random

import polars as pl
import pytest

from mendbook.rulebook.tree import Bound, Op
from mendbook.terms.vocabulary import Worse
from mendbook.triage import Shop
from mendbook.yard.deciders import Deciders
from mendbook.yard.deciding import UP_TO_VERDICT
from mendbook.yard.rooms import MARGIN, MARGIN_OF, Rooms


def least_room(bounds: list[Bound], row: dict[str, float | None], shop: Shop) -> tuple[float | None, str | None]:
    rooms = []
    for bound in bounds:
        value = row[bound.fact]
        assert value is not None
        is_floor = shop.book.vocabulary[bound.fact].worse is Worse.SMALLER
        room = value - bound.number if is_floor else bound.number - value
        rooms.append((room / max(abs(bound.number), 1e-9), room, bound.fact))
    if not rooms:
        return None, None
    share = min(share for share, _, _ in rooms)
    return next((room, fact) for own, room, fact in rooms if own == share)


def test_each_line_against_arithmetic(shop: Shop) -> None:
    lines = [[b for b in one.bounds if b.op is not Op.IN] for one in Deciders(shop.book, UP_TO_VERDICT).speakers]
    rooms, pick = Rooms(lines, shop.book.vocabulary), Random(20261126)
    assert max(map(len, lines)) > 1
    rows, said = [], []
    for number, line in enumerate(lines):
        for _ in range(3):
            near = {bound.fact: bound.number + pick.uniform(-30.0, 30.0) for bound in line}
            rows.append({fact: near.get(fact, pick.uniform(0.0, 100.0)) for fact in rooms.facts})
            said.append(number)
    told = rooms.tell(pl.DataFrame(rows), pl.Series(said, dtype=pl.UInt32))
    for row, number, (margin, of) in zip(rows, said, told.select(MARGIN, MARGIN_OF).iter_rows(), strict=True):
        wanted, fact = least_room(lines[number], dict(row), shop)
        assert margin == (None if wanted is None else pytest.approx(wanted, abs=6e-4))
        assert of == fact


def test_nobody_spoke_or_nothing_is_known(shop: Shop) -> None:
    speakers = Deciders(shop.book, UP_TO_VERDICT).speakers
    rooms = Rooms([one.bounds for one in speakers], shop.book.vocabulary)
    silent = rooms.tell(pl.DataFrame({"depth": [1.0, 2.0]}), pl.Series([None, None], dtype=pl.UInt32))
    assert silent.rows() == [(None, None)] * 2
    place = next(n for n, one in enumerate(speakers) if any(b.op is not Op.IN for b in one.bounds))
    unknown = rooms.tell(pl.DataFrame({"no fact": [0]}), pl.Series([place], dtype=pl.UInt32))
    assert unknown.item(0, MARGIN) is None


def test_two_bounds_that_leave_as_much_tell_the_first(shop: Shop) -> None:
    speakers = Deciders(shop.book, UP_TO_VERDICT).speakers
    line = next(bounds for one in speakers if len(bounds := [b for b in one.bounds if b.op is not Op.IN]) > 1)
    rooms = Rooms([line], shop.book.vocabulary)
    on_the_limits = pl.DataFrame({fact: [next(b.number for b in line if b.fact == fact)] for fact in rooms.facts})
    assert all(first.fact != second.fact for first, second in pairwise(line))
    assert rooms.tell(on_the_limits, pl.Series([0], dtype=pl.UInt32)).row(0) == (0.0, line[0].fact)
