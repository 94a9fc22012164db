"""The cure order of a repair, its setpoint lowered until neither a face overcures nor water boils."""

from dataclasses import dataclass

from pydantic import ValidationError

from mendbook.cure import NeverCuredError, PadTooSmallError, compute
from mendbook.plan.bench import SETPOINT
from mendbook.plan.draft import Draft
from mendbook.plan.setpoint import Search, Tried, seek_setpoint, settle_at_edge
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.cure_wall import Layer


@dataclass(frozen=True)
class Cured:
    """An order with its sheet; where it cannot be cured, why not."""

    order: CureOrder | None
    sheet: CureSheet | None
    why_not: str = ""


def order_cure(draft: Draft, why_hot: str) -> Cured:
    """Return the order that `draft` becomes and what the cure module answers to it.

    The setpoint is the highest of whole 5 °C steps, from the one wished downwards, at which no layer gets more
    cure than it bears and the clamp keeps water from boiling.
    """
    try:
        setpoint, wide = _follow(seek_setpoint(draft.first), draft.wide, beside=False)
        setpoint, sheets = _follow(settle_at_edge(setpoint), draft, beside=True)
        sheet = sheets[setpoint]
    except (NeverCuredError, PadTooSmallError) as problem:
        return Cured(None, None, f"{draft.name}: {problem}")
    except ValidationError as problem:
        return Cured(None, None, f"{draft.name}: no cure order can be written. {words(problem)}")
    at_first = {**wide, **sheets}[draft.first]
    reasons = (why_hot, *_thick(draft.layers), *_heat(draft, setpoint, (at_first, sheet)), *draft.premises())
    return Cured(draft.order(setpoint).model_copy(update={"rationale": reasons}), sheet)


def tried(sheet: CureSheet) -> Tried:
    """Return what `sheet` says of its setpoint."""
    excess = max((layer.most / layer.limit for layer in sheet.layers), default=1.0)
    overcures = not all(layer.ok for layer in sheet.layers)
    return Tried(excess, overcures, not sheet.porosity.ok, sheet.porosity.highest_safe_setpoint_C)


def _follow(search: Search, draft: Draft, *, beside: bool) -> tuple[float, dict[float, CureSheet]]:
    """Return the setpoint that `search` finds for `draft` [°C], and the sheet of each that it tried."""
    sheets: dict[float, CureSheet] = {}
    setpoint = next(search)
    while True:
        sheets[setpoint] = compute(draft.order(setpoint), beside=beside)
        try:
            setpoint = search.send(tried(sheets[setpoint]))
        except StopIteration as found:
            return float(found.value), sheets


def _thick(layers: tuple[Layer, ...]) -> tuple[str, ...]:
    parts = ", ".join(f"{layer.name} {layer.thickness_mm:g} mm" for layer in layers)
    total = sum(layer.thickness_mm for layer in layers)
    return (f"{total:g} mm through the injury, where heat has furthest to go: {parts}.",)


def _heat(draft: Draft, setpoint: float, sheets: tuple[CureSheet, CureSheet]) -> tuple[str, ...]:
    bench, first, cap = draft.bench, draft.first, draft.cap
    if bench.setpoint > cap:
        begin = f"Setpoint {bench.setpoint:g} °C was wished; {cap:g} °C is the most for this casing."
    elif bench.setpoint == SETPOINT:
        begin = f"Setpoint {first:g} °C (common practice, no source)."
    else:
        begin = f"Setpoint {first:g} °C as the workshop wishes."
    at_first, at_last = sheets
    if not tried(at_last).is_gentle:
        return (begin, f"Even at {setpoint:g} °C a layer overcures or water may boil: read the warnings of the sheet.")
    if setpoint == first:
        return (begin,)
    return (begin, f"Lowered to {setpoint:g} °C in steps of 5 °C: at {first:g} °C {_harm(at_first)} (computed).")


def _harm(sheet: CureSheet) -> str:
    """Return what the setpoint of a sheet would do."""
    overcured = [
        f"{layer.layer} gets {layer.most:.1f} x t90 and bears {layer.limit:g} (from memory)"
        for layer in sheet.layers
        if not layer.ok
    ]
    boils = f"{sheet.porosity.clamp_needed_bar:.2f} bar are needed to keep water in the rubber from boiling"
    return ", and ".join([*overcured, *([] if sheet.porosity.ok else [boils])])


def words(problem: ValidationError) -> str:
    """Return what is wrong with an order that cannot be written."""
    return "; ".join(str(fault["msg"]).removeprefix("Value error, ") for fault in problem.errors())
