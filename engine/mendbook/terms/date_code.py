"""When a tyre was built, from the date moulded on it: four digits (week, year), or three before July 2000.

49 CFR 574.5: the digits and the lengths of the identification number were read; that week 01 is the first
full week from Sunday to Saturday is from memory. Three digits leave the decade open, so every decade is
returned that is possible: the number was first asked for in May 1971 (from memory), and four digits from 2
July 2000 (64 FR 36807). A factory that counts its weeks in another way is at most nine days off.
"""

import re
from dataclasses import dataclass
from datetime import date, timedelta

FIRST_CODE = date(1971, 5, 22)
LAST_THREE_DIGITS = date(2000, 7, 1)
LAST_WEEK = 53
DAYS_A_YEAR = 365.25
HOW_TO_WRITE = "Write the last four digits, week and year, such as '0301' for week 3 of 2001."

_CODE = re.compile(r"[0-9]{3,4}")
_NUMBER = re.compile(r"[0-9A-Z]{3,10}?(?P<code>[0-9]{4}|[0-9]{3})")
_RETREAD_LENGTH = 7  # three symbols for the plant, four digits for the week of retreading
_LONGEST = 13


class DateCodeError(ValueError):
    """A date code that names no week in the past."""


@dataclass(frozen=True)
class DateCode:
    """The week a tyre was built or retreaded, once for each year it may have been.

    `years` and `built` (first and last day of the week) run together, oldest first. `is_retread` is True for
    an identification number of a retread, which says nothing about the age of the casing.
    """

    text: str
    week: int
    years: tuple[int, ...]
    built: tuple[tuple[date, date], ...]
    is_retread: bool = False

    @property
    def is_certain(self) -> bool:
        """True when only one year is possible."""
        return len(self.years) == 1

    def age_years(self, on: date) -> tuple[float, float]:
        """Return the least and the greatest age [years of 365.25 days] on the day `on`."""
        youngest, oldest = self.built[-1][1], self.built[0][0]
        return max(0.0, (on - youngest).days / DAYS_A_YEAR), (on - oldest).days / DAYS_A_YEAR


def read_date_code(text: str, on: date) -> DateCode:
    """Return the date in `text`: '0301', '031', or a whole identification number that ends in one.

    `on` is the day of the reading; no tyre is built after it. In a number written without gaps the last four
    digits are taken, where an old one may have meant three: write the gaps as moulded, or the code alone.
    Raises DateCodeError for week 00, for a week above 53, for a week to come, and for a text that is no code.
    """
    plain = re.sub(r"[\s-]", "", text.upper()).removeprefix("DOT")
    if _CODE.fullmatch(plain):
        return _date(text, plain, on)
    number = _NUMBER.fullmatch(plain)
    if not number or not _RETREAD_LENGTH <= len(plain) <= _LONGEST:
        letters = " The letter O is not a zero." if re.fullmatch(r"[0-9O]{3,4}", plain) else ""
        raise DateCodeError(f"'{text[:30]}' is no date code.{letters} {HOW_TO_WRITE}")
    last_group = text.split()[-1]
    if re.fullmatch(r"[0-9]{3}", last_group):  # the gaps as moulded tell three digits from four
        return _date(text, last_group, on)
    code = number["code"]
    is_retread = len(plain) == _RETREAD_LENGTH and len(code) == 4
    return _date(text, code, on, is_retread)


def week_days(year: int, week: int) -> tuple[date, date]:
    """Return the first and last day of `week` of `year`: week 1 begins on the first Sunday of the year."""
    new_year = date(year, 1, 1)
    first_sunday = new_year + timedelta(days=6 - new_year.weekday())
    begin = first_sunday + timedelta(weeks=week - 1)
    return begin, begin + timedelta(days=6)


def _date(text: str, code: str, on: date, is_retread: bool = False) -> DateCode:
    week, years = int(code[:2]), _years(code)
    if not 1 <= week <= LAST_WEEK:
        raise DateCodeError(f"'{text[:30]}': there is no week {code[:2]}; weeks run from 01 to 53. {HOW_TO_WRITE}")
    weeks = [(year, week_days(year, week)) for year in years]
    if len(code) == 3:
        weeks = [w for w in weeks if w[1][1] >= FIRST_CODE and w[1][0] <= LAST_THREE_DIGITS]
    past = [w for w in weeks if w[1][0] <= on]
    if not past:
        year = years[-1]
        raise DateCodeError(f"'{text[:30]}': week {week} of {year} is after {on:%d %B %Y}. Read the code again.")
    return DateCode(text, week, tuple(y for y, _ in past), tuple(days for _, days in past), is_retread)


def _years(code: str) -> tuple[int, ...]:
    if len(code) == 3:
        return tuple(decade + int(code[2]) for decade in (1970, 1980, 1990, 2000))
    year = int(code[2:])
    return (1999, 2099) if year == 99 else (2000 + year,)  # makers could change over from mid-1999
