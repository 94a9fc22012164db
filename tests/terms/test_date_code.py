from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.terms.date_code import DateCodeError, read_date_code, week_days

TODAY = date(2026, 11, 25)


# An owner's manual that quotes the scheme (read): 0301 is week 3 of 2001; 031 is week 3 of 1981 or 1991.
# 64 FR 36807 (read): four digits, week and year, in place of three.
@pytest.mark.parametrize(
    ("text", "week", "years"),
    [
        ("0301", 3, (2001,)),
        ("031", 3, (1981, 1991)),
        ("5000", 50, (2000,)),
        ("5326", 53, ()),
        ("4726", 47, (2026,)),
        ("5199", 51, (1999,)),
        ("211", 21, (1971, 1981, 1991)),
        ("191", 19, (1981, 1991)),  # part 574 asked for the number from 22 May 1971, from memory
        ("260", 26, (1980, 1990, 2000)),
        ("270", 27, (1980, 1990)),  # four digits from 2 July 2000
        ("538", 53, (1978, 1988, 1998)),
    ],
)
def test_the_years_a_code_may_mean(text: str, week: int, years: tuple[int, ...]) -> None:
    if not years:
        with pytest.raises(DateCodeError, match="is after 25 November 2026"):
            read_date_code(text, TODAY)
        return
    code = read_date_code(text, TODAY)
    assert (code.week, code.years) == (week, years)
    assert code.is_certain is (len(years) == 1)
    assert len(code.built) == len(years)


# 49 CFR 574.5(a)(1)-(2) (read): 13 symbols on a new tyre, 7 on a retread; 80 FR 19553 (read): three symbols
# for the plant where there were two, so 8 to 12 symbols before. The symbols here are invented.
@pytest.mark.parametrize(
    ("text", "week", "years", "is_retread"),
    [
        ("1AB XX12YZ 0301", 3, (2001,), False),
        ("DOT 1ABXX12YZ0301", 3, (2001,), False),
        ("DOT-1ABXX12YZ0301", 3, (2001,), False),
        ("ABXX12YZ0301", 3, (2001,), False),
        ("dot abxx 0301", 3, (2001,), False),
        ("ABXX 12YZ 031", 3, (1981, 1991), False),
        ("AB XX 12Y1 031", 3, (1981, 1991), False),
        ("ABXXYZ031", 3, (1981, 1991), False),
        ("1AB0301", 3, (2001,), True),
        ("DOT R12 0301", 3, (2001,), True),
        ("ABXX031", 3, (1981, 1991), False),
    ],
)
def test_a_whole_identification_number(text: str, week: int, years: tuple[int, ...], is_retread: bool) -> None:
    code = read_date_code(text, TODAY)
    assert (code.week, code.years, code.is_retread) == (week, years, is_retread)


# 49 CFR 574.5(b)(3), from memory: week 01 is the first full week from Sunday to Saturday.
@pytest.mark.parametrize(
    ("year", "week", "first"),
    [
        (2001, 1, date(2001, 1, 7)),  # 2001 began on a Monday
        (2006, 1, date(2006, 1, 1)),  # 2006 began on a Sunday
        (2006, 53, date(2006, 12, 31)),
        (2000, 1, date(2000, 1, 2)),
        (2000, 53, date(2000, 12, 31)),
    ],
)
def test_the_days_of_a_week(year: int, week: int, first: date) -> None:
    assert week_days(year, week) == (first, first + timedelta(days=6))
    assert first.strftime("%A") == "Sunday"


@given(st.integers(1971, 2100), st.integers(1, 52))
def test_weeks_follow_each_other(year: int, week: int) -> None:
    assert week_days(year, week)[1] + timedelta(days=1) == week_days(year, week + 1)[0]
    assert week_days(year, week)[0].year == year


def test_age_is_a_range() -> None:
    young, old = read_date_code("0301", date(2011, 1, 21)).age_years(date(2011, 1, 21))
    assert young == pytest.approx(9.986, abs=0.01)
    assert old - young == pytest.approx(6 / 365.25)
    young, old = read_date_code("031", TODAY).age_years(TODAY)
    assert old - young == pytest.approx(10.0, abs=0.05)
    assert read_date_code("4726", TODAY).age_years(TODAY)[0] == 0.0


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("0026", "week 00"),
        ("5425", "week 54"),
        ("005", "week 00"),
        ("5026", "after 25 November 2026"),
        ("0127", "after 25 November 2026"),
        ("O301", "The letter O is not a zero"),
        ("03", "'0301' for week 3 of 2001"),
        ("03011", "'0301' for week 3 of 2001"),
        ("", "no date code"),
        ("ABCDEFG", "no date code"),
        ("1ABXX12YZ030112345", "no date code"),
        ("03/01", "no date code"),
        ("٠٣٠١", "no date code"),
    ],
)
def test_what_is_refused_and_what_is_told(text: str, told: str) -> None:
    with pytest.raises(DateCodeError) as caught:
        read_date_code(text, TODAY)
    assert told in str(caught.value)


@given(st.integers(1, 53), st.integers(0, 99), st.dates(date(2000, 1, 1), date(2100, 1, 1)))
def test_no_tyre_is_older_than_its_code_or_younger_than_today(week: int, year: int, on: date) -> None:
    try:
        code = read_date_code(f"{week:02}{year:02}", on)
    except DateCodeError:
        assert week_days(2000 + year, week)[0] > on
        return
    young, old = code.age_years(on)
    assert 0 <= young <= old
    assert all(first <= on for first, _ in code.built)
