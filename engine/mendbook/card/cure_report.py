"""The cure: how long, where it is slowest, what the faces bear, when the clamp may go."""

import re
from collections.abc import Iterable, Iterator, Sequence
from math import ceil, floor

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.cure_advice import advice_part
from mendbook.card.cure_band import band_words
from mendbook.card.cure_edge import edge_words, reach_words
from mendbook.card.cure_figures import at_least, at_most, minutes
from mendbook.card.layout import STRONG, hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.card.printing import WIDEST, column_width
from mendbook.card.wording import STANDING
from mendbook.plan.method import TWO_STAGES
from mendbook.terms.cure_sheet import CureSheet, FaceCure, LayerCure, Porosity, Schedule
from mendbook.terms.plan import Repair

Stage = tuple[str, CureSheet | None]

_SENTENCE_END = re.compile(r"(?<=[.!?])\s+(?=[A-Z])")


def cure_report(sheet: CureSheet, width: int = WIDEST, premises: tuple[str, ...] = ()) -> RenderableType:
    """Return the report of a cure sheet alone, laid out for `width` columns (40 to 100).

    premises : why the order is as it is
    """
    columns = column_width(width)
    title = [line(short(sheet.case), STRONG), Text()] if sheet.case else []
    time = [(line("CURE", STRONG), line(heat_words(sheet), STRONG))]
    return stack(
        *title,
        labelled(time, columns, indent=0),
        Text(),
        labelled(_rows(sheet), columns, indent=0),
        advice_part(sheet.advice, columns) if sheet.advice else None,
        _told("What the order rests on", premises),
        _told("What the figure counts", sheet.notes),
        _told("Cautions", sheet.cautions or STANDING),
    )


def cure_part(sheet: CureSheet | None, repairs: Sequence[Repair], width: int) -> RenderableType | None:
    """Return the cure that takes longest as a part of a docket's report, None when nothing is cured hot.

    It is told with the other stage of its repair, if there is one. Cautions are left to the report.
    """
    if sheet is None:
        return None
    cured = [stages_of(repair) for repair in repairs if repair.cure or repair.second_cure]
    stages = next((stages for stages in cured if any(stage == sheet for _, stage in stages)), (("", sheet),))
    title = "Cure of the longest repair" if len(cured) > 1 else "Cure"
    parts: list[RenderableType] = []
    told: set[str] = set()
    for name, stage in stages:
        if stage is not None:
            rows = [("Time", line(heat_words(stage), STRONG)), *_rows(stage)]
            rows += [("Counted", sentence(note)) for note in stage.notes if note not in told]
            parts += [heading(f"{title}, {name}" if name else title), labelled(rows, width)]
            told.update(stage.notes)
    return stack(*parts)


def stages_of(repair: Repair) -> tuple[Stage, ...]:
    """Return the cures of a repair with what each is called; a stage for which no cure was found has None."""
    if repair.method is not None and repair.method.stages == TWO_STAGES:
        return ("stage one", repair.cure), ("stage two", repair.second_cure)
    return (("", repair.cure),) if repair.cure else ()


def stage_words(stage: Stage) -> str:
    """Return one of two cures in a sentence: minutes, setpoint, timer and release."""
    name, sheet = stage
    if sheet is None:
        return sentence(f"{name}: no cure was found. See 'Missing'.")
    return sentence(
        f"{name}: {minutes(sheet.minutes_from_switch_on)} of heat from switching on, setpoint "
        f"{sheet.porosity.setpoint_C:g} °C; by timer {minutes(sheet.minutes_from_timer)}, started "
        f"{minutes(sheet.timer_starts_at_min)} after switching on; release {minutes(sheet.minutes_to_release)} "
        f"after power-off, below {sheet.release_C:.0f} °C."
    )


def further_cautions(sheet: CureSheet | None, told: Iterable[str]) -> Iterator[str]:
    """Yield the cautions of a sheet without the sentences that are `told` already."""
    known = {part for caution in told for part in _SENTENCE_END.split(sentence(caution))}
    for caution in sheet.cautions if sheet else ():
        if left := " ".join(part for part in _SENTENCE_END.split(sentence(caution)) if part not in known):
            yield left


