"""Cells as the reader of single cases takes them: units from the heading, the words people use, dates, date codes.

What is done here is said of whole columns; a cell that may mean two things stays as it is, for the reader to refuse,
or is refused here where the reader would not see it.
"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import polars as pl

from mendbook.terms.case import UNKNOWN
from mendbook.yard.sheets.dates import read_code, read_date
from mendbook.yard.sheets.fields import EARLIER_REPAIRS, TREAD_DEPTHS, Field, Kind

YES, NO = "yes", "no"
YES_WORDS = ("y", "yes", "true", "1")
NO_WORDS = ("n", "no", "false", "0")
UNKNOWN_WORDS = (
    "unknown", "not known", "n/a", "na", "n.a.", "n/k", "not measured", "not read", "not seen", "tbd", "?", "??", "-",
    "--", "–", "—",
)  # fmt: skip

# Digits, marks and the words of a range: a reading that says everything but its unit.
_FIGURE = r"[0-9.,][0-9 .,/]*(?:-[0-9]+ ?/ ?[0-9]+)?"
BARE = rf"(?i)^(?:up to |from )?[-+−]?{_FIGURE}(?: ?(?:to|±|\+/-|\+-|\.\.|…) ?{_FIGURE})?$"
_SERIES = r"^[0-9.,]+(?: ?; ?[0-9.,]+)+$"  # several bare numbers in one cell
_BARE_END = r"(?:^|; ?)[0-9.,]+$"
_COMMA = r"([0-9]),([0-9])"
DECIMAL_COMMA = r"[0-9],(?:[0-9]{1,2}|[0-9]{4,})(?:[^0-9,.]|$)|(?:^|[^0-9])0,[0-9]"
DECIMAL_POINT = r"[0-9]\.(?:[0-9]{1,2}|[0-9]{4,})(?:[^0-9,.]|$)|(?:^|[^0-9])0\.[0-9]"
THOUSANDS = r"(?:^|[^0-9.,])[1-9][0-9]{0,2}\.[0-9]{3}(?:[^0-9.,]|$)"
KEPT_ZERO = r"^0[0-9]{3}$"

_TWO_MARKS = "it may be thousands or decimals, for other cells have a decimal comma. Write it without any mark."


@dataclass(frozen=True)
class Habits:
    """How the numbers of a file are written, where its cells leave no doubt.

    `has_decimal_comma` and `has_decimal_point`: a measure with either was seen. `keeps_zeros`: a date code in this
    file still has its leading zero, so that three digits are three.
    """

    has_decimal_comma: bool = False
    has_decimal_point: bool = False
    keeps_zeros: bool = False


def plain(column: pl.Expr) -> pl.Expr:
    """Return a column of text without the space around it; null where nothing is written."""
    stripped = column.str.strip_chars()
    return pl.when(stripped != "").then(stripped)


def read_cells(column: pl.Expr, field: Field, unit: str, habits: Habits) -> pl.Expr:
    """Return `column`, plain text, as the reader of cases takes it; its bare numbers are in `unit`."""
    if field.kind is Kind.MEASURE:
        return _measure(column, unit, habits, is_series=field.column == TREAD_DEPTHS)
    if field.kind is Kind.LISTED:
        return _listed(column, field)
    if field.kind is Kind.DATE:
        return _each(column, lambda text: read_date(text)[0])
    if field.column in ("tag", "name"):
        return column
    unread = column.str.to_lowercase().is_in(UNKNOWN_WORDS)
    return pl.when(unread).then(pl.lit(UNKNOWN if field.takes_unknown else None, pl.String)).otherwise(column)


def cell_fault(column: pl.Expr, field: Field, habits: Habits) -> pl.Expr | None:
    """Return why a cell of `column`, plain text, is refused though the reader would take it; None where it never is."""
    if field.kind is Kind.DATE:
        return _each(column, lambda text: read_date(text)[1])
    if field.kind is Kind.CODE and not habits.keeps_zeros:
        return _each(column, read_code)
    if field.kind is Kind.MEASURE and habits.has_decimal_comma:
        doubtful = column.str.contains(THOUSANDS)
        return pl.when(doubtful).then(pl.lit("'") + column + pl.lit("': " + _TWO_MARKS))
    return None


def _measure(column: pl.Expr, unit: str, habits: Habits, *, is_series: bool) -> pl.Expr:
    cells = pl.when(column.str.to_lowercase().is_in(UNKNOWN_WORDS)).then(pl.lit(UNKNOWN)).otherwise(column)
    if habits.has_decimal_comma and not habits.has_decimal_point:
        cells = cells.str.replace_all(_COMMA, "$1.$2")
    if not unit:
        return cells
    if is_series:
        cells = pl.when(cells.str.contains(_SERIES)).then(cells.str.replace_all(" ?;", f" {unit};")).otherwise(cells)
        return pl.when(cells.str.contains(_BARE_END)).then(cells + pl.lit(f" {unit}")).otherwise(cells)
    return pl.when(cells.str.contains(BARE)).then(cells + pl.lit(f" {unit}")).otherwise(cells)


def _listed(column: pl.Expr, field: Field) -> pl.Expr:
    folded = column.str.to_lowercase()
    return folded.replace_strict(_answers(field), default=column, return_dtype=pl.String)


def _answers(field: Field) -> Mapping[str, str | None]:
    """Return what each word that people write in a listed field means, in small letters."""
    answers: dict[str, str | None] = dict.fromkeys(UNKNOWN_WORDS, UNKNOWN if field.takes_unknown else None)  # fmt: skip
    if set(field.values) == {YES, NO}:
        answers |= dict.fromkeys(YES_WORDS, YES) | dict.fromkeys(NO_WORDS, NO)
    if field.column == EARLIER_REPAIRS:
        answers |= {NO: "none", YES: "not mapped"}
    for value in field.values:
        for word in (value, value.replace(" ", "_"), value.replace(" ", "-"), value.replace("-", " ")):
            answers[word.casefold()] = value
    return answers


def _each(column: pl.Expr, read: Callable[[str], str | None]) -> pl.Expr:
    """Return what `read` makes of each text of `column`, in which every text stands once."""

    def look_up(texts: pl.Series) -> pl.Series:
        return pl.Series([None if text is None else read(text) for text in texts], dtype=pl.String)

    return column.map_batches(look_up, return_dtype=pl.String, is_elementwise=True)
