"""Which tyres of a yard come out otherwise by another rulebook, and through which rules."""

from typing import Self

import polars as pl
from pydantic import Field

from mendbook.terms.closed import Closed
from mendbook.yard.deciders import DECIDED_BY
from mendbook.yard.deciding import HELD_BY, OUTCOME, STOPPED_BY, VERDICT
from mendbook.yard.reading import TYRE
from mendbook.yard.review import OF_TYRE
from mendbook.yard.summary import Counts, add_counts, count_names

THEN, NOW = "then", "now"
GONE, COME = "gone", "come"
NOT_JUDGED = "not judged"  # in quarantine by that book
MOST_LISTED = 50
_OF_TYRE = f"{OF_TYRE}{VERDICT}"
_BY = f"{OF_TYRE}{DECIDED_BY}"


class Flip(Closed):
    """A tyre whose answer differs, by the old book and by the new; which rules no longer decide, and which now do."""

    tyre: int
    tag: str
    row: int
    outcomes: tuple[str, str]
    verdicts: tuple[str, str]
    gone: tuple[str, ...]
    come: tuple[str, ...]


class Flips(Closed):
    """How a yard comes out by another book: counted and added up in any order; the first in the sheet are listed."""

    tyres: int = Field(0, description="judged by either book")
    flipped: int = 0
    outcomes: Counts = Field({}, description="tyres by 'repair -> hold'; those that keep their outcome are left out")
    verdicts: Counts = Field({}, description="tyres by 'spot -> section'")
    gone: Counts = Field({}, description="flipped tyres by the rule that no longer decides, holds or stops")
    come: Counts = Field({}, description="flipped tyres by the rule that now does")
    first: tuple[Flip, ...] = ()

    def __add__(self, other: Self) -> "Flips":
        return Flips(
            tyres=self.tyres + other.tyres,
            flipped=self.flipped + other.flipped,
            outcomes=add_counts(self.outcomes, other.outcomes),
            verdicts=add_counts(self.verdicts, other.verdicts),
            gone=add_counts(self.gone, other.gone),
            come=add_counts(self.come, other.come),
            first=tuple(sorted((*self.first, *other.first), key=lambda one: (one.row, one.tyre))[:MOST_LISTED]),
        )


def find_flips(then: pl.DataFrame, now: pl.DataFrame) -> pl.DataFrame:
    """Return a row for each tyre whose outcome or verdict differs between two frames of decisions on one yard.

    Columns: TYRE, tag, row; 'outcome then', 'outcome now', 'verdict then', 'verdict now' (NOT_JUDGED where only one
    book could judge it; '' for a verdict that a stop left out); GONE and COME, lists of rules.
    """
    both = _tyres(then, THEN).join(_tyres(now, NOW), on=TYRE, how="full", coalesce=True)
    rules = [pl.col(f"rules {when}").fill_null([]) for when in (THEN, NOW)]
    return (
        both.with_columns(
            *(pl.col(f"{what} {when}").fill_null(NOT_JUDGED) for what in (OUTCOME, VERDICT) for when in (THEN, NOW)),
            pl.coalesce("tag then", "tag now").fill_null("").alias("tag"),
            pl.coalesce("row then", "row now").alias("row"),
            rules[0].list.set_difference(rules[1]).list.sort().alias(GONE),
            rules[1].list.set_difference(rules[0]).list.sort().alias(COME),
        )
        .filter(
            (pl.col(f"{OUTCOME} {THEN}") != pl.col(f"{OUTCOME} {NOW}"))
            | (pl.col(f"{VERDICT} {THEN}") != pl.col(f"{VERDICT} {NOW}"))
        )
        .sort("row", TYRE)
        .select(
            TYRE, "tag", "row", *(f"{what} {when}" for what in (OUTCOME, VERDICT) for when in (THEN, NOW)), GONE, COME
        )
    )  # fmt: skip


def sum_flips(then: pl.DataFrame, now: pl.DataFrame) -> Flips:
    """Return the counts of `find_flips`, of one batch or of a whole yard."""
    found = find_flips(then, now)
    first = found.head(MOST_LISTED).iter_rows(named=True)
    return Flips(
        tyres=pl.concat([then.get_column(TYRE), now.get_column(TYRE)]).n_unique(),
        flipped=found.height,
        outcomes=_moves(found, OUTCOME),
        verdicts=_moves(found, VERDICT),
        gone=count_names(found.get_column(GONE).explode()),
        come=count_names(found.get_column(COME).explode()),
        first=tuple(
            Flip(
                tyre=row[TYRE], tag=row["tag"], row=row["row"], gone=row[GONE], come=row[COME],
                outcomes=(row[f"{OUTCOME} {THEN}"], row[f"{OUTCOME} {NOW}"]),
                verdicts=(row[f"{VERDICT} {THEN}"], row[f"{VERDICT} {NOW}"]),
            )
            for row in first
        ),
    )  # fmt: skip


def _tyres(decisions: pl.DataFrame, when: str) -> pl.DataFrame:
    """Return a row for each tyre: its answer, and the rules that decide, hold or stop it."""
    lists = [pl.col(name).fill_null([]) for name in (HELD_BY, STOPPED_BY)]
    decided = pl.concat_list(pl.col(_BY).fill_null("")).list.filter(pl.element() != "")
    return decisions.unique(TYRE, keep="first", maintain_order=True).select(
        TYRE,
        pl.col("tag").alias(f"tag {when}"),
        pl.col("row").alias(f"row {when}"),
        pl.col(OUTCOME).alias(f"{OUTCOME} {when}"),
        pl.col(_OF_TYRE).fill_null("").alias(f"{VERDICT} {when}"),
        pl.concat_list(decided, *lists).list.unique().alias(f"rules {when}"),
    )


def _moves(found: pl.DataFrame, what: str) -> Counts:
    moved = found.filter(pl.col(f"{what} {THEN}") != pl.col(f"{what} {NOW}"))
    counted = moved.group_by(f"{what} {THEN}", f"{what} {NOW}").len().iter_rows()
    return dict(sorted((f"{then or 'none'} -> {now or 'none'}", number) for then, now, number in counted))
