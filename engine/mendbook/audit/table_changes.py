"""What changed in the limit tables, cell by cell."""

from collections import defaultdict
from collections.abc import Iterator, Sequence

from mendbook.audit.changes import Changed, FindCase, Item, Region, Way
from mendbook.proof.cell_changes import CellChange, find_cell_changes
from mendbook.proof.region import Box, spell_box
from mendbook.rulebook.limits import LimitTable
from mendbook.rulebook.tree import Op
from mendbook.terms.vocabulary import Vocabulary

TABLE = "table"


def compare_tables(
    then: Sequence[LimitTable], now: Sequence[LimitTable], vocabulary: Vocabulary, find_case: FindCase | None = None
) -> Iterator[Changed]:
    """Yield what changed, in the order of the places of the tables.

    `find_case` finds a whole case for a cell; one cell may change several numbers, and is asked for once.
    """
    before, after = {table.id: table for table in then}, {table.id: table for table in now}
    cells: defaultdict[str, list[CellChange]] = defaultdict(list)
    for change in find_cell_changes(then, now, vocabulary):
        cells[change.table.id].append(change)
    for place in sorted(before.keys() | after.keys()):
        one, other = before.get(place), after.get(place)
        items = [_cell(change, vocabulary) for change in cells[place]]
        if one is None and other is not None:
            items = [Item("added", "", other.asks, Way.NEITHER), *items]
        elif one is not None and other is None:
            items = [Item("withdrawn", one.asks, "", Way.NEITHER), *items]
        elif one is not None and other is not None:
            items += _other_items(one, other)
        table = other or one
        if items and table is not None:
            yield Changed(
                TABLE, place, table.name, tuple(items), tuple(_regions(place, cells[place], vocabulary, find_case))
            )


def _regions(
    place: str, changes: Sequence[CellChange], vocabulary: Vocabulary, find_case: FindCase | None
) -> Iterator[Region]:
    for box in dict.fromkeys(change.box for change in changes) if find_case else ():
        if find_case and (case := find_case(place, box)):
            yield Region(Way.NEITHER, _spell_cell(box, vocabulary), (), case)


def _cell(change: CellChange, vocabulary: Vocabulary) -> Item:
    ways = {True: Way.STRICTER, False: Way.LOOSER, None: Way.UNKNOWN}
    then, now = (_spell_number(number, change.table.unit) for number in (change.then, change.now))
    return Item(change.name, then, now, ways[change.is_stricter], _spell_cell(change.box, vocabulary))


def _spell_number(number: float | None, unit: str) -> str:
    return "" if number is None else f"{number:g} {unit}".strip()


def _spell_cell(box: Box, vocabulary: Vocabulary) -> str:
    """Return a cell as people say it: `upper sidewall, W6`, with the name of the fact only where a measure needs it."""
    return ", ".join(
        " or ".join(bound.values) if bound.op is Op.IN else spell_box((bound,), vocabulary).replace(": ", " ")
        for bound in box
    )


def _other_items(then: LimitTable, now: LimitTable) -> Iterator[Item]:
    for what in ("name", "asks", "unit", "turns"):
        before, after = getattr(then, what), getattr(now, what)
        if before != after:
            yield Item("numbers turn" if what == "turns" else what, before, after)
    before, after = (f"{table.source.source}, {table.source.place}" for table in (then, now))
    if before != after:
        yield Item("source", before, after)
    before, after = (", ".join(f"{name} {way}" for name, way in table.stricter.items()) for table in (then, now))
    if before != after:
        yield Item("stricter when", before, after)
