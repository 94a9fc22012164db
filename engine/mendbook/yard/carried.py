"""Which facts stand in the rows of injuries: what somebody looks at there. Wide frames cost more than rules."""

from collections.abc import Collection
from itertools import chain

import polars as pl

from mendbook.facts.pairs import share_pairs
from mendbook.facts.scenarios import CHOICE, END, INJURY, INJURY_CHOICE, ROW, USE, VARIANT
from mendbook.facts.spacing import SPACED_BY
from mendbook.terms.vocabulary import Subject
from mendbook.triage.shop import Shop
from mendbook.triage.stages import ALL
from mendbook.yard.reading import TYRE

KEYS = (TYRE, ROW, VARIANT, CHOICE, USE, END, INJURY, INJURY_CHOICE)
# What spacing, the count of repairs, the one row that decides and the check of named places look at.
_ELSEWHERE = (
    "kind",
    "side",
    "zone",
    "clock",
    "placed from",
    "deciding length",
    "deciding width",
    "share of area limit",
)


class Carried:
    """The facts of one rulebook that are looked at in the rows of injuries."""

    def __init__(self, shop: Shop, also: Collection[str] = ()) -> None:
        """Find them; `also` names what else is looked at."""
        rules = [*shop.book.rules_of(*ALL), *shop.book.not_covered]
        by_rules = chain.from_iterable(rule.facts() for rule in rules if rule.subject is Subject.INJURY)
        steps = (*shop.derivation.spacing_steps, share_pairs(), *shop.derivation.method_steps)
        by_steps = chain.from_iterable(step.looks_at for step in steps)
        self.facts = frozenset((*KEYS, *SPACED_BY, *_ELSEWHERE, *also, *by_rules, *by_steps))
        self._first = self.facts.union(*(step.looks_at for step in shop.derivation.injury_steps))

    def before(self, frame: pl.DataFrame) -> pl.DataFrame:
        """Return the columns of `frame`, of tyres or of injuries, from which the facts of an injury are derived."""
        return frame.select(name for name in frame.columns if name in self._first)

    def after(self, rows: pl.DataFrame) -> pl.DataFrame:
        """Return the columns of derived injury rows that are still looked at."""
        return rows.select(name for name in rows.columns if name in self.facts)
