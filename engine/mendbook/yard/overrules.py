"""What a sheet overrules: the cells of its rows as the entries of a case, each with the row in which it stands."""

import json
from collections.abc import Mapping, Sequence
from typing import Any

import polars as pl

from mendbook.rulebook.book import Rulebook
from mendbook.terms.docket import Docket
from mendbook.terms.vocabulary import Subject

OVERRULE = "overrule"  # in a case
OVERRULES = "overrules of the case"  # of a tyre in a yard: the same, as JSON
RULE, BY, ON, WHY = "overrule rule", "overruled by", "overruled on", "overrule reason"
CELLS = {"rule": RULE, "by": BY, "on": ON, "why": WHY}
FROM = "overruled from"
OVERRULED = {FROM: pl.String, **dict.fromkeys(CELLS.values(), pl.String)}
SEPARATOR = "; "
_ROW, _AT = "of row", "at"  # in an entry of a sheet: the injury of its row, and the number of the row


def gather(rows: pl.DataFrame, names: pl.DataFrame, tyre: str, row: str, name: str) -> pl.DataFrame:
    """Return for each tyre that overrules something its entries as JSON, in the column OVERRULES.

    rows : `tyre`, `row`, and the columns of CELLS
    names : `row` and the `name` of the injury in it
    """
    cells = [column for column in CELLS.values() if column in rows.columns]
    if not cells:
        return pl.DataFrame(schema={tyre: rows.schema[tyre], OVERRULES: pl.String})
    said = rows.filter(pl.any_horizontal(pl.col(cells).is_not_null())).select(tyre, row, *cells)
    told = said.join(names.select(row, name), on=row, how="left", maintain_order="left")
    found: dict[int, list[dict[str, Any]]] = {}
    for one in told.iter_rows(named=True):
        entry = {key: one[column] for key, column in CELLS.items() if one.get(column) is not None}
        found.setdefault(one[tyre], []).append({**entry, _ROW: one[name], _AT: one[row]})
    texts = [(number, json.dumps(entries, ensure_ascii=False)) for number, entries in found.items()]
    return pl.DataFrame(texts, schema={tyre: rows.schema[tyre], OVERRULES: pl.String}, orient="row")


def entries_of(cell: str, book: Rulebook) -> list[tuple[Any, int | None]]:
    """Return the entries in the text of a tyre, as a case has them, each with its row where it has one of its own.

    An entry of a row is about the injury in it, unless its rule is about the tyre; the same in several rows is one.
    """
    rules = book.by_id()
    found: dict[str, tuple[Any, int | None]] = {}
    for entry in _entries(cell):
        if not isinstance(entry, dict):  # the reader of cases says what is wrong with it
            return [(entry, None)]
        name, at = entry.pop(_ROW, None), entry.pop(_AT, None)
        rule = rules.get(str(entry.get("rule")))
        if name is not None and (rule is None or rule.subject is Subject.INJURY):
            entry["injury"] = name
        found.setdefault(json.dumps(entry), (entry, at))
    return list(found.values())


def _entries(cell: str) -> list[Any]:
    try:
        found = json.loads(cell)
    except (ValueError, RecursionError):
        return [cell]
    return found if isinstance(found, list) else [found]


def place_of(path: Sequence[str | int], cell: str | None, book: Rulebook) -> tuple[int | None, str]:
    """Return the row and the column of a fault at `path` of a case, (None, '') where it is none of an overrule."""
    if cell is None or len(path) < 2 or path[0] != OVERRULE or not isinstance(path[1], int):
        return None, ""
    at = entries_of(cell, book)[path[1]][1]
    return at, CELLS.get(str(path[-1]), "")


def told_of(docket: Docket, injury: str | None) -> Mapping[str, str]:
    """Return the columns OVERRULED for the row of one injury, or of a tyre that has none."""
    found = [one for one in docket.overruled if one.about in ("tyre", injury)]
    if not found:
        return {}
    told = {column: [getattr(one, key) for one in found] for key, column in CELLS.items()}
    return {FROM: docket.overruled_from, **{column: SEPARATOR.join(texts) for column, texts in told.items()}}
