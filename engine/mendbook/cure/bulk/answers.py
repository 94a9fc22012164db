"""Walls of one shape worked out together: from their columns to their answers."""

import numpy as np

from mendbook.cure.arrays import Array, Indices
from mendbook.cure.bulk.columns import OrderColumns
from mendbook.cure.bulk.cooling import cool
from mendbook.cure.bulk.edge import near_edge
from mendbook.cure.bulk.heating import heat
from mendbook.cure.bulk.inputs import timer_starts
from mendbook.cure.bulk.search import find_at_edge, find_power_off, least, let_cool
from mendbook.cure.bulk.table import CureTable, blank_table
from mendbook.cure.bulk.walls import ELEMENTS, Walls, build_walls
from mendbook.cure.schedules import never_cured
from mendbook.cure.vapour import clamp_needed

TOO_SMALL = "the heated areas are too small for the injury: its edge takes too long"


def answer(orders: OrderColumns, elements: int = ELEMENTS) -> CureTable:
    """Return the answers to `orders`: all of as many layers as there are places for, of as many bends, edges or not."""
    walls = build_walls(orders, elements)
    heating = heat(walls, orders)
    has_edge = bool(orders.has_edge.any())
    found = (
        find_at_edge(walls, heating, near_edge(heating, orders), orders)
        if has_edge
        else find_power_off(walls, heating, orders)
    )
    table = blank_table(len(orders), orders.thickness.shape[1])
    rows = np.arange(len(orders))
    cures = np.flatnonzero(~np.isnan(found.followed))

    timer = np.floor(timer_starts(orders) / 6) / 10
    table.timer_starts_at_min[:] = timer
    table.safe_minutes[:] = _up(found.safe)
    table.economy[:] = found.coasting
    table.target[:] = found.target
    needed = np.array(
        [clamp_needed(*given) for given in zip(orders.setpoint, orders.water_activity, orders.altitude, strict=True)]
    )
    table.clamp_needed_bar[:] = np.ceil(needed * 100 - 1e-6) / 100
    table.clamp_ok[:] = orders.clamp >= needed

    at_the_last = found.heated.cure[:, :, -1]
    slowest = np.argmin(np.where(walls.must_cure, at_the_last, np.inf), axis=1)
    table.reached[:] = at_the_last[rows, slowest]
    if len(cures):
        down = cool(walls, orders, cures)
        heated, off = found.heated.take(cures), found.followed[cures]
        amplitudes = let_cool(heated, off, down)
        temperatures = down.temperatures(amplitudes)
        at_off, _ = heated.at(off)
        cooled = at_off + down.cure(temperatures)
        counted = np.where(found.coasting[cures, None], cooled, at_off)
        points = np.argmin(np.where(walls.must_cure[cures], counted, np.inf), axis=1)
        slowest[cures] = points
        there = np.arange(len(cures))
        at_points = temperatures[there, points]
        minutes = _up(off)
        table.minutes_from_switch_on[cures] = minutes
        table.minutes_from_timer[cures] = np.maximum(0.0, np.round(minutes - timer[cures], 1))
        table.minutes_to_release[cures] = _up(down.release(amplitudes, orders.release[cures]))
        table.slowest_temperature_C[cures] = np.round(at_points[:, 0], 1)
        table.slowest_peak_C[cures] = np.round(at_points.max(axis=1), 1)
        table.reached[cures] = np.round(least(walls, cures, counted), 3)
        _judge(table, walls, orders, cures, cooled)
    table.slowest_layer[:] = walls.layers[rows, slowest]
    table.slowest_depth_mm[:] = np.round(1e3 * walls.depth[rows, walls.nodes[rows, slowest]], 1)
    for row in np.flatnonzero(np.isnan(found.followed)).tolist():
        if found.too_small[row]:
            table.reason[row] = TOO_SMALL
            continue
        name = f"layer {table.slowest_layer[row] + 1}"
        depth, reached, target = table.slowest_depth_mm[row], table.reached[row], table.target[row]
        table.reason[row] = never_cured(name, depth, reached, target)
    return table


def _judge(table: CureTable, walls: Walls, orders: OrderColumns, rows: Indices, cooled: Array) -> None:
    """Write the cure of layers and faces in `rows` beside what they bear."""
    starts = walls.starts[rows]
    known = np.isfinite(orders.limit[rows])
    for layer in range(starts.shape[1]):
        here = walls.layers[rows] == layer
        table.layer_least[rows, layer] = np.where(here, cooled, np.inf).min(axis=1)
        table.layer_most[rows, layer] = np.where(here, cooled, -np.inf).max(axis=1)
    for column in (table.layer_least, table.layer_most):
        column[rows] = np.where(known, column[rows], np.nan)
    limit = np.where(known, orders.limit[rows], np.nan)
    table.layer_limit[rows] = limit
    table.layer_ok[rows] = ~(table.layer_most[rows] > limit)
    for face, ok, end in ((table.outside, table.outside_ok, 0), (table.inside, table.inside_ok, -1)):
        face[rows] = np.where(known[:, end], cooled[:, end], np.nan)
        ok[rows] = ~(face[rows] > limit[:, end])
    for column in (table.layer_least, table.layer_most, table.outside, table.inside):
        column[rows] = np.round(column[rows], 3)


def _up(seconds: Array) -> Array:
    """Return tenths of a minute, rounded up."""
    return np.asarray(np.ceil(seconds / 6 - 1e-6) / 10)
