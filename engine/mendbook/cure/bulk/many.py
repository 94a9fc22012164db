"""Thousands of orders at once."""

from collections.abc import Sequence

import numpy as np

from mendbook.cure.bulk.answers import TOO_SMALL, answer
from mendbook.cure.bulk.columns import OrderColumns, columns_of
from mendbook.cure.bulk.inputs import count_bends
from mendbook.cure.bulk.single import is_by_itself, work_out
from mendbook.cure.bulk.table import CureTable, blank_table
from mendbook.cure.bulk.walls import elements_of
from mendbook.cure.schedules import never_cured
from mendbook.terms.cure_order import CureOrder

CHUNK = 128  # walls worked out together: some tens of megabytes


def compute_many(orders: Sequence[CureOrder]) -> CureTable:
    """Return the answers to `orders`, a row each, in their order.

    An order that never cures has a reason in its row. What one wall alone needs is worked out alone, as `compute`
    does: properties that change with temperature or are not those of rubber, heat of reaction, pads that are too small
    for the injury.
    """
    alone = np.array([is_by_itself(order) for order in orders], dtype=bool)
    together, apart = np.flatnonzero(~alone), np.flatnonzero(alone)
    table = blank_table(len(orders), max((len(order.layers) for order in orders), default=0))
    found = compute_columns(columns_of([orders[row] for row in together.tolist()]))
    table.put(together, found)
    too_small = found.reason == TOO_SMALL
    for row in together[~found.cures & ~too_small].tolist():
        layer, depth = table.slowest_layer[row], table.slowest_depth_mm[row]
        name = orders[row].layers[layer].name
        table.reason[row] = never_cured(f"'{name}'", depth, table.reached[row], table.target[row])
    for row in (*apart.tolist(), *together[too_small].tolist()):
        table.put(np.array([row]), work_out(orders[row]))
    return table.seal()


def compute_columns(orders: OrderColumns, chunk: int = CHUNK) -> CureTable:
    """Return the answers to orders that are columns already. Layers in reasons are numbered from the outside, 1 on.

    chunk : walls worked out together at the most; the answers are the same for any
    """
    if not len(orders):
        return blank_table(0, 0).seal()
    first = orders.first_alike()
    different = np.unique(first)
    table = blank_table(len(orders), orders.thickness.shape[1])
    shapes = np.stack([orders.layers, count_bends(orders), orders.has_edge, elements_of(orders)], axis=1)[different]
    for shape in sorted(set(map(tuple, shapes.tolist()))):
        rows = different[(shapes == shape).all(axis=1)]
        for start in range(0, len(rows), chunk):
            part = rows[start : start + chunk]
            table.put(part, answer(orders.take(part).cut(shape[0]), elements=shape[-1]))
    return table.take(first).seal()
