"""The cure curve: pads and slowest point from switching on to release, with the moments that a fitter acts at."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil, dist

import numpy as np

from mendbook.card.cure_figures import whole_minutes
from mendbook.card.drawing.labels import Label, column, spread
from mendbook.card.drawing.shapes import POINT, Box, Drawing, Line, Point, Shape, Words, rectangle
from mendbook.cure.arrays import Array
from mendbook.cure.traces import Temperatures, trace_temperatures
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

TITLE = "Cure curve"
WIDTH, HEIGHT = 62.0, 42.0  # mm
LEFT, RIGHT, TOP, BOTTOM = 7.5, 21.5, 9.5, 7.0  # mm kept free round the axes
EVERY_C = 20  # °C from line to line
HOURS = (15, 30, 60, 120, 240, 480, 960)  # min from tick to tick
MOST_TICKS = 6
ALIKE = 3.0  # °C; two pads nowhere further apart are one line
FINE = 0.2  # mm of paper from point to point


@dataclass(frozen=True)
class _Axes:
    frame: Box
    minutes: float
    coldest: float
    hottest: float

    def at(self, minute: float, degrees: float) -> Point:
        across = minute / self.minutes
        down = (self.hottest - degrees) / (self.hottest - self.coldest)
        box = self.frame
        return box.left + across * (box.right - box.left), box.top + down * (box.bottom - box.top)


def draw_cure_curve(order: CureOrder, sheet: CureSheet) -> Drawing:
    """Return the temperatures of the cure of `order`, whose answer is `sheet`, up to release."""
    traced = trace_temperatures(order, sheet)
    axes = _axes(traced)
    off, release = sheet.minutes_from_switch_on, sheet.minutes_from_switch_on + sheet.minutes_to_release
    start, end = axes.at(off, axes.hottest), axes.at(min(release, axes.minutes), axes.coldest)
    shapes: list[Shape] = [
        rectangle("after power-off", Box(start[0], start[1], end[0], end[1]), "after power-off"),
        *_grid(axes),
        *_moments(axes, sheet, release),
    ]
    labels: list[Label] = []
    for name, curve, look in _curves(traced):
        points = _thinned([axes.at(*one) for one in zip(traced.minutes.tolist(), curve.tolist(), strict=True)])
        shapes.append(Line(name, points, look))
        labels.append(Label(f"name {name}", points[-1], name))
    level = axes.at(axes.minutes, sheet.release_C)
    shapes.append(Line("release", (axes.at(0, sheet.release_C), level), "level"))
    labels.append(Label("release", level, f"let go {sheet.release_C:g} °C"))
    shapes += column(labels, axes.frame.right + 2.2, TOP - 1, HEIGHT - 1, anchor="start")
    return Drawing(TITLE, WIDTH, HEIGHT, tuple(shapes))


def _axes(traced: Temperatures) -> _Axes:
    curves = [curve for curve in (*traced.pads, traced.slowest) if curve is not None]
    coldest = EVERY_C * int(min(float(curve.min()) for curve in curves) // EVERY_C)
    hottest = EVERY_C * ceil(max(float(curve.max()) for curve in curves) / EVERY_C)
    frame = Box(LEFT, TOP, WIDTH - RIGHT, HEIGHT - BOTTOM)
    return _Axes(frame, float(traced.minutes[-1]), coldest, hottest)


def _curves(traced: Temperatures) -> Iterator[tuple[str, Array, str]]:
    outside, inside = traced.pads
    if outside is not None and inside is not None and float(np.abs(outside - inside).max()) <= ALIKE:
        yield "both pads", outside, "outside pad line"
    else:
        if outside is not None:
            yield "outside pad", outside, "outside pad line"
        if inside is not None:
            yield "inside pad", inside, "inside pad line"
    yield "slowest point", traced.slowest, "slowest"


def _grid(axes: _Axes) -> Iterator[Shape]:
    for degrees in range(int(axes.coldest), int(axes.hottest) + 1, EVERY_C):
        left, right = axes.at(0, degrees), axes.at(axes.minutes, degrees)
        yield Line(f"level {degrees}", (left, right), "grid")
        yield Words(f"degrees {degrees}", (left[0] - 0.8, left[1] + 0.9), f"{degrees}", 7.0, "end")
    step = next((one for one in HOURS if axes.minutes / one <= MOST_TICKS), HOURS[-1])
    for minute in range(0, int(axes.minutes) + 1, step):
        x, y = axes.at(minute, axes.coldest)
        yield Line(f"tick {minute}", ((x, y), (x, y + 0.8)), "tick")
        if minute + step <= axes.minutes or x < axes.frame.right - 4:
            yield Words(f"minute {minute}", (x, y + 3.5), f"{minute}", 7.0, "middle")
    bottom = axes.frame.bottom
    yield Line("axis", ((axes.frame.left, bottom), (axes.frame.right, bottom)), "edge")
    yield Words("minutes", (axes.frame.left, bottom + 6.4), "minutes after switching on; °C upwards")


def _moments(axes: _Axes, sheet: CureSheet, release: float) -> Iterator[Shape]:
    """Yield a line at each moment, with its minute and what is done then above the frame."""
    told = [
        (sheet.timer_starts_at_min, "timer"),
        (sheet.minutes_from_switch_on, "power off"),
        (release, "let go"),
    ]
    xs = [axes.at(min(minute, axes.minutes), axes.coldest)[0] for minute, _ in told]
    texts = [(f"{whole_minutes(minute)}", said) for minute, said in told]
    widths = [max(Words("", (0, 0), word).box.right for word in pair) + 1.2 for pair in texts]
    places: Sequence[float] = spread(xs, widths, 0.0, WIDTH)
    for x, place, (minute, said) in zip(xs, places, texts, strict=True):
        yield Line(f"at {said}", ((x, axes.frame.bottom), (x, TOP), (place, TOP - 1.6)), "moment")
        yield Words(f"minute of {said}", (place, TOP - 2.3), minute, 7.0, "middle", "bold")
        yield Words(said, (place, TOP - 2.3 - 7.0 * POINT * 1.2), said, 7.0, "middle")


def _thinned(points: Sequence[Point]) -> tuple[Point, ...]:
    """Return a line without the points that nobody could tell from their neighbours."""
    kept = [points[0]]
    for point in points[1:]:
        if dist(point, kept[-1]) >= FINE:
            kept.append(point)
    return (*kept, points[-1])
