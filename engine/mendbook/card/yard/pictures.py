"""Pictures of a review: bars of verdicts, dots round the limits, bars of counts; narrow, so that a phone shows them.

Verdicts are told apart by shade and hatching and named in a key, so that nothing hangs on colour.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from matplotlib.figure import Figure

from mendbook.card.cure_pictures.page import Page, styled
from mendbook.card.lettering import plain
from mendbook.card.yard.tables import NO_VERDICT, by_number
from mendbook.yard.summary import AROUND, Counts, Tally

WIDTH = 104.0  # mm
PITCH, BAR = 6.0, 4.2  # mm from row to row, and of it the bar
LINE = 3.4  # mm from line to line
NAMES, NUMBERS = 30.0, 13.0  # mm for what stands left and right of the bars
LONG_NAMES = 50.0  # mm
KEY = 5.0  # mm from row to row of the key
KEYS_A_ROW = 4
SWATCH = 5.0  # mm
AIR = 1.0  # mm
MOST_BARS = 16
INK = "#15303f"
# From mild to severe: darker and, in print, hatched otherwise from one to the next.
LOOKS: tuple[dict[str, Any], ...] = (
    {"facecolor": "#ffffff"},
    {"facecolor": "#e4eef3", "hatch": "||||"},
    {"facecolor": "#bcd6e3"},
    {"facecolor": "#8ab4c9", "hatch": "////"},
    {"facecolor": "#4f88a4"},
    {"facecolor": "#12242e"},
)
UNJUDGED: dict[str, Any] = {"facecolor": "#ffffff", "hatch": "xxxx"}
BAR_LOOKS: Mapping[str, dict[str, Any]] = {
    "stop": {"facecolor": "#ffffff", "hatch": "xxxx"},
    "hold": {"facecolor": "#bcd6e3"},
    "reject": {"facecolor": "#12242e"},
}
_EDGE: dict[str, Any] = {"edgecolor": INK, "linewidth": 0.5}
_ON_BAR = {"facecolor": "white", "edgecolor": "none", "pad": 0.8}


def draw_verdicts(groups: Mapping[str, Tally], verdicts: Sequence[str]) -> Figure:
    """Draw for each of the largest groups the shares of the verdicts, with their numbers where they have room."""
    shown = by_number(groups)[:MOST_BARS]
    looks = {verdict: LOOKS[place % len(LOOKS)] for place, verdict in enumerate(verdicts)} | {"": UNJUDGED}
    there = [verdict for verdict in looks if any(verdict in tally.verdicts for _, tally in shown)]
    with styled():
        head = _depth_of_key(len(there))
        page = Page(head + len(shown) * PITCH + LINE + AIR, WIDTH)
        _draw_key(page, [(verdict or NO_VERDICT, looks[verdict]) for verdict in there])
        room = WIDTH - NAMES - NUMBERS - 2 * AIR
        for place, (name, tally) in enumerate(shown):
            top = head + place * PITCH
            _name(page, name, top, NAMES)
            x = NAMES + AIR
            for verdict in there:
                width = room * tally.verdicts.get(verdict, 0) / tally.number
                if width:
                    page.box(x, top, width, BAR, **looks[verdict], **_EDGE)
                    _number_on(page, tally.verdicts[verdict], x, top, width)
                x += width
            page.write(WIDTH, top + BAR / 2, f"{tally.number}", ha="right", va="center")
        _scale(
            page, NAMES + AIR, room, head + len(shown) * PITCH - (PITCH - BAR), [(0, "0"), (0.5, "50 %"), (1, "100 %")]
        )
        return page.figure


def draw_counts(counts: Sequence[tuple[str, int, str]]) -> Figure:
    """Draw a bar for each (name, number, look): the look is one of BAR_LOOKS, and a key names those that are there."""
    shown = counts[:MOST_BARS]
    there = (
        [look for look in BAR_LOOKS if any(look == one for *_, one in shown)] if len({k for *_, k in shown}) > 1 else []
    )
    with styled():
        probe = Page(1, WIDTH)
        names = [probe.fold(_fit(probe, name, 2 * LONG_NAMES - 12), LONG_NAMES) for name, *_ in shown]
        heights = [max(PITCH, LINE * (1 + name.count("\n")) + AIR) for name in names]
        top = _depth_of_key(len(there))
        page = Page(top + sum(heights) + AIR, WIDTH)
        _draw_key(page, [(look, BAR_LOOKS[look]) for look in there])
        room = WIDTH - LONG_NAMES - NUMBERS - 2 * AIR
        most = max(number for _, number, _ in shown)
        for name, height, (_, number, look) in zip(names, heights, shown, strict=True):
            middle = top + height / 2
            page.write(LONG_NAMES, middle, name, ha="right", va="center", linespacing=1.1)
            width = room * number / most
            page.box(LONG_NAMES + AIR, middle - BAR / 2, width, BAR, **BAR_LOOKS[look], **_EDGE)
            page.write(LONG_NAMES + 2 * AIR + width, middle, f"{number}", va="center")
            top += height
        return page.figure


def draw_limits(around: Mapping[str, Counts]) -> Figure:
    """Draw for each limit the injuries near it: a dot for each percent of room, its area for their number."""
    shown = sorted(around.items(), key=lambda item: (-sum(item[1].values()), item[0]))[:MOST_BARS]
    most = max(number for _, bins in shown for number in bins.values())
    with styled():
        probe = Page(1, WIDTH)
        names = [probe.fold(_fit(probe, name, 2 * LONG_NAMES - 12), LONG_NAMES) for name, _ in shown]
        heights = [max(PITCH, LINE * (1 + name.count("\n")) + AIR) for name in names]
        head = 2 * LINE
        page = Page(head + sum(heights) + LINE + 2 * AIR, WIDTH)
        left, room = LONG_NAMES + 3 * AIR, WIDTH - LONG_NAMES - 12.0
        middle, step = left + room / 2, room / (2 * AROUND + 1)
        page.write(middle - 2 * AIR, LINE / 2, "outside", ha="right", va="center")
        page.write(middle + 2 * AIR, LINE / 2, "inside", va="center")
        bottom = head + sum(heights)
        page.rule([middle, middle], [0, bottom], color=INK, linewidth=0.8)
        top = head
        for name, height, (_, bins) in zip(names, heights, shown, strict=True):
            level = top + height / 2
            page.write(LONG_NAMES, level, name, ha="right", va="center", linespacing=1.1)
            page.rule([left, left + room], [level, level], color="0.75", linewidth=0.4)
            for percent, number in bins.items():
                radius = max(0.45, 0.45 * PITCH * (number / most) ** 0.5)
                fill = "white" if int(percent) < 0 else INK
                page.dot(
                    middle + int(percent) * step, level, radius, facecolor=fill, edgecolor=INK, linewidth=0.6, zorder=3
                )
            page.write(WIDTH, level, f"{sum(bins.values())}", ha="right", va="center")
            top += height
        marks = [(0.5 + place * step / room, f"{place:+d} %" if place else "limit") for place in (-AROUND, 0, AROUND)]
        _scale(page, left, room, bottom, marks)
        return page.figure


def _name(page: Page, name: str, top: float, room: float) -> None:
    page.write(room, top + BAR / 2, _fit(page, name, room), ha="right", va="center")


def _number_on(page: Page, number: int, x: float, top: float, width: float) -> None:
    """Write a number in the middle of its bar, where it has room."""
    text = page.write(x + width / 2, top + BAR / 2, f"{number}", ha="center", va="center", bbox=_ON_BAR)
    if page.size(text)[0] + 2 * AIR > width:
        text.remove()


def _fit(page: Page, name: str, room: float) -> str:
    """Return `name`, cut until it is no wider than `room` [mm]."""
    said = plain(name)
    text = page.write(0, 0, said)
    while page.size(text)[0] > room:
        said = said[: max(1, int(0.9 * len(said)) - 1)]
        text.set_text(f"{said}…")
    text.remove()
    return text.get_text()


def _depth_of_key(number: int) -> float:
    return -(-number // KEYS_A_ROW) * KEY + (AIR if number else 0)


def _draw_key(page: Page, keys: Sequence[tuple[str, dict[str, Any]]]) -> None:
    for place, (said, look) in enumerate(keys):
        x, y = WIDTH / KEYS_A_ROW * (place % KEYS_A_ROW), KEY * (place // KEYS_A_ROW)
        page.box(x + 0.2, y + 0.4, SWATCH, BAR - 1, **look, **_EDGE)
        page.write(x + SWATCH + AIR, y + 0.4 + (BAR - 1) / 2, said, va="center")


def _scale(page: Page, left: float, room: float, top: float, marks: Sequence[tuple[float, str]]) -> None:
    for share, said in marks:
        at = left + share * room
        page.rule([at, at], [top, top + AIR], color=INK, linewidth=0.6)
        page.write(at, top + AIR + LINE / 2, said, ha="center", va="center")
