"""Dates and date codes as they stand in sheets, where they can mean one thing only."""

import re
from datetime import date, datetime

_ISO = re.compile(r"(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T ]00:00(?::00(?:\.0+)?)?)?")
_DOTTED = re.compile(r"(\d{1,2})\.(\d{1,2})\.(\d{4})")  # day first, wherever dates are written with points
_SLASHED = re.compile(r"(\d{1,2})[/-](\d{1,2})[/-](\d{4})")
_NAMED = ("%d %b %Y", "%d %B %Y", "%b %d %Y", "%B %d %Y")
_THREE = re.compile(r"[0-9]{1,3}")
_HOW = "Write year-month-day, such as 2026-11-25."
_MONTHS = 12


def read_date(text: str) -> tuple[str | None, str | None]:
    """Return `text` as year-month-day, and why not where it may be two days; what is no date stays as it is."""
    year, month, day = 0, 0, 0
    if match := _ISO.fullmatch(text):
        year, month, day = (int(part) for part in match.groups())
    elif match := _DOTTED.fullmatch(text):
        day, month, year = (int(part) for part in match.groups())
    elif match := _SLASHED.fullmatch(text):
        one, two, year = (int(part) for part in match.groups())
        if one != two and one <= _MONTHS and two <= _MONTHS:
            return text, f"'{text}' may be day {one} of month {two}, or day {two} of month {one}. {_HOW}"
        day, month = (two, one) if two > _MONTHS else (one, two)
    else:
        return _named(text), None
    try:
        return date(year, month, day).isoformat(), None
    except ValueError:
        return text, f"'{text}' is no day of the calendar. {_HOW}"


def _named(text: str) -> str:
    words = re.sub(r"[-,\s]+", " ", text).strip()
    for form in _NAMED:
        try:
            return datetime.strptime(words, form).date().isoformat()
        except ValueError:
            continue
    return text


def read_code(text: str) -> str | None:
    """Return why the date code `text` is refused in a sheet that may have lost a leading zero; None where it is not.

    A spreadsheet that takes 0301 for a number shows 301, which is also how a code of before July 2000 is written.
    """
    if not _THREE.fullmatch(text):
        return None
    padded = text.zfill(4)
    return (
        f"'{text}' may be {padded} that lost its zero in a spreadsheet, or three digits from before July 2000. "
        f"Make the column text and write all four digits, such as '{padded}', or the whole number as moulded."
    )
