"""How near injuries lie to the limit that they were decided by."""

import polars as pl

from mendbook.facts.scenarios import INJURY
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.tree import Op
from mendbook.yard.deciders import DECIDED_BY, LINE, Deciders
from mendbook.yard.deciding import OUTCOME, UP_TO_VERDICT, VERDICT
from mendbook.yard.reading import NAME, TYRE
from mendbook.yard.review import OF_TYRE
from mendbook.yard.rooms import MARGIN, MARGIN_OF
from mendbook.yard.summary import AROUND, MOST_ALIKE, Counts, Near, count_names, nearest

_BOUND, _NUMBER, _SHARE, _RANK = "bound", "number", "share", "rank"


class Closeness:
    """Knows the number of every limit of a rulebook."""

    def __init__(self, book: Rulebook) -> None:
        self._ranks = {verdict: place for place, verdict in enumerate(book.verdicts)}
        self._bounds = pl.DataFrame(
            [
                (one.rule.id, one.rule.lines[one.line].at, bound.fact, spell_bounds([bound]), bound.number)
                for one in Deciders(book, UP_TO_VERDICT).speakers
                for bound in one.bounds
                if bound.op is not Op.IN
            ],
            schema={
                DECIDED_BY: pl.String,
                LINE: pl.Int32,
                MARGIN_OF: pl.String,
                _BOUND: pl.String,
                _NUMBER: pl.Float64,
            },
            orient="row",
        ).unique([DECIDED_BY, LINE, MARGIN_OF], keep="first", maintain_order=True)

    def find(self, injuries: pl.DataFrame) -> pl.DataFrame:
        """Return the injuries that decide their tyre by a limit, with its words, and the room as a share of its number.

        A limit of nothing leaves no share of itself.
        """
        if MARGIN not in injuries.columns:
            return pl.DataFrame(schema={_SHARE: pl.Float64})
        return (
            injuries.filter(pl.col(MARGIN).is_not_null() & (pl.col(VERDICT) == pl.col(f"{OF_TYRE}{VERDICT}")))
            .join(self._bounds, on=[DECIDED_BY, LINE, MARGIN_OF], how="inner")
            .filter(pl.col(_NUMBER) != 0)
            .with_columns(
                (pl.col(MARGIN) / pl.col(_NUMBER).abs()).round(6).alias(_SHARE),
                pl.col(VERDICT).replace_strict(self._ranks, default=0, return_dtype=pl.Int8).alias(_RANK),
            )
        )


def nearest_of(close: pl.DataFrame) -> tuple[Near, ...]:
    """Return the injuries with the least room, of a frame that `Closeness.find` gave."""
    if close.is_empty():
        return ()
    keys = [pl.col(_SHARE).abs(), -pl.col(_RANK), TYRE, INJURY]
    few = close.sort(keys).group_by(DECIDED_BY, _BOUND, maintain_order=True).head(MOST_ALIKE)
    return nearest(
        Near(
            share=row[_SHARE], rank=row[_RANK], tyre=row[TYRE], injury=row[INJURY], tag=row["tag"] or "",
            name=row[NAME] or "", row=row["row"], rule=row[DECIDED_BY], limit=row[_BOUND], fact=row[MARGIN_OF],
            room=row[MARGIN], verdict=row[VERDICT] or "", outcome=row[OUTCOME],
        )
        for row in few.iter_rows(named=True)
    )  # fmt: skip


def around(close: pl.DataFrame) -> dict[str, Counts]:
    """Return for each limit how many injuries lie at each whole percent round it."""
    if close.is_empty():
        return {}
    percent = (pl.col(_SHARE) * 100).round()
    near = close.filter(percent.abs() <= AROUND).select(_BOUND, percent.cast(pl.Int64).cast(pl.String).alias(_SHARE))
    parts = near.partition_by(_BOUND, as_dict=True)
    return dict(sorted((str(limit), count_names(part.get_column(_SHARE))) for (limit,), part in parts.items()))
