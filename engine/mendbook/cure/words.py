"""What a cure sheet says in words: what this order runs into, what goes with every cure, what the model is."""

from collections.abc import Sequence
from math import ceil, floor

from mendbook.cure.faces import BELOW_SETPOINT
from mendbook.cure.reach import overlap_of
from mendbook.cure.vapour import air_pressure, boiling_temperature, clamp_needed
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import LayerCure, Porosity, Reach, Schedule

USUAL_ACTIVATION = (80.0, 110.0)  # kJ/mol, from memory
CHECKED_TO = 150.0  # mm of wall
NOTED = 1.0  # K above the pads


def warnings(order: CureOrder, layers: Sequence[LayerCure], porosity: Porosity, reach: Reach | None) -> tuple[str, ...]:
    """Return what the order runs into."""
    return (*_overcure(order, layers), *_pressure(order, porosity), *_short(reach), *_premises(order))


def warn_of_clock(order: CureOrder, followed: Schedule, timer_start: float) -> tuple[str, ...]:
    """Return what is odd about the schedule followed and its clock; `timer_start` in [min after switch-on]."""
    said = []
    if order.schedule == "economy" and followed.name == "safe" and order.cooling == "still air":
        said.append("The economy schedule was ordered and saves nothing here: heating alone is over as soon.")
    if timer_start > followed.minutes_from_switch_on:
        said.append(
            f"The timer would start {timer_start:g} min after switching on, when power is off already: keep time from "
            "switching on."
        )
    return tuple(said)


def _short(reach: Reach | None) -> list[str]:
    short = [pad for pad in reach.pads if not pad.ok] if reach else []
    if reach is None or not short:
        return []
    told = [f"{floor(min(pad.length_mm, pad.width_mm))} mm past the injury {pad.face}" for pad in short]
    return [
        f"Heat reaches {' and '.join(told)}, and {reach.needed_mm:.0f} mm are needed. The minutes are "
        f"{100 * (reach.factor - 1):.1f} % longer for it, so that the edge of the injury cures, too; the faces get "
        "more cure for it. Larger pads are better."
    ]


def _overcure(order: CureOrder, layers: Sequence[LayerCure]) -> list[str]:
    said = [
        f"'{layer.layer}' gets {layer.most:.1f} x t90 at its hottest and bears {layer.limit:g}: it may revert. "
        "Lower the setpoint of the nearer pad; 10 °C less takes away about a third."
        for layer in layers
        if not layer.ok
    ]
    for side, layer in (("outside", order.layers[0]), ("inside", order.layers[-1])):
        if layer.compound is None:
            said.append(f"The overcure of the {side} face is not known: the order has no compound for '{layer.name}'.")
    return said


def _pressure(order: CureOrder, porosity: Porosity) -> list[str]:
    said = []
    if not porosity.ok:
        said.append(
            f"The clamp of {porosity.clamp_given_bar:.2f} bar does not hold water in the rubber at "
            f"{porosity.setpoint_C:g} °C; that takes {porosity.clamp_needed_bar:.2f} bar. Bubbles may form. Set "
            f"{floor(porosity.highest_safe_setpoint_C)} °C or less, or dry the rubber. "
            "Raise the pressure only as far as bags and straps are rated."
        )
    boils = boiling_temperature(air_pressure(order.altitude_m))
    if order.release_C > boils + 0.05:
        said.append(
            f"Water boils at {boils:.1f} °C at {order.altitude_m:g} m: do not let the clamp go above that, "
            f"though the order says {order.release_C:g} °C."
        )
    return said


def warn_of_reaction(order: CureOrder, hottest_C: float) -> tuple[str, ...]:
    """Return what follows when rubber gets hotter than its pads, up to `hottest_C` [°C], by the heat of its cure."""
    met = max(pad.setpoint_C for pad in (order.outside, order.inside) if pad.present)
    if hottest_C < met + NOTED:
        return ()
    needed = ceil(100 * clamp_needed(hottest_C, order.water_activity, order.altitude_m)) / 100
    held = "which it does" if order.clamp_bar >= needed else f"but it gives {order.clamp_bar:.2f}"
    return (
        f"The heat of reaction takes the rubber to {hottest_C:.0f} °C, above its pads. To keep water from boiling "
        f"there the clamp must give {needed:.2f} bar, {held}. Lower the setpoints, or cure in two stages.",
    )


def _premises(order: CureOrder) -> list[str]:
    said = []
    for side, pad in (("outside", order.outside), ("inside", order.inside)):
        if not pad.present:
            bare = "as losing heat to the shop" if pad.loss_W_m2K else "as losing none: it must be covered well"
            said.append(f"One face is heated. The {side} face is bare, and counted {bare}.")
    low, high = USUAL_ACTIVATION
    for name, energy in {c.name: c.activation_kJ_mol for layer in order.layers if (c := layer.compound)}.items():
        if not low <= energy <= high:
            said.append(
                f"The activation energy of '{name}', {energy:g} kJ/mol, is outside the usual {low:g} to {high:g}. "
                "Check it against cure curves at two temperatures."
            )
    if order.target < 1:
        said.append(f"The target of {order.target:g} x t90 leaves the slowest point undercured.")
    if order.cooling != "still air":
        said.append(
            f"Cooled by {'a fan' if order.cooling == 'fan' else 'water'}: nothing that cures after power-off is "
            f"counted, and the heating alone must reach a quarter more than {order.target:g} x t90 (house default)."
        )
    if (thickness := _thickness(order)) > CHECKED_TO:
        said.append(f"The wall is {thickness:g} mm thick; the model was checked up to {CHECKED_TO:g} mm.")
    return said


