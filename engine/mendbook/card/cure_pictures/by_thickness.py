"""Time against thickness by every schedule, with this wall and the straight-line rule."""

from typing import Any

import numpy as np
from matplotlib.ticker import MaxNLocator

from mendbook.card.cure_figures import minutes
from mendbook.card.cure_pictures.captions import tell_thicknesses
from mendbook.card.cure_pictures.labels import Label, label_above, label_right
from mendbook.card.cure_pictures.panel import GUTTER, Place, open_panel
from mendbook.card.cure_pictures.strokes import MOMENT
from mendbook.cure.thicknesses import Thicknesses
from mendbook.terms.cure_sheet import CureSheet, ScheduleName

TITLE = "Heating time against thickness"
_LOOKS: dict[ScheduleName, dict[str, Any]] = {
    "safe": {"color": "black", "linewidth": 2.0, "marker": "o", "markersize": 3.4},
    "economy": {"color": "#00558c", "linewidth": 1.4, "linestyle": (0, (6, 1.5)), "marker": "s", "markersize": 3.4,
                "markerfacecolor": "white"},
    "floor": {"color": "0.45", "linewidth": 1.2, "linestyle": (0, (1, 1.2))},
}  # fmt: skip
RULE: dict[str, Any] = {"color": "#a84a00", "linewidth": 1.6, "linestyle": (0, (8, 2, 1.5, 2))}
_SAID: dict[ScheduleName, str] = {
    "safe": "safe: heating alone",
    "economy": "economy: part of the cool-down, with a margin",
    "floor": "floor: all of the cool-down, no margin; not for use",
}


def draw_thicknesses(place: Place, sheet: CureSheet, varied: Thicknesses) -> None:
    """Draw the picture in its place."""
    axes = open_panel(place, TITLE, tell_thicknesses(sheet, varied))
    sizes, rule = varied.thickness_mm, varied.rule
    drawn = [(_SAID[name], curve, _LOOKS[name]) for name, curve in varied.minutes.items()]
    if rule is not None:
        drawn.append((f"straight line: {rule.minutes_per_mm:.2f} min a mm from the timer", rule.minutes(sizes), RULE))
    axes.set_xlim(0, sizes[-1])
    axes.set_ylim(0, 1.06 * max(float(np.nanmax(curve)) for _, curve, _ in drawn))
    axes.set_xlabel("thickness of the wall [mm]")
    axes.set_ylabel("minutes of heat")
    axes.yaxis.set_major_locator(MaxNLocator(6, steps=[1, 1.5, 3, 6, 10]))
    for words, curve, look in drawn:
        axes.plot(sizes, curve, label=words.partition(":")[0], **look)
    exact = varied.minutes.get("safe")
    if rule is not None and exact is not None:
        axes.fill_between(
            sizes, rule.minutes(sizes), exact, where=rule.minutes(sizes) < exact, facecolor="none",
            edgecolor="#d9a37a", hatch="////", linewidth=0,
        )  # fmt: skip

    off = sheet.minutes_from_switch_on
    here = [(varied.ordered_mm, f"this wall, {varied.ordered_mm:g} mm\n{sheet.schedule}: {minutes(off)}")]
    if rule is not None:
        here.append((rule.calibrated_mm, f"straight line right\nat {rule.calibrated_mm:g} mm"))
    for at, words in here:
        axes.axvline(at, label=words.partition(",")[0], **MOMENT)
    axes.plot([varied.ordered_mm], [off], "o", color="black", markersize=8, markerfacecolor="none", label="ordered")
    label_above(place.page, axes, [Label(at, words) for at, words in here])
    ends = [np.flatnonzero(np.isfinite(curve))[-1] for _, curve, _ in drawn]
    labels = [
        Label(float(curve[end]), words, {"color": look["color"]}, look)
        for (words, curve, look), end in zip(drawn, ends, strict=True)
    ]
    label_right(place.page, axes, labels, GUTTER)
