"""How sure a cure is, in words."""

from math import ceil, floor

from mendbook.terms.cure_band import Band
from mendbook.terms.cure_sheet import CureSheet

NAMED = 4  # contributors; the rest is small
SMALL = 0.02  # of the variance


def band_words(band: Band, sheet: CureSheet) -> str:
    """Return the band of a sheet: minutes, cure, how often it falls short, and what it comes from."""
    low, high = floor(band.minutes.low), ceil(band.minutes.high)
    said = (
        f"{low} to {high} min is what nine in ten such cures would ask for, were their figures known. With the "
        f"{ceil(round(sheet.minutes_from_switch_on, 6))} min above nine in ten end between {_down(band.cure.low)} and "
        f"{_up(band.cure.high)} x t90 at the slowest point; {_often(band.short)} short."
    )
    if named := [one for one in band.contributors if one.of_minutes >= SMALL][:NAMED]:
        parts = "; ".join(f"{one.name} ({one.one_deviation}): {100 * one.of_minutes:.0f} %" for one in named)
        said += (
            f" The spread of minutes comes from {parts}. How far they are off is from memory, or a house default; what "
            "was measured goes into the order, under 'scatter:'."
        )
    if band.drawn is not None:
        drawn = band.drawn
        said += (
            f" By {drawn.draws} draws: {floor(drawn.minutes.low)} to {ceil(drawn.minutes.high)} min, "
            f"{_down(drawn.cure.low)} to {_up(drawn.cure.high)} x t90, {_often(drawn.short)} short."
        )
    return said


def _often(share: float) -> str:
    if share < 0.001:
        return "fewer than 1 in 1000 fall"
    if share < 0.01:
        return f"{ceil(share * 1000)} in 1000 fall"
    return f"{ceil(share * 100)} in 100 fall"


def _down(multiple: float) -> str:
    return f"{floor(multiple * 10) / 10:g}"


def _up(multiple: float) -> str:
    return f"{ceil(multiple * 10) / 10:g}"
