"""One stage or two: everything at once, or the fill first and then gum and reinforcement."""

from mendbook.cure.advice.changes import attempt, change_pads, has_both_pads, heat_of
from mendbook.terms.cure_advice import Stages
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.cure_wall import Layer


def compare_stages(order: CureOrder, ordered: CureSheet) -> Stages | None:
    """Return both ways with their clocks and the overcure of the outside face.

    ordered : the sheet of `order`, which cures all at once

    None where the order has no reinforcement over new fill, or where a stage never cures. Both stages begin at
    the temperature of the order, with the pads of the order; what a person does between them is not counted.
    """
    split = _split(order.layers)
    if split is None:
        return None
    fill, rest = order.layers[:split], order.layers[split:]
    cured = tuple(layer.model_copy(update={"cured_before": True}) for layer in fill)
    then = order.model_copy(update={"layers": cured + rest})
    first, second = attempt(order.model_copy(update={"layers": fill})), attempt(then)
    if first is None or second is None:
        return None
    alone = change_pads(then, lambda pad: pad.model_copy(update={"present": False}), "outside")
    from_inside = attempt(alone) if has_both_pads(order) else None
    both = (first.outside, second.outside)
    return Stages(
        one=heat_of(ordered),
        first=heat_of(first),
        second=heat_of(second),
        second_from_inside=heat_of(from_inside) if from_inside else None,
        one_outside=ordered.outside.multiples if ordered.outside else None,
        two_outside=sum(face.multiples for face in both if face) if all(both) else None,
    )


def _split(layers: tuple[Layer, ...]) -> int | None:
    """Return where the second stage begins: at the reinforcement, or at the gum it lies on."""
    begin = next((index for index, layer in enumerate(layers) if "reinforcement" in layer.name.lower()), 0)
    while begin and "gum" in layers[begin - 1].name.lower():
        begin -= 1
    is_new = [not layer.cured_before for layer in layers]
    return begin if any(is_new[:begin]) and any(is_new[begin:]) else None
