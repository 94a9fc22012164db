"""Figures of a sum as they are printed, and the mark of those that are struck out."""

from mendbook.terms.quantity import format_quantity
from mendbook.terms.units import Dimension
from mendbook.terms.worth import Worth

STRUCK = "[x] "


def money(value: float | None, worth: Worth) -> str:
    """Return an amount to the cent, marked where the sum is struck out; a dash where there is none."""
    return "-" if value is None else f"{STRUCK if worth.struck else ''}{value:,.2f}"


def run(value: float | None, worth: Worth) -> str:
    """Return a life in hours or km, whole ones; a dash where there is none."""
    return "-" if value is None else f"{value:,.0f} {worth.unit}"


def spelt(value: float, kind: str, worth: Worth) -> str:
    """Return a figure of a `kind` with its unit."""
    match kind:
        case "amount":
            return f"{value:,.2f} {worth.currency}"
        case "life":
            return f"{trimmed(value)} {worth.unit}"
        case "time":
            return f"{trimmed(value / 24)} days"
        case _:
            return percent(value)


def trimmed(value: float) -> str:
    """Return a number with two decimals at most."""
    return f"{value:,.2f}".rstrip("0").rstrip(".")


def percent(share: float) -> str:
    """Return a share in per cent, to a tenth."""
    return format_quantity(round(share, 3), Dimension.SHARE)
