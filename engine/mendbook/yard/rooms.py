"""How much room the line that decided left: told for all rows at once, from tables of the bounds of every line."""

from collections.abc import Sequence

import numpy as np
import polars as pl

from mendbook.rulebook.tree import Bound, Op
from mendbook.terms.vocabulary import Vocabulary, Worse

MARGIN, MARGIN_OF = "margin", "margin of"
NO_ROOM = (pl.lit(None, pl.Float64).alias(MARGIN), pl.lit(None, pl.String).alias(MARGIN_OF))
_NONE = -1


class Rooms:
    """The bounds with a number of each line: a row for each line, in it a place for each of its bounds."""

    def __init__(self, lines: Sequence[Sequence[Bound]], vocabulary: Vocabulary) -> None:
        """Lay out the bounds of `lines`, which are called by their place."""
        bounds = [[bound for bound in line if bound.op is not Op.IN] for line in lines]
        self.facts = sorted({bound.fact for line in bounds for bound in line})
        shape = (len(lines), max((len(line) for line in bounds), default=0) or 1)
        self._fact, self._number, self._sign = np.full(shape, _NONE), np.zeros(shape), np.ones(shape)
        for row, line in enumerate(bounds):
            for place, bound in enumerate(line):
                self._fact[row, place] = self.facts.index(bound.fact)
                self._number[row, place] = bound.number
                self._sign[row, place] = 1.0 if vocabulary[bound.fact].worse is Worse.SMALLER else -1.0

    def tell(self, rows: pl.DataFrame, line: pl.Series) -> pl.DataFrame:
        """Return MARGIN and MARGIN_OF of the bound with the least room, as a share of its own number.

        line : the line of each row, null where none spoke
        """
        values = np.full((rows.height, 1 + len(self.facts)), np.nan, order="F")
        for place, name in enumerate(self.facts, 1):
            if name in rows.columns:
                values[:, place] = rows.get_column(name).cast(pl.Float64).to_numpy()
        spoke = line.is_not_null().to_numpy()
        lines = line.fill_null(0).to_numpy()
        every = np.arange(rows.height)
        least = margin = np.full(rows.height, np.nan)
        of = np.full(rows.height, _NONE)
        for place in range(self._fact.shape[1]):
            fact, number = np.where(spoke, self._fact[lines, place], _NONE), self._number[lines, place]
            room = self._sign[lines, place] * (values[every, fact + 1] - number)
            share = room / np.maximum(np.abs(number), 1e-9)
            is_first = place == 0
            is_less = np.full(rows.height, is_first) | (share < least)
            margin, of = np.where(is_less, room, margin), np.where(is_less, fact, of)
            least = np.fmin(least, share)
        named = pl.Series(of).replace(_NONE, None).cast(pl.UInt32)
        return pl.DataFrame([
            pl.Series(MARGIN, margin).fill_nan(None).round(3),
            pl.Series(MARGIN_OF, self.facts, pl.String).gather(named),
        ])  # fmt: skip
