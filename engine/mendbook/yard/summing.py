"""From a reviewed batch to its summary."""

from collections.abc import Iterable

import polars as pl

from mendbook.facts.scenarios import INJURY
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case import UNKNOWN
from mendbook.terms.designation import DesignationError, read_designation
from mendbook.yard.batch import Batch, rows_in
from mendbook.yard.closeness import Closeness, around, nearest_of
from mendbook.yard.deciders import DECIDED_BY, LINE, Deciders
from mendbook.yard.deciding import HELD_BY, MILDEST, OUTCOME, STOPPED_BY, UP_TO_VERDICT, VERDICT, WORST
from mendbook.yard.overrules import BY, FROM, ON, RULE, WHY
from mendbook.yard.reading import TYRE
from mendbook.yard.review import OF_TYRE, Reviewed
from mendbook.yard.summary import (
    MOST_LET_GO,
    NOT_PLACED,
    NOT_SAID,
    Counts,
    Fault,
    LetGo,
    Piece,
    Summary,
    Tally,
    Work,
    count_names,
)

HOLD, STOP, REJECT = "hold", "stop", "reject"
MEASURE_NEXT = "measure next"
PROCESS, KIT, PIECES, LACKING = "process", "kit", "pieces", "lacking"
CURE, RELEASE = "cure minutes", "release minutes"
BY_HAND = "no kit"
BETWEEN = ": "  # in MEASURE_NEXT, between whose fact it is and which


class Summariser:
    """Sums up the batches of a review by one rulebook."""

    def __init__(self, book: Rulebook) -> None:
        speakers = Deciders(book, UP_TO_VERDICT).speakers
        self._closeness = Closeness(book)
        lines = [one.rule.lines[one.line] for one in speakers]
        self._kinds = {
            (one.rule.id, line.at): book.sources[line.sources[0].source].kind
            for one, line in zip(speakers, lines, strict=True)
            if line.sources
        }

    def summarise(self, batch: Batch, reviewed: Reviewed) -> Summary:
        """Return the summary of `reviewed`, which came of `batch`."""
        rows = reviewed.decisions
        out, came = reviewed.quarantined, rows_in(batch)
        held = 0 if rows.is_empty() else rows.filter(pl.col(OUTCOME) == HOLD).height
        counted = Summary(
            rows=len(came), decided=rows.height - held, undecided=held,
            quarantined=int(came.is_in(out.get_column("row").implode()).sum()), faults=_faults(out),
        )  # fmt: skip
        if rows.is_empty():
            return counted
        tyres = rows.unique(TYRE, keep="first", maintain_order=True).join(
            _columns(batch.tyres, (TYRE,), ("tyre.designation", "service.duty")), on=TYRE, how="left"
        )
        tyres = tyres.with_columns(_sizes(tyres.get_column("tyre.designation")))
        injuries = rows.filter(pl.col(INJURY).is_not_null()).join(
            _columns(batch.injuries, (TYRE, INJURY), ("kind",)), on=[TYRE, INJURY], how="left"
        )
        of_tyre = f"{OF_TYRE}{VERDICT}"
        close = self._closeness.find(injuries)
        return counted.model_copy(
            update={
                "tyres": _tally(tyres, of_tyre),
                "injuries": _tally(injuries, VERDICT),
                "sizes": _tallies(tyres, "tyre.designation", of_tyre),
                "duties": _tallies(tyres, "service.duty", of_tyre),
                "zones": _tallies(injuries, "zone", VERDICT, NOT_PLACED),
                "causes": _tallies(injuries, "kind", VERDICT),
                "near": nearest_of(close),
                "around": around(close),
                "blocked": _blocked(tyres),
                "open": _on_hold(tyres).filter(pl.col(f"{OF_TYRE}{MILDEST}") != pl.col(f"{OF_TYRE}{WORST}")).height,
                "lacking": _lacking(rows),
                "missing": _missing(tyres),
                **_overruled(rows),
                "fallen": self._fallen(tyres),
                "work": _work(rows),
                "pieces": _pieces(rows),
            }
        )

    def _fallen(self, tyres: pl.DataFrame) -> Counts:
        by = [f"{OF_TYRE}{DECIDED_BY}", f"{OF_TYRE}{LINE}"]
        fallen = tyres.filter(pl.col(OUTCOME) == REJECT)
        if fallen.is_empty():
            return {}
        found: Counts = {}
        for rule, line, number in fallen.group_by(by).len().iter_rows():
            kind = self._kinds.get((rule, line), "")
            found[kind] = found.get(kind, 0) + number
        return dict(sorted(found.items()))


def _columns(frame: pl.DataFrame, keys: Iterable[str], names: Iterable[str]) -> pl.DataFrame:
    """Return the columns called `names`, of nothing where the sheet has none."""
    return frame.select(*keys, *(pl.col(n) if n in frame.columns else pl.lit(None, pl.String).alias(n) for n in names))


def _sizes(written: pl.Series) -> pl.Series:
    """Return the sizes alone, spelt one way; what is no size stays as it was written."""
    sizes = {text: _size(text) for text in written.drop_nulls().unique()}
    return written.replace_strict(sizes, default=None, return_dtype=pl.String)


def _size(text: str) -> str:
    try:
        return read_designation(text).size
    except DesignationError:
        return text


def _tally(rows: pl.DataFrame, verdict: str) -> Tally:
    return Tally(
        verdicts=count_names(rows.get_column(verdict).fill_null("")), outcomes=count_names(rows.get_column(OUTCOME))
    )


