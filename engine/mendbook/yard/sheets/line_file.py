"""JSON lines: one injury a line, or one whole case a line as in a case file."""

import json
from collections.abc import Iterator, Mapping
from pathlib import Path

import polars as pl

from mendbook.yard.overrules import OVERRULE, OVERRULES
from mendbook.yard.sheets.encoding import as_utf8
from mendbook.yard.sheets.fault import ROW, SheetError
from mendbook.yard.sheets.source import Source
from mendbook.yard.sheets.table import BROKEN, WHOLE_ROW, Table, cell_name

LINES_A_PART = 50_000
KEPT = 300  # characters of a line that cannot be read
MOST_BROKEN = 0.5  # share of lines; with more, the fault is in the file
SECTIONS = ("tyre", "found", "service", "workshop", "money")
INJURIES, REPAIRS, JUDGED_ON = "injuries", "earlier repairs", "judged on"
UNREAD = ("case", "note")
TAG = "tag"

Row = dict[str, str | None]


class _Unfit(ValueError):
    """A line that is no injury and no case; the message says why."""


def read_lines(source: Source, scratch: Path) -> Table:
    """Return the table in the JSON lines of `source`. Raises SheetError when most lines cannot be read."""
    parts: list[pl.LazyFrame] = []
    names: dict[str, None] = {}
    broken: list[tuple[int, int, str, str]] = []
    count, as_cases = 0, None
    pending: list[Row] = []
    numbers: list[int] = []

    def write() -> None:
        for row in pending:
            names.update(dict.fromkeys(row))
        schema = {ROW: pl.Int64, **dict.fromkeys(names, pl.String)}
        frame = pl.DataFrame([{ROW: n, **row} for n, row in zip(numbers, pending, strict=True)], schema)
        path = scratch / f"{source.path.name}.{len(parts)}.lines"
        frame.write_ipc(path)
        parts.append(pl.scan_ipc(path))
        pending.clear()
        numbers.clear()

    with as_utf8(source, scratch).open(encoding="utf-8") as file:
        for number, line in enumerate(file, 1):
            if not line.strip():
                continue
            try:
                tree = _tree(line)
                if as_cases is None:
                    as_cases = _is_case(tree)
                found = _case_rows(tree, number) if as_cases else [_row(tree)]
            except _Unfit as problem:
                found = [{}]
                broken.append((number, WHOLE_ROW, str(problem), line[:KEPT]))
            count += len(found)
            pending += found
            numbers += [number] * len(found)
            if len(pending) >= LINES_A_PART:
                write()
    write()
    if broken and len(broken) > MOST_BROKEN * count:
        raise SheetError(source.name, f"most lines cannot be read, line {broken[0][0]} first: {broken[0][2]}")
    renamed = {name: cell_name(place) for place, name in enumerate(names)}
    whole = pl.concat(parts, how="diagonal").select(ROW, *(pl.col(old).alias(new) for old, new in renamed.items()))
    return Table(
        source, tuple(names), whole, count, pl.DataFrame(broken, BROKEN, orient="row"),
        is_as_cases=bool(as_cases), has_commas=True,
    )  # fmt: skip


def _tree(line: str) -> Mapping[str, object]:
    try:
        tree = json.loads(line, object_pairs_hook=_map, parse_float=str, parse_int=str, parse_constant=str)
    except RecursionError:
        raise _Unfit("brackets stand too deep inside each other. Write it flatter.") from None
    except json.JSONDecodeError as problem:
        raise _Unfit(
            f"this is not JSON: {problem.msg} at character {problem.colno}. Write one object on the line."
        ) from None
    if not isinstance(tree, dict):
        raise _Unfit("this is no object. Write one object on the line, from '{' to '}'.")
    return tree


def _map(pairs: list[tuple[str, object]]) -> dict[str, object]:
    found = dict(pairs)
    if len(found) < len(pairs):
        twice = next(key for place, (key, _) in enumerate(pairs) if key in [k for k, _ in pairs[:place]])
        raise _Unfit(f"'{twice}' stands twice on this line. Keep one of the two.")
    return found


def _is_case(tree: Mapping[str, object]) -> bool:
    return any(isinstance(value, dict) for value in tree.values()) or isinstance(tree.get(INJURIES), list)


def _row(tree: Mapping[str, object]) -> Row:
    return {name: _text(name, value) for name, value in tree.items() if name != ROW}


def _text(name: str, value: object) -> str | None:
    if value is None or isinstance(value, str):
        return value
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list) and all(isinstance(one, str) for one in value):
        return "; ".join(value)
    raise _Unfit(f"'{name}' holds more than one value. Write one text or number, and one injury on each line.")


def _case_rows(tree: Mapping[str, object], number: int) -> list[Row]:
    """Return the rows of a case: one for each injury, or one alone, with the columns of the tyre repeated."""
    row: Row = {}
    for name, value in tree.items():
        if name in SECTIONS and isinstance(value, dict):
            row |= {f"{name}.{field}": _text(f"{name}.{field}", one) for field, one in value.items()}
        elif name == REPAIRS and isinstance(value, list):
            row[name] = json.dumps(value, ensure_ascii=False) if value else "none"
        elif name == OVERRULE and isinstance(value, list):
            row[OVERRULES] = json.dumps(value, ensure_ascii=False) if value else None
        elif name not in (INJURIES, *UNREAD):
            row[name] = _text(name, value)
    row[TAG] = row.pop("tyre.tag", None) or f"line {number}"
    injuries = tree.get(INJURIES) or []
    if not isinstance(injuries, list) or not all(isinstance(one, dict) for one in injuries):
        raise _Unfit("'injuries' is no list of injuries. Write it as in a case file.")
    return [row | injury for injury in _injuries(injuries)] or [row]


def _injuries(injuries: list[dict[str, object]]) -> Iterator[Row]:
    for injury in injuries:
        yield {f"{INJURIES}.{name}": _text(name, value) for name, value in injury.items()}
