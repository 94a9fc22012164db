"""Advice on a cure as a part of its report: setpoints, shift, stages, pressure, and what if."""

from collections.abc import Iterator
from math import floor

from rich.console import RenderableType

from mendbook.card.clamp_advice import clamp_part
from mendbook.card.cure_figures import at_most, minutes, whole_minutes
from mendbook.card.layout import STRONG, heading, labelled, stack
from mendbook.card.lettering import line, plain, sentence
from mendbook.card.what_if import what_if_part
from mendbook.terms.cure_advice import Advice, Heat, HighestSetpoint, LongestWall, Pair, QuickestPair, Stages


def advice_part(advice: Advice, width: int) -> RenderableType:
    """Return the advice on a cure, laid out for `width` columns."""
    return stack(
        heading(f"Advice ({advice.schedule} schedule; computed, no cure was tried)"),
        labelled(_setpoint_rows(advice), width),
        labelled(_shift_rows(advice), width),
        labelled(_stage_rows(advice.stages), width) if advice.stages else None,
        clamp_part(advice.clamp, width),
        what_if_part(advice, width),
        labelled([("Left out", sentence(reason)) for reason in advice.left_out], width) if advice.left_out else None,
        labelled([("Last word", line(sentence(advice.caution), STRONG))], width),
    )


def _setpoint_rows(advice: Advice) -> Iterator[tuple[str, str]]:
    if advice.highest is not None:
        yield "Setpoint", _highest(advice.highest)
    if advice.quickest_pair is not None:
        yield "Unequal", _quickest(advice.quickest_pair)
    for pair in advice.sparing:
        yield "Sparing", _spared(pair)


def _highest(found: HighestSetpoint) -> str:
    ordered = (
        f"As ordered, up to {found.ordered_C:g} °C, it is {minutes(found.ordered_minutes)}, "
        f"{'within every limit' if found.ordered_is_within else 'PAST a limit'}."
    )
    against = {
        "layer": f"{_listed(found.layers)} would overcure",
        "pressure": "the clamp would no longer hold water",
        "cap": "nothing hotter was looked at (house default: casing, liner and makers set their own limit)",
    }[found.binds]
    if found.setpoint_C is None or found.minutes_from_switch_on is None:
        return f"none from {found.lowest_looked_at_C:g} °C up is within every limit: {against}. {ordered}"
    return (
        f"{found.setpoint_C:g} °C at most, the same on every pad: {minutes(found.minutes_from_switch_on)} of heat. "
        f"Above it {against}. {ordered}"
    )


def _quickest(found: QuickestPair) -> str:
    pair = found.pair
    saved = floor(found.one_setpoint_minutes - pair.minutes_from_switch_on)
    return (
        f"outside {pair.outside_C:g} °C, inside {pair.inside_C:g} °C: {minutes(pair.minutes_from_switch_on)}, "
        f"{saved} min less than the same on both, within every limit.{_faces(pair)}"
    )


def _spared(pair: Pair) -> str:
    limits = "within every limit" if pair.within else "PAST a limit"
    return (
        f"the tread, outside {pair.outside_C:g} °C, inside {pair.inside_C:g} °C: "
        f"{minutes(pair.minutes_from_switch_on)}, {limits}.{_faces(pair)}"
    )


def _faces(pair: Pair) -> str:
    faces = (("Outside", pair.outside_multiples), ("inside", pair.inside_multiples))
    told = [f"{side} cured {at_most(multiples)}" for side, multiples in faces if multiples is not None]
    return f" {sentence(', '.join(told))}" if told else ""


def _shift_rows(advice: Advice) -> Iterator[tuple[str, str]]:
    for longest in advice.longest:
        yield f"In {advice.shift_hours:g} h", _longest(longest, advice.shift_hours)
    grown = advice.longest[0].grown
    yield "", f"Grown in proportion: {_listed(grown)}; thin layers stay. Handling is not counted."


def _longest(found: LongestWall, hours: float) -> str:
    if found.thickness_mm is None or found.heat is None:
        return f"{found.schedule}: no wall, however thin, is heated and cool enough to open within {hours:g} h."
    past = f" At these setpoints {_listed(found.overcured)} would overcure: lower them, and it takes longer."
    return (
        f"{found.schedule}: a wall of {found.thickness_mm} mm at most, {_clock(found.heat)}."
        f"{past if found.overcured else ''}"
    )


def _clock(heat: Heat) -> str:
    heating, release = whole_minutes(heat.minutes_from_switch_on), whole_minutes(heat.minutes_to_release)
    return f"{heating} min of heat and {release} min to release"


def _stage_rows(stages: Stages) -> Iterator[tuple[str, str]]:
    one, two = _sum(stages.one), _sum(stages.first) + _sum(stages.second)
    yield "One stage", f"{minutes(one)} in all: {_clock(stages.one)}.{_overcure(stages.one_outside)}"
    yield (
        "Two stages",
        f"{minutes(two)} in all: fill {_clock(stages.first)}, then gum and reinforcement {_clock(stages.second)}."
        f"{_overcure(stages.two_outside)}",
    )
    if stages.second_from_inside is not None:
        alone = _sum(stages.first) + _sum(stages.second_from_inside)
        yield "", f"Second stage from the inside alone: {minutes(alone)} in all; it spares the tread face."
    verdict = "One stage is quicker." if one <= two else "Two stages are quicker here."
    yield "", f"{verdict} Two are for looking at the fill, and buffing it, before the reinforcement covers it."


def _sum(heat: Heat) -> float:
    return heat.minutes_from_switch_on + heat.minutes_to_release


def _overcure(multiples: float | None) -> str:
    return "" if multiples is None else f" Outside face cured {at_most(multiples)}."


def _listed(names: tuple[str, ...]) -> str:
    return ", ".join(plain(name) for name in names)
