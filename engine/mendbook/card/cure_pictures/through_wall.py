"""Cure through the thickness: at power-off and when cold, against target and limits."""

from collections.abc import Iterator, Sequence
from itertools import groupby
from typing import Any

from matplotlib.axes import Axes
from matplotlib.ticker import FuncFormatter, LogLocator, NullFormatter

from mendbook.card.cure_pictures.captions import tell_profile
from mendbook.card.cure_pictures.labels import Label, label_above, label_right
from mendbook.card.cure_pictures.panel import GUTTER, Place, open_panel
from mendbook.card.cure_pictures.strokes import GUIDE, INSIDE, OUTSIDE
from mendbook.card.lettering import short
from mendbook.cure.traces import LayerProfile, Profile, Reached
from mendbook.terms.cure_sheet import CureSheet

TITLE = "Cure through the wall"
AT_POWER_OFF: dict[str, Any] = {"color": "black", "linewidth": 1.8, "marker": "o", "markersize": 3.2}
WHEN_COLD: dict[str, Any] = {
    "color": OUTSIDE, "linewidth": 1.4, "linestyle": (0, (5, 1.5)), "marker": "s", "markersize": 3.2,
    "markerfacecolor": "white",
}  # fmt: skip
LIMIT: dict[str, Any] = {"color": INSIDE, "linewidth": 2.6, "solid_capstyle": "butt"}
SLOWEST: dict[str, Any] = {
    "color": "black", "linewidth": 0.8, "marker": "o", "markersize": 7, "markerfacecolor": "none", "markevery": [1, 2],
    "clip_on": False,
}  # fmt: skip
MOST_NAMES = 6  # layers; more are numbered, and named below
MOST_LIMITS = 3  # levels of limits that are labelled one by one
MOST_NAMED = 3  # layers beside one of them
LONGEST = 18  # letters of a name
FACTOR = 2.6  # times the axis reaches below the least cure, for the words there
DEEPEST = 0.02  # x t90; less cure is not drawn
ASIDE = 0.2  # of the wall: nearer to a face the words begin or end at the point


def draw_profile(place: Place, sheet: CureSheet, profile: Profile) -> None:
    """Draw the picture in its place."""
    names, key = _names(profile.layers)
    axes = open_panel(place, TITLE, f"{tell_profile(sheet, profile)}{key}")
    axes.set_xlim(profile.layers[0].depth_mm[0], profile.layers[-1].depth_mm[-1])
    axes.set_xlabel("depth below the outside face [mm]")
    _scale(axes, sheet.target, [layer.cure for layer in profile.layers if layer.cure])
    axes.axhline(sheet.target, label="target", **GUIDE)
    for index, layer in enumerate(profile.layers):
        if index % 2:
            axes.axvspan(layer.depth_mm[0], layer.depth_mm[-1], color="0.92", linewidth=0, zorder=0)
        _draw_layer(axes, layer)
    _mark_slowest(axes, profile)
    middles = [float(layer.depth_mm[[0, -1]].mean()) for layer in profile.layers]
    label_above(place.page, axes, [Label(at, name) for at, name in zip(middles, names, strict=True)])
    label_right(place.page, axes, list(_gutter(sheet, profile)), GUTTER)


def _scale(axes: Axes, target: float, cures: Sequence[Reached]) -> None:
    least = min(target, *(float(cure.at_power_off.min()) for cure in cures))
    most = max(max(cure.limit, float(cure.after_cooling.max())) for cure in cures)
    axes.set_yscale("log")
    axes.set_ylim(max(DEEPEST, least) / FACTOR, 1.3 * most)
    axes.set_ylabel("cure [multiples of t90]")
    axes.yaxis.set_major_locator(LogLocator(subs=(1, 2, 5)))
    axes.yaxis.set_major_formatter(FuncFormatter(lambda value, _: f"{value:g}"))
    axes.yaxis.set_minor_formatter(NullFormatter())


def _draw_layer(axes: Axes, layer: LayerProfile) -> None:
    ends = (layer.depth_mm[0], layer.depth_mm[-1])
    axes.axvline(ends[0], color="0.6", linewidth=0.5)
    if layer.cure is None:
        return
    every = max(1, len(layer.depth_mm) // 4)
    name = layer.layer
    axes.plot(layer.depth_mm, layer.cure.at_power_off, label=f"at power-off: {name}", markevery=every, **AT_POWER_OFF)
    axes.plot(layer.depth_mm, layer.cure.after_cooling, label=f"when cold: {name}", markevery=every, **WHEN_COLD)
    axes.plot(ends, (layer.cure.limit, layer.cure.limit), label=f"limit: {name}", **LIMIT)


def _mark_slowest(axes: Axes, profile: Profile) -> None:
    at, bottom = profile.slowest_mm, axes.get_ylim()[0]
    cures = (bottom, profile.slowest_at_power_off, profile.slowest_after_cooling)
    axes.plot((at, at, at), cures, label="slowest point", **SLOWEST)
    share = at / axes.get_xlim()[1]
    axes.annotate(
        f"slowest point, {at:.0f} mm deep",
        (at, bottom),
        (0, 4),
        textcoords="offset points",
        ha="left" if share < ASIDE else "right" if share > 1 - ASIDE else "center",
        va="bottom",
        bbox={"facecolor": "white", "edgecolor": "none", "pad": 1.0},
    )


def _names(layers: Sequence[LayerProfile]) -> tuple[list[str], str]:
    """Return what to write over each layer, and what to add to the caption."""
    names = [short(layer.layer, LONGEST) for layer in layers]
    if len(layers) <= MOST_NAMES:
        said = ["" if layer.must_cure else ",\ncured before" for layer in layers]
        return [f"{name}{more}" for name, more in zip(names, said, strict=True)], ""
    listed = ", ".join(f"{number} {name}" for number, name in enumerate(names, 1))
    return [f"{number}" for number in range(1, len(layers) + 1)], f" Layers: {listed}."


def _gutter(sheet: CureSheet, profile: Profile) -> Iterator[Label]:
    yield Label(sheet.target, f"target {sheet.target:g} x t90")
    last = [layer.cure for layer in profile.layers if layer.cure][-1]
    yield Label(float(last.at_power_off[-1]), "at power-off", {"color": AT_POWER_OFF["color"]}, AT_POWER_OFF)
    yield Label(float(last.after_cooling[-1]), "when cold", {"color": WHEN_COLD["color"]}, WHEN_COLD)
    yield from _limits(profile)


def _limits(profile: Profile) -> Iterator[Label]:
    """Yield a label for each level of the limits, or where there are many one for all."""
    look = {"color": LIMIT["color"]}
    limits = sorted((layer.cure.limit, short(layer.layer, LONGEST)) for layer in profile.layers if layer.cure)
    levels = {limit: list(dict.fromkeys(name for _, name in of)) for limit, of in groupby(limits, lambda one: one[0])}
    if len(levels) > MOST_LIMITS:
        yield Label(limits[-1][0], "most a layer bears", look, LIMIT)
        return
    for limit, names in levels.items():
        few = [*names[:MOST_NAMED], *(["…"] if len(names) > MOST_NAMED else [])]
        yield Label(limit, f"bears at most {limit:g}: {', '.join(few)}", look, LIMIT)
