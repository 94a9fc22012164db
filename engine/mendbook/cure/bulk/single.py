"""Orders that are worked out one by one, as rows of the same table."""

from itertools import accumulate

import numpy as np

from mendbook.cure import NeverCuredError, PadTooSmallError, compute
from mendbook.cure.arrays import Array, Flags
from mendbook.cure.bulk.table import CureTable, blank_table
from mendbook.cure.reach import corner_of, is_covered
from mendbook.cure.varying import varies
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet, FaceCure
from mendbook.terms.cure_wall import Material

NEAR = 0.06  # mm, to which a sheet rounds a depth
MOST_BENDS = 16  # of a pad's programme; each costs every wall of its columns
CONDUCTS, HOLDS_HEAT = (0.1, 0.6), (0.9e6, 4.8e6)  # W/m/K, J/m3/K; house default: rubber with its cords


def is_by_itself(order: CureOrder) -> bool:
    """Return whether `order` asks for what is worked out for one wall only."""
    pads = (order.outside, order.inside)
    return (
        varies(order)
        or not all(_is_like_rubber(layer.material) for layer in order.layers)
        or not is_covered(order)
        or (order.schedule == "economy" and corner_of(order) is not None)
        or any(len(pad.programme) > MOST_BENDS for pad in pads)
    )


def _is_like_rubber(material: Material) -> bool:
    """Return whether the coarse cut of many walls is held to be fine enough for `material` by the tests."""
    heat = material.density_kg_m3 * material.heat_capacity_J_kgK
    return CONDUCTS[0] <= material.conductivity_W_mK <= CONDUCTS[1] and HOLDS_HEAT[0] <= heat <= HOLDS_HEAT[1]


def work_out(order: CureOrder) -> CureTable:
    """Return the row of `order`."""
    table = blank_table(1, len(order.layers))
    try:
        sheet = compute(order, beside=order.schedule == "economy")
    except (NeverCuredError, PadTooSmallError) as error:
        table.reason[0] = str(error)
        return table
    table.minutes_from_switch_on[0] = sheet.minutes_from_switch_on
    table.timer_starts_at_min[0] = sheet.timer_starts_at_min
    table.minutes_from_timer[0] = sheet.minutes_from_timer
    table.minutes_to_release[0] = sheet.minutes_to_release
    safe = [schedule.minutes_from_switch_on for schedule in sheet.schedules if schedule.name == "safe"]
    table.safe_minutes[0] = safe[0] if safe else np.nan
    table.economy[0] = sheet.schedule == "economy"
    table.target[0] = sheet.target
    table.slowest_layer[0] = _slowest_layer(order, sheet)
    table.slowest_depth_mm[0] = sheet.slowest.depth_mm
    table.slowest_temperature_C[0] = sheet.slowest.temperature_C
    table.slowest_peak_C[0] = sheet.slowest.peak_C
    table.clamp_needed_bar[0] = sheet.porosity.clamp_needed_bar
    table.clamp_ok[0] = sheet.porosity.ok
    _put_layers(table, order, sheet)
    _put_face(sheet.outside, table.outside, table.outside_ok)
    _put_face(sheet.inside, table.inside, table.inside_ok)
    return table


def _slowest_layer(order: CureOrder, sheet: CureSheet) -> int:
    """Return which layer the slowest point lies in: two may have the same name."""
    depths = (0.0, *accumulate(layer.thickness_mm for layer in order.layers))
    spans = zip(order.layers, depths[:-1], depths[1:], strict=True)
    return next(
        place
        for place, (layer, top, bottom) in enumerate(spans)
        if layer.name == sheet.slowest.layer and top - NEAR <= sheet.slowest.depth_mm <= bottom + NEAR
    )


def _put_layers(table: CureTable, order: CureOrder, sheet: CureSheet) -> None:
    with_compound = [place for place, layer in enumerate(order.layers) if layer.compound is not None]
    for place, cure in zip(with_compound, sheet.layers, strict=True):
        table.layer_least[0, place], table.layer_most[0, place] = cure.least, cure.most
        table.layer_limit[0, place], table.layer_ok[0, place] = cure.limit, cure.ok
    slowest = sheet.layers[with_compound.index(int(table.slowest_layer[0]))]
    table.reached[0] = slowest.least if sheet.schedule == "economy" else slowest.least_at_power_off


def _put_face(found: FaceCure | None, multiples: Array, ok: Flags) -> None:
    if found is not None:
        multiples[0], ok[0] = found.multiples, found.ok
