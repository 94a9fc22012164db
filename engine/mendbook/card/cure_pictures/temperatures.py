"""Temperature against time: pads, faces and the slowest point, from switch-on to release."""

from collections.abc import Iterator
from math import ceil
from typing import Any

import numpy as np
from matplotlib.axes import Axes
from matplotlib.ticker import MaxNLocator

from mendbook.card.cure_figures import minutes
from mendbook.card.cure_pictures.captions import has_timer, rises, tell_temperatures
from mendbook.card.cure_pictures.labels import Label, label_above, label_right
from mendbook.card.cure_pictures.panel import GUTTER, Place, open_panel
from mendbook.card.cure_pictures.strokes import BOTH, GUIDE, INSIDE, MOMENT, OUTSIDE, SLOWEST, face_stroke, pad_stroke
from mendbook.cure.arrays import Array
from mendbook.cure.traces import Temperatures
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

TITLE = "Temperature from switching on to release"
ALIKE = 3.0  # K; two curves nowhere further apart are drawn as one
HEADROOM = 5.0  # K
MARKS = 9  # markers on a curve

Curve = tuple[str, Array, dict[str, Any]]


def draw_temperatures(place: Place, order: CureOrder, sheet: CureSheet, traced: Temperatures) -> None:
    """Draw the picture in its place."""
    axes = open_panel(place, TITLE, tell_temperatures(sheet, traced))
    drawn = [*_pads(traced), *_faces(order, traced), ("slowest point", traced.slowest, SLOWEST)]
    axes.set_xlim(0, traced.minutes[-1])
    levels = [*_setpoints(order), (sheet.release_C, f"release: all below {sheet.release_C:g} °C")]
    heights = [
        *(level for level, _ in levels),
        *(float(end) for _, curve, _ in drawn for end in (curve.min(), curve.max())),
    ]
    axes.set_ylim(min(heights) - HEADROOM, max(heights) + HEADROOM)
    axes.set_xlabel("minutes after switching on")
    axes.set_ylabel("temperature [°C]")
    axes.xaxis.set_major_locator(MaxNLocator(9, steps=[1, 1.5, 3, 6, 10]))

    off = sheet.minutes_from_switch_on
    axes.axvspan(off, traced.minutes[-1], color="0.94", linewidth=0)
    for index, (name, curve, look) in enumerate(drawn):
        axes.plot(traced.minutes, curve, label=name, markevery=_even(traced.minutes, index / len(drawn)), **look)
    for level, _ in levels:
        axes.axhline(level, **GUIDE)
    _mark_moments(place, axes, sheet, traced)
    labels = [Label(float(curve[-1]), name, {"color": look["color"]}, look) for name, curve, look in drawn]
    label_right(place.page, axes, [*labels, *(Label(level, words) for level, words in levels)], GUTTER)


def _mark_moments(place: Place, axes: Axes, sheet: CureSheet, traced: Temperatures) -> None:
    off = sheet.minutes_from_switch_on
    moments = [
        (off, f"switch off\n{minutes(off)}"),
        (off + sheet.minutes_to_release, f"release\n{minutes(off + sheet.minutes_to_release)}"),
    ]
    if has_timer(sheet):
        moments.append((sheet.timer_starts_at_min, f"timer starts\n{minutes(sheet.timer_starts_at_min)}"))
    for moment, words in moments:
        axes.axvline(moment, label=words.partition("\n")[0], **MOMENT)
    if rises(sheet):
        when, peak = traced.peak
        axes.plot([when], [peak], "o", color="black", markersize=5.5, markerfacecolor="white", label="peak")
        axes.plot([when, when], [peak, axes.get_ylim()[1]], label="to peak", **GUIDE)
        moments.append((when, f"slowest point hottest\n{ceil(peak)} °C at {minutes(when)}"))
    label_above(place.page, axes, [Label(moment, words) for moment, words in moments])


def _pads(traced: Temperatures) -> Iterator[Curve]:
    outside, inside = traced.pads
    if outside is not None and inside is not None and _alike(outside, inside):
        yield "both pads", outside, pad_stroke(BOTH)
        return
    if outside is not None:
        yield "outside pad", outside, pad_stroke(OUTSIDE)
    if inside is not None:
        yield "inside pad", inside, pad_stroke(INSIDE)


def _faces(order: CureOrder, traced: Temperatures) -> Iterator[Curve]:
    outside, inside = traced.faces
    if _alike(outside, inside):
        yield "both faces", outside, face_stroke(BOTH)
        return
    yield f"outside face{'' if order.outside.present else ', no pad'}", outside, face_stroke(OUTSIDE)
    yield f"inside face{'' if order.inside.present else ', no pad'}", inside, face_stroke(INSIDE)


def _setpoints(order: CureOrder) -> list[tuple[float, str]]:
    heated = [
        (name, pad.setpoint_C) for name, pad in (("outside", order.outside), ("inside", order.inside)) if pad.present
    ]
    if len({level for _, level in heated}) == 1:
        return [(heated[0][1], f"setpoint {heated[0][1]:g} °C")]
    return [(level, f"setpoint {name} {level:g} °C") for name, level in heated]


def _alike(one: Array, other: Array) -> bool:
    return float(np.abs(one - other).max()) <= ALIKE


def _even(times: Array, shift: float) -> list[int]:
    """Return the points nearest to even steps of time, shifted by a part of a step."""
    wished = times[-1] * (np.arange(MARKS) + 0.2 + 0.8 * shift) / MARKS
    return [int(np.abs(times - wish).argmin()) for wish in wished]
