"""How the figures of a cure are written: rounded to the side on which an error does no harm."""

from math import ceil, floor


def minutes(time: float) -> str:
    """Return '45 min', or '125 min (2 h 05 min)' from an hour and a half on. A part of a minute counts whole."""
    whole = whole_minutes(time)
    if whole < 90:
        return f"{whole} min"
    return f"{whole} min ({whole // 60} h {whole % 60:02d} min)"


def whole_minutes(time: float) -> int:
    """Return minutes in whole ones, rounded up."""
    return ceil(round(time, 6))


def at_least(multiple: float) -> str:
    """Return a cure [multiples of t90] that is reached, rounded down."""
    return f"{floor(round(multiple * 100, 6)) / 100:g} x t90"


def at_most(multiple: float) -> str:
    """Return a cure [multiples of t90] that is not passed, rounded up."""
    return f"{ceil(round(multiple * 100, 6)) / 100:g} x t90"