def cautions(order: CureOrder) -> tuple[str, ...]:
    """Return what goes with every cure."""
    return (
        "Only trained, authorised persons cure a tyre. Local codes, site rules and makers' instructions win "
        "over this sheet.",
        "Pressure first, then heat. A cure is never left alone.",
        f"Keep clamp, pads and pressure on after power-off until the hottest point is below {order.release_C:g} °C. "
        "The middle goes on warming up after power-off: a cool face says nothing about it.",
        *(
            (
                "Let it cool by itself. Fans or water take away the cure that the cool-down adds: when they are used, "
                "say so in the order ('cooling: fan').",
            )
            if order.cooling == "still air"
            else ()
        ),
        "Warm pads to about 50 °C before bending them (common practice, no source).",
        "When heating was interrupted the minutes no longer hold. Work out the cure again from the log.",
        "Check hardness and bond at the end. A sheet is not a release certificate.",
    )


COUNTED = {
    "safe": "Heating-only schedule: every point that must cure reaches its target by power-off. The cool-down is "
    "margin for the time, and is counted for overcure and release.",
    "economy": "Economy schedule: what cures after power-off counts while a point is above 110 °C, in a cool-down "
    "twice as quick as ordered, and a quarter more than the target is asked (all three are house defaults). Keep "
    "clamp and pads on, and no draught on them; otherwise it falls short.",
    "floor": "All of the cool-down counts as ordered, without a margin.",
}


def notes(order: CureOrder, followed: Schedule, reach: Reach | None) -> tuple[str, ...]:
    """Return what the model counts, what it leaves out, and on what its properties rest."""
    bases = dict.fromkeys(
        f"'{named.name}': {named.basis}"
        for layer in order.layers
        for named in (layer.material, layer.compound)
        if named is not None
    )
    return (
        COUNTED[followed.name],
        "The timer starts when both pads read their setpoint less 20 °C (common practice, no source). Its minutes "
        f"hold for the heating rates ordered; they are too short for faster or preheated pads{_by_how_much(order)}.",
        _sideways(order, reach),
        *_counted(order),
        "Cure is counted in multiples of t90 after Arrhenius, also below the temperatures at which t90 is measured.",
        *bases,
    )


def _counted(order: CureOrder) -> list[str]:
    """Return which effects of second order are counted, and which are not."""
    counted, left_out = [], []
    reaction = "heat of reaction (it shortens the cure, and adds to overcure)"
    if any(layer.reaction_rise for layer in order.layers):
        counted.append(f"{reaction}, given off as by a reaction of the first order with a tenth left at t90")
    else:
        left_out.append(reaction)
    if any(layer.material.conductivity_per_K or layer.material.heat_capacity_per_K for layer in order.layers):
        counted.append("the change of conductivity and heat capacity with temperature, in a straight line about 80 °C")
    left_out += [
        "tread lugs and grooves", "bead and rim as heat sinks", "the swing of the thermostat",
    ]  # fmt: skip
    return [f"Counted: {'; '.join(counted)}."] * bool(counted) + [f"Not counted: {', '.join(left_out)}."]


def _sideways(order: CureOrder, reach: Reach | None) -> str:
    if reach is None:
        return (
            "One-dimensional: straight through the wall. It holds where the heated areas reach "
            f"{overlap_of(order):.0f} mm past the injury on every side; more along steel cords, and more where the rim "
            "of a pad stays cool."
        )
    return (
        f"Heat lost at the edges of the pads is counted: the minutes are {reach.factor:.3f} times those under wide "
        "pads, with which the edge of the injury, too, reaches the target. Injury and heated areas count as "
        "rectangles, one in the middle of the other, with still air beside them. Figures of cure are those well "
        "inside the pads, where it is most."
    )


def preheating_slip(order: CureOrder) -> float:
    """Return by how much the minutes from the timer may be too short for preheated pads [min], at the most.

    A ramp delays the slowest point by at least half its length; the timer leaves out the ramp but for its last 20 K.
    0 where a pad is preheated already, or follows a programme.
    """
    heated = [pad for pad in (order.outside, order.inside) if pad.present]
    ramps, left_out = [], []
    for pad in heated:
        start = order.ambient_C if pad.start_C is None else pad.start_C
        if pad.programme or pad.heating_rate_C_min is None:
            return 0.0
        ramps.append((pad.setpoint_C - start) / pad.heating_rate_C_min)
        left_out.append((pad.setpoint_C - BELOW_SETPOINT - start) / pad.heating_rate_C_min)
    return max(0.0, max(left_out) - min(ramps) / 2)


def _by_how_much(order: CureOrder) -> str:
    slip = preheating_slip(order)
    return f", by up to {ceil(slip)} min" if slip else ""


def _thickness(order: CureOrder) -> float:
    return sum(layer.thickness_mm for layer in order.layers)
