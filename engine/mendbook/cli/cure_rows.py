"""Many cures at once: one row an order, as CSV or JSON lines."""

import csv
import io
import json
import sys
from collections.abc import Iterable, Iterator, Sequence
from itertools import islice
from typing import Any

from mendbook.cli.order_lists import Written, read_orders
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import write
from mendbook.cure.bulk import CureTable, compute_many
from mendbook.terms.document import DocumentError

BLOCK = 1024  # orders read, worked out and written together
FIGURES = (
    "minutes_from_switch_on", "timer_starts_at_min", "minutes_from_timer", "minutes_to_release", "safe_minutes",
)  # fmt: skip
POINT = ("slowest_depth_mm", "slowest_temperature_C", "slowest_peak_C")
COLUMNS = (
    "line", "case", "schedule", *FIGURES, "slowest_layer", *POINT, "outside", "outside_ok", "inside", "inside_ok",
    "layers", "clamp_needed_bar", "clamp_ok", "fault",
)  # fmt: skip
REMINDER = (
    "caution: Rows hold figures alone. 'mendbook cure ORDER' prints what one order runs into and what goes with every "
    "cure. Only trained, authorised persons cure a tyre; local codes, site rules and makers' instructions win.\n"
)

Row = dict[str, Any]


def print_rows(given: str, *, as_json: bool) -> None:
    """Print a row for each order in the file `given`, in its order.

    Raises RefusalError when the file cannot be read, and at the end when any order has no cure time.
    """
    total = lost = 0
    with refusing(DocumentError):
        orders = read_orders(given)
        while block := list(islice(orders, BLOCK)):
            rows = list(_rows(block))
            write(_as_lines(rows) if as_json else _as_csv(rows, has_head=total == 0))
            total += len(rows)
            lost += sum(bool(row["fault"]) for row in rows)
    sys.stderr.write(REMINDER)
    if lost:
        raise RefusalError(f"{lost} of {total} orders have no cure time. Their rows say why, under 'fault'.")


def _rows(block: Sequence[Written]) -> Iterator[Row]:
    table = compute_many([written.order for written in block if written.order is not None])
    answered = iter(range(len(table)))
    for written in block:
        row: Row = dict.fromkeys(COLUMNS) | {"line": written.line, "fault": written.fault or None}
        if written.order is not None:
            names = [layer.name for layer in written.order.layers]
            row |= {"case": written.order.case} | _answer(table, next(answered), names)
        yield row


def _answer(table: CureTable, at: int, names: Sequence[str]) -> Row:
    if reason := table.reason[at]:
        return {"fault": reason}
    figures = {name: _known(getattr(table, name)[at]) for name in (*FIGURES, *POINT, "clamp_needed_bar")}
    layers = [
        {
            "layer": name,
            "least": float(table.layer_least[at, place]),
            "most": float(table.layer_most[at, place]),
            "limit": float(table.layer_limit[at, place]),
            "ok": bool(table.layer_ok[at, place]),
        }
        for place, name in enumerate(names)
        if table.layer_most[at, place] == table.layer_most[at, place]
    ]
    faces = {face: _known(getattr(table, face)[at]) for face in ("outside", "inside")}
    flags = {f"{face}_ok": bool(getattr(table, f"{face}_ok")[at]) for face, most in faces.items() if most is not None}
    return {
        **figures, **faces, **flags,
        "schedule": "economy" if table.economy[at] else "safe",
        "slowest_layer": names[table.slowest_layer[at]],
        "layers": layers,
        "clamp_ok": bool(table.clamp_ok[at]),
    }  # fmt: skip


def _known(figure: float) -> float | None:
    return float(figure) if figure == figure else None


def _as_lines(rows: Iterable[Row]) -> str:
    return "".join(f"{json.dumps(row, ensure_ascii=False)}\n" for row in rows)


def _as_csv(rows: Iterable[Row], *, has_head: bool) -> str:
    text = io.StringIO()
    writer = csv.writer(text, lineterminator="\n")
    if has_head:
        writer.writerow(COLUMNS)
    for row in rows:
        writer.writerow([_cell(row[name]) for name in COLUMNS])
    return text.getvalue()


def _cell(value: Any) -> str:
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, list):
        return "; ".join(
            "{layer} {least:g} to {most:g} of {limit:g}".format_map(cure) + ("" if cure["ok"] else ", over")
            for cure in value
        )
    return "" if value is None else str(value)
