"""A cure that runs, as people read it: a report, the few lines of a live display, one line for a pipe."""

from collections.abc import Iterator
from datetime import datetime, time, timedelta
from math import ceil, floor

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.layout import STRONG, hanging, heading, labelled, stack, table
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.card.printing import WIDEST, column_width
from mendbook.terms.cure_sheet import FaceCure
from mendbook.terms.cure_state import CureState, Estimate, Fault, PowerCut, Remaining

DEPTHS = 9  # told of the wall
LATEST = 2  # faults shown in the display
LETTERS = 160  # of one of them there
NOON = datetime(2000, 1, 1, 12)


def live_report(state: CureState, width: int = WIDEST) -> RenderableType:
    """Return the whole state, laid out for `width` columns (40 to 100)."""
    columns = column_width(width)
    title = [line(short(state.case), STRONG), Text()] if state.case else []
    return stack(
        *title,
        labelled([(line(state.phase.upper(), STRONG), line(headline(state), STRONG))], columns, indent=0),
        Text(),
        labelled(_rows(state), columns, indent=0),
        _told("Found in the log", [_fault(fault) for fault in state.faults]),
        heading("Through the wall now"),
        table(("depth", "layer", "temperature", "cured"), _wall(state), columns),
        _told("Cautions", state.cautions),
        _told("What the figures count", state.notes),
    )


def live_display(state: CureState, width: int, told: str) -> RenderableType:
    """Return what is needed beside the tyre, short enough to stand whole on a screen.

    told : when the log last grew
    """
    columns = column_width(width)
    faults = state.faults[-LATEST:]
    earlier = len(state.faults) - len(faults)
    rows = [row for row in _rows(state) if row[0] in ("Switch off", "Release", "Slowest", "Hottest", "Pressure")]
    rows += [("Found", f"{earlier} more before.")] if earlier else []
    rows += [("Found", _cut(_fault(fault))) for fault in faults]
    return stack(
        labelled([(line(state.phase.upper(), STRONG), line(headline(state), STRONG))], columns, indent=0),
        labelled(rows, columns, indent=0),
        line(told, "dim"),
    )


def live_line(state: CureState) -> str:
    """Return the state in one line."""
    slow = state.slowest
    parts = [
        f"{_at(state, state.minutes_logged)} {state.phase}: {headline(state)}",
        f"Slowest {plain(slow.layer)} {slow.depth_mm:.0f} mm {_at_least(slow.cure)}, hottest {state.hottest_C:.0f} °C.",
    ]
    lasting = [fault for fault in state.faults if fault.to_min is None]
    if state.faults:
        parts.append(f"Found: {len(state.faults)}" + (f", last {lasting[-1].kind}." if lasting else "."))
    return " ".join(parts)


def headline(state: CureState) -> str:
    """Return the one thing to know now."""
    if state.phase == "ready":
        return f"the clamp may be let go: hottest point {state.hottest_C:.0f} °C, cured."
    if state.phase == "cooling":
        return (
            f"keep the clamp on, {_minutes(state.minutes_to_release)} more; the slowest point comes to "
            f"{_at_least(state.cured_in_the_end)}."
        )
    if state.phase == "power cut":
        if state.slowest.cure >= state.target:
            return f"cured; keep the clamp on, {_minutes(state.minutes_to_release)} more."
        return f"no heat. Once it is back: {_remaining(state.at_setpoint)}."
    if state.as_now is None:
        return f"so it never cures. With the pads at their setpoints: {_remaining(state.at_setpoint)}."
    if state.as_now.minutes == 0:
        return "switch off: the target is reached. The clamp stays on."
    return f"{_remaining(state.as_now)} to go."


def _rows(state: CureState) -> Iterator[tuple[str, RenderableType]]:
    yield "Log", f"{_minutes(state.minutes_logged)}, {state.lines} lines{_since(state)}."
    if state.switch_off_at_min is not None:
        at_setpoint = ""
        if state.at_setpoint and state.as_now and abs(state.at_setpoint.minutes - state.as_now.minutes) > 1:
            at_setpoint = f" With the pads at their setpoints: {_remaining(state.at_setpoint)}."
        yield (
            "Switch off",
            f"{_at(state, state.switch_off_at_min)}, if the pads go on as they do ({state.schedule} schedule, target "
            f"{state.target:g} x t90).{at_setpoint}",
        )
    yield "Release", _release(state)
    slow = state.slowest
    yield (
        "Slowest",
        f"{plain(slow.layer)}, {slow.depth_mm:.0f} mm below the outside: {slow.temperature_C:.0f} °C, cured "
        f"{_at_least(slow.cure)} by now, {_at_least(state.cured_in_the_end)} after cooling"
        f"{'' if state.phase in ('cooling', 'ready') else ', if heated as told'}.",
    )
    yield "Hottest", f"{ceil(state.hottest_C)} °C, by the model and every sensor that is trusted."
    yield "Outside", _face(state.outside, state.outside_in_the_end)
    yield "Inside", _face(state.inside, state.inside_in_the_end)
    yield "Pressure", "not in the log." if state.pressure_bar is None else f"{state.pressure_bar:.2f} bar."
    yield "Told inside", _estimate(state.estimate)
    for cut in state.power_cuts:
        yield "Power cut", _power_cut(state, cut)


