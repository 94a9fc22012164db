"""The order in which facts follow from each other. Each pass takes frames and returns frames."""

import polars as pl

from mendbook.facts.injuries import derive_clearances, derive_counts, derive_limits, derive_sizes
from mendbook.facts.lookup import Lookup
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END, VARIANT, Frames
from mendbook.facts.section import derive_section
from mendbook.facts.service import derive_tyres
from mendbook.facts.zones import derive_edges, touch_zones
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Fact, Subject, Worse

BASE_STAGE = ""


def derive_base(frames: Frames, book: Rulebook, lookup: Lookup) -> Frames:
    """Return the frames with every fact that needs no repair class: one injury row for each zone touched."""
    tyres = derive_section(derive_tyres(frames.tyres, book, lookup), lookup)
    tyres = fill_unknown(tyres, [f for f in book.vocabulary if f.subject is Subject.TYRE and f.stage == BASE_STAGE])
    if frames.injuries.is_empty():
        return Frames(tyres, frames.injuries)
    rows = frames.injuries.drop(END).join(tyres, on=VARIANT, how="left", maintain_order="left")
    rows = touch_zones(derive_edges(derive_sizes(rows)))
    rows = derive_limits(derive_counts(rows, lookup), lookup)
    rows = derive_clearances(rows, lookup)
    return Frames(tyres, fill_unknown(rows, [f for f in book.vocabulary if f.stage == BASE_STAGE]))


def fill_unknown(frame: pl.DataFrame, facts: list[Fact]) -> pl.DataFrame:
    """Return the frame with no fact left open: unknown stands at the good end when read well, else at the bad end."""
    filled = []
    for fact in facts:
        if fact.is_listed or fact.name not in frame.columns or fact.worse is Worse.NEITHER:
            continue
        good, bad = fact.ends(fact.low, fact.high)
        stand_in = pl.when(pl.col(END) == GOOD).then(good).otherwise(bad)
        filled.append(pl.col(fact.name).fill_nan(None).fill_null(stand_in))
    return frame.with_columns(filled)
