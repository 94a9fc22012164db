"""The clamp against water, in print: where it matters, what a hold saves, and a table."""

from collections.abc import Iterator
from math import ceil

from rich.console import RenderableType

from mendbook.card.cure_figures import minutes, whole_minutes
from mendbook.card.layout import heading, labelled, stack, table
from mendbook.card.lettering import plain
from mendbook.terms.cure_advice import ClampAdvice, HalfCured, Hold


def clamp_part(clamp: ClampAdvice, width: int) -> RenderableType:
    """Return the advice on the clamp, laid out for `width` columns."""
    return stack(
        heading("Clamp against water"),
        labelled(_rows(clamp), width),
        heading(f"Clamp needed at {clamp.altitude_m:g} m [bar gauge], without and with trapped air"),
        _table(clamp, width),
    )


def _rows(clamp: ClampAdvice) -> Iterator[tuple[str, str]]:
    worst = clamp.hottest_half_cured
    enough = "holds that" if clamp.given_bar >= worst.needed_bar else "does NOT hold that"
    yield (
        "Where",
        f"bubbles grow only until rubber is half cured (from memory). Most is needed {_place(worst)}; the "
        f"{clamp.given_bar:.2f} bar ordered {enough}, at moisture {clamp.water_activity:g}.",
    )
    if clamp.half_cured:
        yield "By depth", "; ".join(_place(point) for point in clamp.half_cured) + "."
    yield from (("Hold", _hold(hold)) for hold in clamp.holds)


def _place(point: HalfCured) -> str:
    depth = "at the face" if point.depth_mm == 0 else f"{point.depth_mm:.0f} mm down"
    return f"{depth} in {plain(point.layer)}: {ceil(point.temperature_C)} °C, {point.needed_bar:.2f} bar"


def _hold(hold: Hold) -> str:
    return (
        f"pads kept at {hold.hold_C:g} °C until {whole_minutes(hold.until_min)} min after switching on, when the skin "
        f"is half cured: {hold.needed_bar:.2f} bar needed, {minutes(hold.minutes_from_switch_on)} of heat in all."
    )


def _table(clamp: ClampAdvice, width: int) -> RenderableType:
    heads = ["Setpoint", *(f"moisture {moisture:g}" for moisture in clamp.moistures)]
    rows = (
        [f"{row.setpoint_C:g} °C"]
        + [f"{bare:.2f} / {airy:.2f}" for bare, airy in zip(row.needed_bar, row.with_air_bar, strict=True)]
        for row in clamp.rows
    )
    return table(heads, rows, width)
