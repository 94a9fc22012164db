"""What a decision means, in words."""

from collections.abc import Mapping
from typing import Any

import polars as pl

from mendbook.facts.scenarios import INJURY
from mendbook.terms.answers import answer_words, verdict_words
from mendbook.yard.deciding import MILDEST, OUTCOME, VERDICT, WORST
from mendbook.yard.review import OF_TYRE

IN_WORDS = "in words"
_LOOKED_AT = (OUTCOME, f"{OF_TYRE}{VERDICT}", f"{OF_TYRE}{MILDEST}", f"{OF_TYRE}{WORST}", VERDICT, INJURY)


def in_words(row: Mapping[str, Any]) -> str:
    """Return what a row of decisions means, such as 'Repair: section repair. This injury: spot repair.'."""
    ends = row.get(f"{OF_TYRE}{MILDEST}"), row.get(f"{OF_TYRE}{WORST}")
    bracket = None if None in ends else (str(ends[0]), str(ends[1]))
    said = answer_words(row[OUTCOME], row.get(f"{OF_TYRE}{VERDICT}"), bracket)
    told = f"{row[OUTCOME].capitalize()}: {said[:1].lower()}{said[1:]}"
    if row.get(INJURY) is None or row[OUTCOME] == "stop":
        return told
    return f"{told} This injury: {verdict_words(row.get(VERDICT))}."


def add_words(decisions: pl.DataFrame) -> pl.DataFrame:
    """Return `decisions` with a column IN_WORDS; each different answer is worded once."""
    is_whole = pl.col(INJURY).is_null()
    keys = decisions.select(
        pl.when(is_whole).then(None).otherwise(0).alias(name) if name == INJURY else pl.col(name)
        for name in _LOOKED_AT
        if name in decisions.columns
    )
    different = keys.unique(maintain_order=True)
    words = pl.Series(IN_WORDS, [in_words(row) for row in different.iter_rows(named=True)], pl.String)
    told = keys.join(
        different.with_columns(words), on=keys.columns, how="left", nulls_equal=True, maintain_order="left"
    )
    return decisions.with_columns(told.get_column(IN_WORDS))