def heat_words(sheet: CureSheet) -> str:
    """Return the time under heat as a sentence."""
    return f"{minutes(sheet.minutes_from_switch_on)} of heat from switching on."


def _rows(sheet: CureSheet) -> Iterator[tuple[str, RenderableType]]:
    for warning in sheet.warnings:
        yield "Warning", line(sentence(warning), STRONG)
    yield (
        "By timer",
        f"{minutes(sheet.minutes_from_timer)}, started {minutes(sheet.timer_starts_at_min)} after switching on, "
        "when the cooler pad is 20 °C short of its setpoint.",
    )
    yield (
        "Release",
        f"{minutes(sheet.minutes_to_release)} after power-off, hottest point below {sheet.release_C:.0f} °C. "
        "The clamp stays on until then.",
    )
    yield from (("Otherwise", _other(schedule)) for schedule in sheet.schedules if schedule.name != sheet.schedule)
    if sheet.band is not None:
        yield "How sure", band_words(sheet.band, sheet)
    slow = sheet.slowest
    yield (
        "Slowest",
        f"{plain(slow.layer)}, {slow.depth_mm:.0f} mm below the outside: {slow.temperature_C:.0f} °C at power-off, "
        f"at most {ceil(slow.peak_C)} °C; cured {at_least(sheet.target)} {_REACHED[sheet.schedule]}.",
    )
    yield "Outside", _face(sheet.outside)
    yield "Inside", _face(sheet.inside)
    for layer in sheet.layers:
        yield "Layers", _layer(layer)
    yield "Pressure", _porosity(sheet.porosity)
    if sheet.reach is not None:
        yield "Reach", reach_words(sheet.reach)
    for said in edge_words(sheet.edge) if sheet.edge else ():
        yield "Edge", sentence(said)


_REACHED = {
    "safe": "by power-off",
    "economy": "with what counts of the cool-down",
    "floor": "with the whole cool-down",
}
_COUNTS = {
    "safe": "counts heating alone",
    "economy": "counts what cures above 110 °C after power-off, with a margin of a quarter (house default); clamp and "
    "pads stay on",
    "floor": "counts the whole cool-down without a margin: for information, not for use",
}


def _other(schedule: Schedule) -> str:
    return (
        f"{schedule.name} schedule: {minutes(schedule.minutes_from_switch_on)} of heat, by timer "
        f"{minutes(schedule.minutes_from_timer)}, release {minutes(schedule.minutes_to_release)} after power-off; "
        f"it {_COUNTS[schedule.name]}."
    )


def _face(face: FaceCure | None) -> str:
    if face is None:
        return "not judged: the order gives no compound for this face."
    verdict = "within its limit of" if face.ok else "OVERCURED, past its limit of"
    return f"{plain(face.layer)} cured {at_most(face.multiples)}, {verdict} {at_least(face.limit)}."


def _layer(layer: LayerCure) -> str:
    verdict = "within" if layer.ok else "OVERCURED, past"
    return (
        f"{plain(layer.layer)}: at least {at_least(layer.least_at_power_off)} at power-off, "
        f"{at_least(layer.least)} to {at_most(layer.most)} after cooling; {verdict} {at_least(layer.limit)}."
    )


def _porosity(porosity: Porosity) -> str:
    needed = ceil(round(porosity.clamp_needed_bar * 100, 6)) / 100
    figures = (
        f"{porosity.clamp_given_bar:.2f} bar given, {needed:.2f} bar needed at {ceil(porosity.setpoint_C)} °C "
        "to keep water from boiling."
    )
    if porosity.ok:
        return figures
    return f"TOO LOW: {figures} This pressure holds up to {floor(porosity.highest_safe_setpoint_C)} °C."


def _told(title: str, said: tuple[str, ...]) -> RenderableType | None:
    if not said:
        return None
    return stack(heading(title), hanging([("-", line(sentence(text))) for text in said]))
