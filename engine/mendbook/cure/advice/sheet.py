"""From a cure order to advice on it."""

from collections.abc import Iterator

from mendbook.cure.advice.changes import has_both_pads, is_programmed
from mendbook.cure.advice.clamping import advise_clamp
from mendbook.cure.advice.mishaps import mishaps
from mendbook.cure.advice.setpoints import highest_setpoint, most_looked_at, quickest_pair, spare_the_tread
from mendbook.cure.advice.shifts import SHIFT, longest_walls
from mendbook.cure.advice.stages import compare_stages
from mendbook.cure.advice.what_ifs import shop_and_pads, timer_slips
from mendbook.cure.sheet import compute
from mendbook.terms.cure_advice import Advice
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

CAUTION = (
    "Advice is computed from the order, one thing changed at a time; no cure was tried. Local codes, site rules, the "
    "limits and instructions of the makers of rubber, pads and clamps, and whoever answers for the repair win over it."
)


def advise(order: CureOrder, hours: float = SHIFT) -> Advice:
    """Return what else could be done with `order`, and what comes of things that go otherwise.

    hours : of the shift into which heating and cool-down must fit [h]

    Raises NeverCuredError when 72 h of heating do not suffice for the order itself, PadTooSmallError when the edge of
    the injury takes too long.
    """
    ordered = compute(order, beside=False)
    wide = order.model_copy(update={"injury": None})
    longer = 1.0 if order.injury is None else _longer(wide, ordered)
    most = most_looked_at(order)
    highest = None if is_programmed(order) else highest_setpoint(order, ordered, most)
    stages = compare_stages(order, ordered)
    return Advice(
        schedule=ordered.schedule,
        minutes_from_switch_on=ordered.minutes_from_switch_on,
        minutes_from_timer=ordered.minutes_from_timer,
        longer=longer,
        highest=highest,
        quickest_pair=quickest_pair(order, highest, most) if highest else None,
        sparing=() if is_programmed(order) else spare_the_tread(order),
        shift_hours=hours,
        longest=longest_walls(wide, hours),
        stages=stages,
        clamp=advise_clamp(order),
        what_ifs=(*shop_and_pads(wide, ordered, longer), *mishaps(wide, ordered, longer)),
        timer_slips=timer_slips(wide, longer),
        left_out=tuple(_left_out(order, has_stages=stages is not None)),
        caution=CAUTION,
    )


def _longer(wide: CureOrder, ordered: CureSheet) -> float:
    """Return by how much the edge of the injury makes a cure longer than it is under wide pads."""
    return ordered.minutes_from_switch_on / compute(wide, beside=False).minutes_from_switch_on


def _left_out(order: CureOrder, *, has_stages: bool) -> Iterator[str]:
    if is_programmed(order):
        yield "Other setpoints, slower pads and a power cut: a pad follows a programme, which has no rate to change."
    if not has_both_pads(order):
        yield "Two setpoints and a pad that fails: one face alone is heated, and without its pad nothing cures."
    if not has_stages:
        yield "Two stages: the order has no reinforcement laid over new fill, or a stage by itself never cures."