def _release(state: CureState) -> str:
    limit = f"below {state.release_C:g} °C"
    if state.may_release:
        return f"the hottest point is {limit}, power is off and the rubber cured: the clamp may be let go."
    if state.minutes_to_release is None:
        return "cannot be told."
    if state.minutes_to_release == 0:
        return f"NO: the hottest point is {limit}, but the rubber is not cured."
    if state.phase == "cooling":
        return f"NOT YET: in {_minutes(state.minutes_to_release)}, hottest point {limit}."
    if state.phase == "power cut":
        cured = state.slowest.cure >= state.target
        return f"{'NOT YET: cured, but hot' if cured else 'NO: not cured'}; it would be {limit} in " + (
            f"{_minutes(state.minutes_to_release)} without heat."
        )
    return (
        f"{_minutes(state.minutes_to_release)} after power-off, hottest point {limit}. The clamp stays on until then."
    )


def _remaining(remaining: Remaining | None) -> str:
    if remaining is None:
        return "it cannot be told"
    if remaining.low is None or remaining.high is None:
        return f"{_minutes(remaining.minutes)} of heat"
    return f"{_minutes(remaining.minutes)} of heat (5 to 95 %: {floor(remaining.low)} to {ceil(remaining.high)} min)"


def _estimate(estimate: Estimate | None) -> str:
    if estimate is None:
        return "nothing: no sensor inside bears the order out."
    count = len(estimate.sensors)
    return (
        f"diffusivity {estimate.diffusivity_ratio:.2f} ± {estimate.diffusivity_sd:.2f} times that of the order, "
        f"contact resistance {estimate.contact_ratio:.1f} times ({estimate.contact_low:.1f} to "
        f"{estimate.contact_high:.1f}), by {count} sensor{'' if count == 1 else 's'}; misfit {estimate.misfit_K:.1f} K."
    )


def _power_cut(state: CureState, cut: PowerCut) -> str:
    until = "lasts" if cut.to_min is None else f"to {_at(state, cut.to_min)}"
    cost = "" if cut.costs_min is None else f" It costs {_minutes(max(0.0, cut.costs_min))} of heat more."
    return f"from {_at(state, cut.from_min)}, {until}; pads down to {cut.coldest_C:.0f} °C.{cost}"


def _face(now: FaceCure | None, end: FaceCure | None) -> str:
    if now is None:
        return "not judged: the order gives no compound for this face."
    said = f"{plain(now.layer)} cured {_at_most(now.multiples)} by now"
    if end is None:
        return f"{said}; its limit is {_at_least(now.limit)}."
    verdict = "within its limit of" if end.ok else "OVERCURED, past its limit of"
    return f"{said}, {_at_most(end.multiples)} in the end: {verdict} {_at_least(end.limit)}."


def _fault(fault: Fault) -> str:
    place = f", {plain(fault.where)}" if fault.where else ""
    end = " on" if fault.to_min is None else f" to {fault.to_min:.0f}" if fault.to_min - fault.from_min >= 1 else ""
    return f"{fault.kind}{place}, min {fault.from_min:.0f}{end}: {fault.said} {fault.done}"


def _cut(said: str) -> str:
    return said if len(said) <= LETTERS else f"{said[: LETTERS - 1]}…"


def _wall(state: CureState) -> Iterator[tuple[str, str, str, str]]:
    last = len(state.depths) - 1
    for index in sorted({round(last * share / (DEPTHS - 1)) for share in range(DEPTHS)}):
        depth = state.depths[index]
        before = "" if depth.must_cure else " more (cured before)"
        yield (
            f"{depth.depth_mm:.0f} mm", plain(depth.layer), f"{depth.temperature_C:.0f} °C",
            f"{_at_least(depth.cure)}{before}",
        )  # fmt: skip


def _told(title: str, said: list[str] | tuple[str, ...]) -> RenderableType | None:
    if not said:
        return None
    return stack(heading(title), hanging([("-", line(sentence(text))) for text in said]))


def _since(state: CureState) -> str:
    return f", from {plain(state.began)} to {_at(state, state.minutes_logged)}" if state.began else ""


def _at(state: CureState, minutes: float) -> str:
    """Return a moment by the clock of the log, or in minutes after its first line."""
    after = timedelta(minutes=ceil(round(minutes, 3)))
    if not state.began:
        return f"{ceil(round(minutes, 3))} min"
    if len(state.began) <= len("00:00:00"):
        begun = datetime.combine(NOON.date(), time.fromisoformat(state.began))
    else:
        begun = datetime.fromisoformat(state.began)
    return f"{begun + after:%H:%M}"


def _minutes(minutes: float | None) -> str:
    """Return '45 min', or '125 min (2 h 05 min)' from an hour and a half on. A part of a minute counts whole."""
    if minutes is None:
        return "an unknown time"
    whole = ceil(round(minutes, 6))
    return f"{whole} min" if whole < 90 else f"{whole} min ({whole // 60} h {whole % 60:02d} min)"


# Figures are rounded to the side on which an error does no harm.


def _at_least(multiple: float) -> str:
    return f"{floor(round(multiple * 100, 6)) / 100:g} x t90"


def _at_most(multiple: float) -> str:
    return f"{ceil(round(multiple * 100, 6)) / 100:g} x t90"
