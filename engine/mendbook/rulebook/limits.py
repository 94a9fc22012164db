"""Limit tables: numbers by listed facts, each table with its basis."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from mendbook.rulebook.citations import read_citation
from mendbook.rulebook.context import Context, Path
from mendbook.rulebook.errors import refuse, refuse_unknown_keys
from mendbook.rulebook.tree import Bound, Citation, Op, is_possible, negate
from mendbook.terms.document import Document
from mendbook.terms.vocabulary import Fact

TABLE_NEEDED = ("table", "asks", "down", "gives", "source", "rows")
TABLE_KEYS = (*TABLE_NEEDED, "applies to", "across", "unit", "stricter when", "numbers turn")
ALL = "all"
SMALLER_OR_BIGGER = "'smaller' or 'bigger'; leave the name out where neither is true"
_FIGURE = re.compile(r"-?\d+(?:\.\d+)?")


class Direction(StrEnum):
    """In which direction a number of a table is stricter."""

    SMALLER = "smaller"
    BIGGER = "bigger"


@dataclass(frozen=True)
class LimitRow:
    """One cell of a table: where it applies and the numbers it gives, in the order of `gives`."""

    bounds: tuple[Bound, ...]
    numbers: tuple[float, ...]
    at: int = field(default=1, compare=False)


@dataclass(frozen=True)
class LimitTable:
    """A table of limits. For any facts at most one row applies.

    `stricter` says of the names it gives in which direction a number is stricter; a name that is not there is
    stricter in neither. `turns` says why its numbers rise and fall again along an ordered list, "" when they do not.
    """

    id: str
    name: str
    asks: str
    file: str
    applies: tuple[Bound, ...]
    gives: tuple[str, ...]
    unit: str
    source: Citation
    rows: tuple[LimitRow, ...]
    stricter: Mapping[str, Direction] = field(default_factory=dict)
    turns: str = ""

    def facts(self) -> tuple[str, ...]:
        """Return the names of the facts that choose a row."""
        bounds = (*self.applies, *(b for row in self.rows for b in row.bounds))
        return tuple(dict.fromkeys(b.fact for b in bounds))

    def look_up(self, gives: str, facts: Mapping[str, float | str]) -> float | None:
        """Return the number called `gives` for `facts`, None when no row applies."""
        if not all(b.holds(facts[b.fact]) for b in self.applies):
            return None
        place = self.gives.index(gives)
        for row in self.rows:
            if all(b.holds(facts[b.fact]) for b in row.bounds):
                return row.numbers[place]
        return None


def read_table(document: Document, table_id: str, context: Context) -> LimitTable:
    """Return the table written in `document`; `table_id` is its place in the rulebook.

    Raises RulebookError with file and line.
    """
    tree = document.tree
    refuse_unknown_keys(document, (), tree, TABLE_KEYS, "a table")
    for key in TABLE_NEEDED:
        if key not in tree:
            raise refuse(document, (), f"the table does not say '{key}'", f"Add the line '{key}: ...'.")
    gives = tuple(str(g) for g in tree["gives"]) if isinstance(tree["gives"], list) else (str(tree["gives"]),)
    unit = str(tree.get("unit", ""))
    return LimitTable(
        id=table_id,
        name=str(tree["table"]),
        asks=str(tree["asks"]),
        file=document.name,
        applies=context.bounds(document, ("applies to",), tree.get("applies to")),
        gives=gives,
        unit=unit,
        source=read_citation(document, ("source",), str(tree["source"]), context.sources),
        rows=_rows(document, tree, len(gives), unit, context),
        stricter=_directions(document, tree.get("stricter when"), gives),
        turns=str(tree.get("numbers turn", "")),
    )


def _directions(document: Document, entry: object, gives: tuple[str, ...]) -> dict[str, Direction]:
    """Return which way each number is stricter: one word for all names that the table gives, or a word for each."""
    if entry is None:
        return {}
    path: Path = ("stricter when",)
    words = entry if isinstance(entry, dict) else dict.fromkeys(gives, entry)
    for name, word in words.items():
        place = (*path, name) if words is entry else path
        if name not in gives:
            raise refuse(document, place, f"the table gives no '{name}'", f"Write some of: {', '.join(gives)}.")
        if word not in tuple(Direction):
            raise refuse(document, place, f"a number is not stricter when '{word}'", f"Write {SMALLER_OR_BIGGER}.")
    return {name: Direction(str(word)) for name, word in words.items()}


def _rows(
    document: Document, tree: Mapping[str, object], width: int, unit: str, context: Context
) -> tuple[LimitRow, ...]:
    down = context.fact(document, ("down",), str(tree["down"]))
    across = context.fact(document, ("across",), str(tree["across"])) if "across" in tree else None
    rows = tree["rows"]
    if not isinstance(rows, dict) or not rows:
        raise refuse(document, ("rows",), "rows is a map of row: numbers")
    out: list[LimitRow] = []
    below: tuple[Bound, ...] = ()
    for key, cells in rows.items():
        path: Path = ("rows", key)
        bounds = () if key == ALL else _head(document, path, down, key, context)
        first = (*below, *bounds)
        if not is_possible(first):
            raise refuse(document, path, f"the rows above leave nothing to '{key}'", "Let the numbers rise downward.")
        below = tuple(negate(b) for b in bounds if b.op is Op.UP_TO)
        if across is None:
            numbers = _numbers(document, path, str(cells), width, unit)
            out.append(LimitRow(first, numbers, document.line(path)))
            continue
        if not isinstance(cells, dict):
            raise refuse(document, path, f"this row needs one cell for each value of '{across.name}'")
        for head, cell in cells.items():
            place = _head(document, (*path, head), across, head, context)
            numbers = _numbers(document, (*path, head), str(cell), width, unit)
            out.append(LimitRow((*first, *place), numbers, document.line((*path, head))))
    return tuple(out)


def _head(document: Document, path: Path, fact: Fact, key: str, context: Context) -> tuple[Bound, ...]:
    """Return the bounds that the head of a row or column stands for: `up to 60 mm`, or `W1, W2`."""
    return context.bounds(document, path, {fact.name: key.split(", ") if fact.is_listed else key})


def _numbers(document: Document, path: Path, text: str, width: int, unit: str) -> tuple[float, ...]:
    figures = text.removesuffix(unit).strip() if unit else text.strip()
    parts = re.split(r"\s+x\s+", figures)
    if len(parts) != width or not all(map(_FIGURE.fullmatch, parts)):
        shape = f"{' x '.join(['60'] * width)} {unit}".strip()
        raise refuse(document, path, f"cannot read '{text}'", f"Write {width} number(s): '{shape}'.")
    return tuple(map(float, parts))
