"""How sure a cure is: the scatter of its inputs carried to minutes and to the slowest point's cure.

Minutes and cure are taken as straight lines in the logarithm, one central difference of one standard deviation
for each input (first-order propagation, as JCGM 100 sets out; from memory). Drawing the inputs at random is the
check: `drawn` does it, and the tests hold one against the other.
"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from math import erfc, exp, log, sqrt

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.course import Wall, follow
from mendbook.cure.schedules import NeverCuredError, power_off_time
from mendbook.terms.cure_band import Band, Contributor, Drawn, Spread
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_sheet import ScheduleName
from mendbook.terms.cure_wall import Compound, Layer

P95 = 1.6448536269514722  # standard deviations below which 95 % of a normal distribution lie
MATTERS = 0.005  # of either variance; what has less is not named
NEVER = 72 * 60.0  # min; a draw that never cures counts as this long


@dataclass(frozen=True)
class Input:
    """One input that scatters: its name, one deviation in words, and the order with it off by so many of them."""

    name: str
    one_deviation: str
    off: Callable[[CureOrder, float], CureOrder]


def spread(order: CureOrder, followed: ScheduleName, draws: int = 0, seed: int = 1, longer: float = 1.0) -> Band:
    """Return the band of the schedule `followed`.

    longer : factor on the minutes for the edge of the injury, where that is the slowest; it scatters with them
    draws : how many random orders to work out beside it; 0 for none, some hundreds for two figures
    Raises NeverCuredError when the order itself never cures.
    """
    inputs = tuple(_inputs(order))
    minutes = power_off_time(Wall(order), followed) / 60
    cure = _cure(order, minutes)
    slopes = np.array([_slope(order, put, followed, minutes) for put in inputs]).reshape(-1, 2)
    sigma = np.sqrt((slopes**2).sum(axis=0))
    shares = slopes**2 / np.where(sigma > 0, sigma**2, 1.0)
    named = [
        Contributor(
            name=put.name, one_deviation=put.one_deviation, of_minutes=round(float(of), 3), of_cure=round(float(to), 3)
        )
        for put, (of, to) in zip(inputs, shares, strict=True)
        if max(of, to) >= MATTERS
    ]
    return Band(
        minutes=_spread(longer * minutes, float(sigma[0])),
        cure=_spread(cure, float(sigma[1])),
        short=_below(log(cure / order.target), float(sigma[1])),
        contributors=tuple(sorted(named, key=lambda one: (-one.of_minutes, -one.of_cure))),
        drawn=_draw(order, inputs, followed, minutes, draws, seed, longer) if draws else None,
    )


def _slope(order: CureOrder, put: Input, followed: ScheduleName, minutes: float) -> tuple[float, float]:
    """Return the change of ln minutes and of ln cure for one deviation of an input."""
    more, less = put.off(order, 1.0), put.off(order, -1.0)
    times = [log(_minutes(one, followed)) for one in (more, less)]
    cures = [log(_cure(one, minutes)) for one in (more, less)]
    return (times[0] - times[1]) / 2, (cures[0] - cures[1]) / 2


def _draw(
    order: CureOrder,
    inputs: tuple[Input, ...],
    followed: ScheduleName,
    minutes: float,
    draws: int,
    seed: int,
    longer: float,
) -> Drawn:
    found = []
    for row in np.random.default_rng(seed).standard_normal((draws, len(inputs))):
        one = order
        for put, off in zip(inputs, row.tolist(), strict=True):
            one = put.off(one, off)
        found.append((_minutes(one, followed), _cure(one, minutes)))
    times, cures = np.array(found).T
    return Drawn(
        draws=draws,
        minutes=_percentiles(longer * times),
        cure=_percentiles(cures),
        short=round(float(np.mean(cures < order.target)), 4),
    )


def _minutes(order: CureOrder, followed: ScheduleName) -> float:
    try:
        return power_off_time(Wall(order), followed) / 60
    except NeverCuredError:
        return NEVER


def _cure(order: CureOrder, minutes: float) -> float:
    """Return the cure of the slowest point after cooling [multiples of t90], power switched off at `minutes`."""
    wall = Wall(order)
    cured = follow(wall, minutes * 60).after_cooling
    return float(cured[wall.slowest(cured)])


def _spread(middle: float, sigma: float) -> Spread:
    return Spread(low=round(middle * exp(-P95 * sigma), 3), high=round(middle * exp(P95 * sigma), 3))


def _percentiles(values: Array) -> Spread:
    low, high = np.percentile(values, [5, 95])
    return Spread(low=round(float(low), 3), high=round(float(high), 3))


def _below(distance: float, sigma: float) -> float:
    """Return how likely a normal figure with mean `distance` above zero and `sigma` around it is below zero."""
    if sigma == 0:
        return float(distance < 0)
    return round(erfc(distance / sigma / sqrt(2)) / 2, 4)


# The inputs. A factor scatters in its logarithm, so that none is ever below zero.


def _inputs(order: CureOrder) -> Iterator[Input]:
    s = order.scatter
    thickness = sum(layer.thickness_mm for layer in order.layers)
    thick = max(s.thickness_mm, s.thickness_share * thickness)
    yield Input("thickness of the wall", f"{thick:g} mm", _of_layers(_thicker(thick / thickness)))
    yield Input("conductivity", _percent(s.conductivity_share), _of_layers(_conducting(s.conductivity_share)))
    yield Input("heat that rubber takes up", _percent(s.heat_capacity_share), _of_layers(_dense(s.heat_capacity_share)))
    yield Input("t90", _percent(s.t90_share), _of_compounds(_slow(s.t90_share)))
    yield Input("activation energy", f"{s.activation_kJ_mol:g} kJ/mol", _of_compounds(_steep(s.activation_kJ_mol)))
    for side in ("outside", "inside"):
        if getattr(order, side).present:
            yield Input(f"reading of the {side} pad", f"{s.pad_C:g} °C", _of_pad(side, _hotter(s.pad_C)))
    yield Input("contact of pad and rubber", f"{s.contact_factor:g} times", _of_pads(_resisting(s.contact_factor)))
    yield Input("heat held by the pads", _percent(s.pad_heat_share), _of_pads(_heavy(s.pad_heat_share)))
    yield Input("heat lost to the shop", _percent(s.loss_share), _of_pads(_losing(s.loss_share)))


def _percent(share: float) -> str:
    return f"{100 * share:g} %"


def _of_layers(change: Callable[[Layer, float], Layer]) -> Callable[[CureOrder, float], CureOrder]:
    def off(order: CureOrder, by: float) -> CureOrder:
        return order.model_copy(update={"layers": tuple(change(layer, by) for layer in order.layers)})

    return off


def _of_compounds(change: Callable[[Compound, float], Compound]) -> Callable[[CureOrder, float], CureOrder]:
    def changed(layer: Layer, by: float) -> Layer:
        return layer.model_copy(update={"compound": layer.compound and change(layer.compound, by)})

    return _of_layers(changed)


def _of_pad(side: str, change: Callable[[Pad, float], Pad]) -> Callable[[CureOrder, float], CureOrder]:
    def off(order: CureOrder, by: float) -> CureOrder:
        return order.model_copy(update={side: change(getattr(order, side), by)})

    return off


def _of_pads(change: Callable[[Pad, float], Pad]) -> Callable[[CureOrder, float], CureOrder]:
    def off(order: CureOrder, by: float) -> CureOrder:
        return _of_pad("inside", change)(_of_pad("outside", change)(order, by), by)

    return off


def _thicker(share: float) -> Callable[[Layer, float], Layer]:
    return lambda layer, by: layer.model_copy(update={"thickness_mm": layer.thickness_mm * exp(share * by)})


def _of_material(field: str, share: float) -> Callable[[Layer, float], Layer]:
    def changed(layer: Layer, by: float) -> Layer:
        figure = getattr(layer.material, field) * exp(share * by)
        return layer.model_copy(update={"material": layer.material.model_copy(update={field: figure})})

    return changed


def _conducting(share: float) -> Callable[[Layer, float], Layer]:
    return _of_material("conductivity_W_mK", share)


def _dense(share: float) -> Callable[[Layer, float], Layer]:
    return _of_material("density_kg_m3", share)


def _slow(share: float) -> Callable[[Compound, float], Compound]:
    return lambda compound, by: compound.model_copy(update={"t90_min": compound.t90_min * exp(share * by)})


def _steep(energy: float) -> Callable[[Compound, float], Compound]:
    def changed(compound: Compound, by: float) -> Compound:
        return compound.model_copy(update={"activation_kJ_mol": compound.activation_kJ_mol + energy * by})

    return changed


def _hotter(by_C: float) -> Callable[[Pad, float], Pad]:
    def changed(pad: Pad, by: float) -> Pad:
        bends = tuple(p.model_copy(update={"temperature_C": p.temperature_C + by_C * by}) for p in pad.programme)
        return pad.model_copy(update={"setpoint_C": pad.setpoint_C + by_C * by, "programme": bends})

    return changed


def _resisting(factor: float) -> Callable[[Pad, float], Pad]:
    def changed(pad: Pad, by: float) -> Pad:
        return pad.model_copy(update={"contact_resistance_m2K_W": pad.contact_resistance_m2K_W * factor**by})

    return changed


def _heavy(share: float) -> Callable[[Pad, float], Pad]:
    return lambda pad, by: pad.model_copy(update={"heat_capacity_kJ_m2K": pad.heat_capacity_kJ_m2K * exp(share * by)})


def _losing(share: float) -> Callable[[Pad, float], Pad]:
    return lambda pad, by: pad.model_copy(update={"loss_W_m2K": pad.loss_W_m2K * exp(share * by)})
