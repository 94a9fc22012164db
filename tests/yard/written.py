"""Cases as a shop writes them, put into the columns of a yard: the other way round than `single.py`."""

from collections.abc import Sequence

import polars as pl
from hypothesis import strategies as st

from mendbook.triage import Shop
from tests.triage.cases import Tree
from tests.triage.drawing import cases
from tests.yard.single import SECTIONS

_NUMBERS = {"tyre": pl.Int32, "injury": pl.Int32, "row": pl.Int64}


def draw_trees(data: st.DataObject, shop: Shop, most: int = 4) -> list[Tree]:
    """Return drawn cases, none with earlier repairs on a map: those have no column."""
    drawn: list[Tree] = data.draw(st.lists(cases(shop.book.vocabulary), min_size=1, max_size=most))
    for tree in drawn:
        if isinstance(tree.get("earlier repairs"), list):
            tree["earlier repairs"] = "none"
    return drawn


def as_yard(trees: Sequence[Tree]) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Return the tyres and the injuries of cases whose earlier repairs are not mapped one by one."""
    tyres = [
        {
            "tyre": number,
            "tag": str(number),
            "row": 2 + number,
            "judged on": tree["judged on"],
            "earlier repairs": tree.get("earlier repairs"),
            **{
                f"{section}.{name}": _cell(cell) for section in SECTIONS for name, cell in tree.get(section, {}).items()
            },
        }
        for number, tree in enumerate(trees)
    ]
    injuries = [
        {"tyre": number, "injury": place, "row": 2 + number, **injury}
        for number, tree in enumerate(trees)
        for place, injury in enumerate(tree["injuries"])
    ]
    return _frame(tyres, ("tyre", "tag", "row")), _frame(injuries, ("tyre", "injury", "row", "name"))


def _cell(cell: str | list[str]) -> str:
    return "; ".join(cell) if isinstance(cell, list) else cell


def _frame(rows: Sequence[Tree], keys: Sequence[str]) -> pl.DataFrame:
    names = dict.fromkeys((*keys, *(name for row in rows for name in row)))
    schema = {name: _NUMBERS.get(name, pl.String) for name in names}
    return pl.DataFrame(list(rows), schema=schema)
