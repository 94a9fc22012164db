"""What comes of things that go otherwise than ordered, in print."""

from collections.abc import Iterator
from math import ceil

from rich.console import RenderableType

from mendbook.card.cure_figures import at_least, whole_minutes
from mendbook.card.layout import STRONG, heading, labelled, stack, table
from mendbook.card.lettering import line, sentence
from mendbook.terms.cure_advice import Advice, Kept, TimerSlip, WhatIf

_LEGEND = (
    "heat needed from switching on and from the timer [min], and how much more than ordered. Then what the slowest "
    "point has where the minutes ordered are kept by the clock, or by the timer: x t90 at power-off, and after "
    "cooling. SHORT: less than the schedule asks."
)


def what_if_part(advice: Advice, width: int) -> RenderableType:
    """Return the what-ifs and the warnings of the timer, laid out for `width` columns."""
    what_ifs, slips = advice.what_ifs, advice.timer_slips
    heads = ["What if", "Minutes", "Timer", "More", "Kept by clock", "Kept by timer"]
    return stack(
        heading("What if"),
        labelled([("Columns", sentence(_LEGEND)), ("Edge", _edge(advice.longer))], width),
        table(heads, [_row(one) for one in what_ifs], width),
        labelled(_remarks(what_ifs), width),
        labelled([("Timer", line(_slip(slip), STRONG)) for slip in slips], width) if slips else None,
    )


def _edge(longer: float) -> str:
    if longer == 1:
        return ""
    percent = ceil(100 * (longer - 1))
    return f"minutes and cure are those at the edge of the injury, {percent} % slower than the middle as ordered."


def _row(one: WhatIf) -> list[str]:
    return [
        one.name,
        _minutes(one.minutes_from_switch_on, "never"),
        _minutes(one.minutes_from_timer, "-"),
        "-" if one.more_minutes is None else f"{ceil(one.more_minutes):+d}",
        _kept(one.by_clock),
        "never starts" if one.by_timer is None else _kept(one.by_timer),
    ]


def _minutes(count: float | None, otherwise: str) -> str:
    return otherwise if count is None else f"{whole_minutes(count)}"


def _kept(kept: Kept) -> str:
    figures = ", ".join(at_least(cure).removesuffix(" x t90") for cure in (kept.at_power_off, kept.after_cooling))
    return f"{figures} SHORT" if kept.is_short else figures


def _remarks(what_ifs: tuple[WhatIf, ...]) -> Iterator[tuple[str, RenderableType]]:
    yield from (("Danger", line(sentence(f"{one.name}: {one.remark}"), STRONG)) for one in what_ifs if one.remark)


def _slip(slip: TimerSlip) -> str:
    return sentence(
        f"minutes learned on {slip.learned_on} ({whole_minutes(slip.minutes)}) are too few on {slip.used_with}, which "
        f"need {whole_minutes(slip.needed)}: the slowest point gets {at_least(slip.kept.at_power_off)} by power-off"
    )