def _tallies(rows: pl.DataFrame, by: str, verdict: str, unsaid: str = NOT_SAID) -> dict[str, Tally]:
    is_said = pl.col(by).is_not_null() & (pl.col(by).str.to_lowercase() != UNKNOWN)
    named = rows.with_columns(pl.when(is_said).then(pl.col(by)).otherwise(pl.lit(unsaid)).alias(by))
    parts = named.select(by, verdict, OUTCOME).partition_by(by, as_dict=True)
    return dict(sorted((str(name), _tally(part, verdict)) for (name,), part in parts.items()))


def _on_hold(tyres: pl.DataFrame) -> pl.DataFrame:
    return tyres.filter(pl.col(OUTCOME) == HOLD)


def _missing(tyres: pl.DataFrame) -> Counts:
    """Return how many tyres wait for each fact, of whichever injury."""
    if MEASURE_NEXT not in tyres.columns:
        return {}
    asked = tyres.select(TYRE, pl.col(MEASURE_NEXT)).explode(MEASURE_NEXT).drop_nulls()
    facts = asked.with_columns(pl.col(MEASURE_NEXT).str.split(BETWEEN).list.last()).unique()
    return count_names(facts.get_column(MEASURE_NEXT))


def _blocked(tyres: pl.DataFrame) -> dict[str, Counts]:
    said = {
        STOP: tyres.filter(pl.col(OUTCOME) == STOP).select(pl.col(STOPPED_BY).explode()),
        HOLD: _on_hold(tyres).select(pl.col(HELD_BY).explode()),
        REJECT: tyres.filter(pl.col(OUTCOME) == REJECT).select(f"{OF_TYRE}{DECIDED_BY}"),
    }
    counts = {what: count_names(rules.to_series()) for what, rules in said.items()}
    return {what: found for what, found in sorted(counts.items()) if found}


def _overruled(rows: pl.DataFrame) -> dict[str, object]:
    """Return how many tyres had a house reject overruled, and the first rows of them."""
    if FROM not in rows.columns:
        return {}
    found = rows.filter(pl.col(FROM).is_not_null())
    columns = {RULE: "rule", BY: "by", ON: "on", WHY: "why"}
    told = found.sort(TYRE, INJURY).head(MOST_LET_GO).rename(columns)
    return {
        "overruled": found.get_column(TYRE).n_unique(),
        "let_go": tuple(
            LetGo(**{name: one[name] for name in LetGo.model_fields if name != "name"}, name=one["name"] or "")
            for one in told.iter_rows(named=True)
        ),
    }


def _lacking(rows: pl.DataFrame) -> int:
    if LACKING not in rows.columns:
        return 0
    return _on_hold(rows).filter(pl.col(LACKING).list.len() > 0).get_column(TYRE).n_unique()


def _faults(out: pl.DataFrame) -> dict[str, Fault]:
    """Return the faults by column; of each the one that stands first in the sheet."""
    counted = (
        out.with_columns(pl.col("column").fill_null(""))
        .sort("row", "words")
        .group_by("column")
        .agg(pl.len().alias("number"), pl.col("row").first(), pl.col("words").first())
    )
    return {
        row["column"]: Fault(number=row["number"], row=row["row"], words=row["words"])
        for row in counted.sort("column").iter_rows(named=True)
    }


def _work(rows: pl.DataFrame) -> dict[str, dict[str, Work]]:
    """Return the repairs that were planned, by the outcome of their tyre and the kind of kit."""
    if not {PROCESS, KIT, CURE, RELEASE} <= {*rows.columns}:
        return {}
    seconds = [_seconds(name).sum().alias(told) for name, told in ((CURE, "heat_s"), (RELEASE, "release_s"))]
    counted = (
        rows.filter(pl.col(PROCESS).is_not_null() & pl.col(OUTCOME).is_in(["repair", HOLD]))
        .group_by(OUTCOME, pl.col(KIT).fill_null(BY_HAND))
        .agg(pl.len().alias("repairs"), pl.col(CURE).null_count().alias("untimed"), *seconds)
        .sort(OUTCOME, KIT)
    )
    found: dict[str, dict[str, Work]] = {}
    for row in counted.iter_rows(named=True):
        found.setdefault(row[OUTCOME], {})[row[KIT]] = Work(
            repairs=row["repairs"], untimed=row["untimed"], heat_s=row["heat_s"],
            bench_s=row["heat_s"] + row["release_s"],
        )  # fmt: skip
    return found


def _pieces(rows: pl.DataFrame) -> dict[str, Piece]:
    """Return what is needed of each piece of kit for the repairs that may begin."""
    if not {PIECES, CURE, RELEASE} <= {*rows.columns}:
        return {}
    used = rows.filter(pl.col(OUTCOME) == "repair").select(
        PIECES, (_seconds(CURE) + _seconds(RELEASE)).alias("seconds")
    )
    one = used.with_row_index("repair").explode(PIECES).drop_nulls(PIECES)
    number = pl.col(PIECES).str.extract(r", (\d+) pieces$").cast(pl.Int64).fill_null(1)
    # A pad may lie on both faces of one repair.
    by_repair = (
        one.select("repair", pl.col(PIECES).str.replace(r", \d+ pieces$", ""), "seconds", number.alias("number"))
        .group_by("repair", PIECES)
        .agg(pl.col("seconds").first(), pl.col("number").sum())
    )
    busy = (pl.col("seconds") * pl.col("number")).sum()
    counted = by_repair.group_by(PIECES).agg(pl.len(), pl.col("number").max(), busy.alias("busy")).sort(PIECES)
    return {
        name: Piece(repairs=repairs, at_once=at_once, busy_s=busy)
        for name, repairs, at_once, busy in counted.iter_rows()
    }


def _seconds(minutes: str) -> pl.Expr:
    return (pl.col(minutes).fill_null(0) * 60).round().cast(pl.Int64)
