"""What each picture shows, in sentences that are computed from the same figures."""

from math import ceil

import numpy as np

from mendbook.card.cure_figures import at_least, at_most, minutes
from mendbook.card.lettering import short
from mendbook.cure.thicknesses import Thicknesses, Trial
from mendbook.cure.traces import Profile, Temperatures
from mendbook.terms.cure_sheet import CureSheet, LayerCure

RISE = 1.0  # K; less is no rise that a picture could show
EARLY = 1.0  # min
EVEN = 0.5  # min
LONGEST = 32  # letters of a name
MOST_NAMED = 4  # layers


def rises(sheet: CureSheet) -> bool:
    """Return whether the slowest point is seen to warm up after power-off."""
    return sheet.slowest.peak_C - sheet.slowest.temperature_C >= RISE


def has_timer(sheet: CureSheet) -> bool:
    """Return whether the pads come near their setpoint, and the timer starts, before power goes off."""
    return sheet.timer_starts_at_min < sheet.minutes_from_switch_on


def tell_temperatures(sheet: CureSheet, traced: Temperatures) -> str:
    """Return what the picture of temperatures shows."""
    off, slow = sheet.minutes_from_switch_on, sheet.slowest
    release = off + sheet.minutes_to_release
    when, peak = traced.peak
    further = (
        f"; it warms up further, to {ceil(peak)} °C at {minutes(when)}."
        if rises(sheet)
        else f" and gets no hotter than {ceil(slow.peak_C)} °C."
    )
    clock = (
        f"The timer starts at {minutes(sheet.timer_starts_at_min)} and power goes off at {minutes(off)}, both counted "
        "from switching on."
        if has_timer(sheet)
        else f"Power goes off {minutes(off)} after switching on, before a timer could start by the pads."
    )
    told = (
        f"{clock} The slowest point, {slow.depth_mm:.0f} mm below the outside face in "
        f"'{short(slow.layer, LONGEST)}', is then at {slow.temperature_C:.0f} °C{further}"
    )
    cool = _faces_cool(sheet, traced)
    if cool is not None and cool < release - EARLY:
        told += (
            f" Both faces are below {sheet.release_C:g} °C from {minutes(cool)} on: they say nothing about the inside."
        )
    return f"{told} The clamp stays on until {minutes(release)}, when no point is above {sheet.release_C:g} °C."


def _faces_cool(sheet: CureSheet, traced: Temperatures) -> float | None:
    """Return from when on both faces are below the release temperature [min after switch-on], if they are."""
    hot = np.flatnonzero(np.maximum(*traced.faces) > sheet.release_C)
    is_over = hot.size and hot[-1] + 1 < len(traced.minutes)
    return float(traced.minutes[hot[-1] + 1]) if is_over else None


def tell_profile(sheet: CureSheet, profile: Profile) -> str:
    """Return what the picture of the cure through the wall shows."""
    share = 1 - profile.slowest_at_power_off / profile.slowest_after_cooling
    told = [
        f"The slowest point, {profile.slowest_mm:.0f} mm below the outside face in "
        f"'{short(sheet.slowest.layer, LONGEST)}', has {at_least(profile.slowest_at_power_off)} at power-off and "
        f"{at_least(profile.slowest_after_cooling)} when cold, if clamp and pads stay on: {100 * share:.0f} % of its "
        "cure comes after power-off."
    ]
    if sheet.schedule != "safe":
        told.append(f"The target of {sheet.target:g} x t90 is reached with what counts of the cool-down.")
    if longer := _longer(sheet):
        told.append(
            f"All this is in the middle of the injury; for its edge it is heated {longer} longer than that asks."
        )
    told.append(_overcure([layer for layer in sheet.layers if not layer.ok]))
    if unknown := dict.fromkeys(layer.layer for layer in profile.layers if layer.cure is None):
        told.append(f"Not judged, for want of a compound: {_listed([short(name, LONGEST) for name in unknown])}.")
    return " ".join(told)


def _longer(sheet: CureSheet) -> str:
    """Return by how much the heating is longer for the edge of the injury, '12 %', or nothing."""
    percent = ceil(round(100 * (sheet.reach.factor - 1), 6)) if sheet.reach else 0
    return f"{percent} %" if percent else ""


def _overcure(layers: list[LayerCure]) -> str:
    if not layers:
        return "No layer is cured past what it bears."
    named = [f"'{short(one.layer, LONGEST)}' with {at_most(one.most)}, which bears {one.limit:g}" for one in layers]
    return f"OVERCURED: {_listed(list(dict.fromkeys(named)))}."


def _listed(names: list[str]) -> str:
    more = len(names) - MOST_NAMED
    return "; ".join([*names[:MOST_NAMED], *([f"and {more} more"] if more > 0 else [])])


def tell_thicknesses(sheet: CureSheet, varied: Thicknesses) -> str:
    """Return what the picture of time against thickness shows, and what the straight-line rule would do."""
    others = ", ".join(
        f"{schedule.name} {minutes(schedule.minutes_from_switch_on)}{_WARNED.get(schedule.name, '')}"
        for schedule in sheet.schedules
        if schedule.name != sheet.schedule
    )
    told = (
        f"This wall of {varied.ordered_mm:g} mm takes {minutes(sheet.minutes_from_switch_on)} of heat by the "
        f"{sheet.schedule} schedule{f' ({others})' if others else ''}."
    )
    if longer := _longer(sheet):
        told += f" Curves and straight line are for wide pads; these cost {longer} more here."
    rule = varied.rule
    if rule is None:
        return f"{told} No straight line is drawn: with these pads none can be right for 40 mm by the timer."
    told += (
        f" The straight line is a rule of {rule.minutes_per_mm:.2f} min a millimetre from the start of the timer, made "
        f"right for {rule.calibrated_mm:g} mm of this make-up by heating alone; where it is hatched it stops too soon."
    )
    return " ".join([told, *map(_trial, rule.trials)])


_WARNED = {"floor": " for information, not for use"}


def _trial(trial: Trial) -> str:
    wall = f"At {trial.thickness_mm:g} mm it switches off at {minutes(trial.given)}"
    spare = trial.given - trial.needed
    if abs(spare) < EVEN:
        return f"{wall}, as heating alone asks for."
    if spare > 0:
        return f"{wall}, {spare:.0f} min later than heating alone asks for."
    end = " It would stay undercured." if trial.after_cooling < 1 else ""
    return (
        f"{wall}, {-spare:.0f} min too soon: the slowest point would have {at_least(trial.at_power_off)} at power-off, "
        f"and when cold no more than {at_most(trial.after_cooling)}.{end}"
    )
