"""What a review says of a tyre in its rows, and what the docket of that tyre says: in the same words."""

from typing import Any

import polars as pl

from mendbook.terms.docket import Docket
from mendbook.triage import Shop
from mendbook.triage.findings import deciding, is_heard


def of_docket(docket: Docket, shop: Shop) -> dict[str, Any]:
    """Return what a row of a review says of the whole tyre."""
    uses = ["off-road", "road"] if docket.tyre.use == "unknown" else [docket.tyre.use]
    heard = [finding for finding in docket.findings if is_heard(finding, uses)]
    mildest, worst = docket.bracket or (None, None)
    decided = None if docket.verdict is None else deciding(docket.findings, uses, docket.verdict, shop.book)
    return {
        "outcome": docket.outcome,
        "tyre's verdict": docket.verdict,
        "tyre's mildest": mildest,
        "tyre's worst": worst,
        "tyre's decided by": decided and decided.rule,
        "tyre's line": decided and decided.line,
        "held by": sorted({f.rule for f in heard if "hold" in f.says and "stop" not in f.says and docket.verdict}),
        "stopped by": sorted({f.rule for f in heard if "stop" in f.says}),
    }


def of_row(row: dict[str, Any]) -> dict[str, Any]:
    """Return the same of a row."""
    names = ("outcome", "tyre's verdict", "tyre's mildest", "tyre's worst", "tyre's decided by", "tyre's line")
    lists = {name: sorted(row[name] or ()) for name in ("held by", "stopped by")}
    return {name: row[name] for name in names} | lists


def unlike_rows(rows: pl.DataFrame, docket: Docket, shop: Shop) -> list[str]:
    """Return in what the rows of one tyre differ from its docket."""
    own, wanted = rows.to_dicts(), of_docket(docket, shop)
    told = [
        f"{name}: {row[name]}, alone {wanted[name]}"
        for row in map(of_row, own)
        for name in wanted
        if row[name] != wanted[name]
    ]
    for one in docket.injuries:
        said = [(row["verdict"], row["mildest"], row["worst"]) for row in own if row["name"] == one.name]
        if said != [(one.verdict, *(one.bracket or (None, None)))]:
            told.append(f"injury {one.name}: {said}, alone {one.verdict} {one.bracket}")
    return told if own else ["no row"]
