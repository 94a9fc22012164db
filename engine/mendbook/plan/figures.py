"""The figures that fill the blanks of the steps, each as it is printed; empty where there is none."""

from collections.abc import Sequence
from math import ceil

from mendbook.plan.bench import Bench
from mendbook.plan.cavity import Cavity, number
from mendbook.plan.materials import buffed_inside, buffed_outside, lining_of
from mendbook.plan.order import Cured
from mendbook.plan.outfit import Outfit
from mendbook.plan.request import Wanted
from mendbook.plan.size import Size
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.plan import Amount

_OF_KIT = ("outside pad", "inside pad", "reach", "bags", "straps", "leg force", "leg limit", "press")
_OF_CURE = (
    "setpoint", "timer temperature", "timer start", "minutes", "release temperature", "release minutes", "peak",
    "slow point",
)  # fmt: skip
_OF_SECOND = (
    "second setpoint", "second timer temperature", "second timer start", "second minutes",
    "second release temperature", "second release minutes",
)  # fmt: skip
LEAST_AREA = 0.01  # m2 that is told as a figure
SHORT_OF_SETPOINT = 20.0  # °C at which the clock starts; common practice, no source


def figures_of(
    wanted: Wanted,
    cavity: Cavity,
    reinforcement: Size | None,
    materials: Sequence[Amount],
    bench: Bench,
    outfit: Outfit,
    cures: Sequence[Cured],
) -> dict[str, str]:
    """Return every figure a step may name."""
    inside = buffed_inside(lining_of(cavity, reinforcement))
    used = {amount.material: f"{amount.amount:g} {amount.unit}" for amount in materials}
    bridge = next((name for name in used if name.endswith("reinforcement")), "")
    clearance = wanted.facts.get("reinforcement clearance")
    is_walled = wanted.zone.endswith("sidewall") and isinstance(clearance, float)
    figures = {
        "opening": str(cavity.opening),
        "cord level": str(cavity.floor),
        "depth": f"{cavity.depth:.0f} mm",
        "reinforcement": "" if reinforcement is None else str(reinforcement),
        "reinforcement amount": f"{used[bridge]} of {bridge}" if bridge else "",
        "bead room": f"{number(wanted, 'reinforcement clearance'):.0f} mm" if is_walled else "",
        "buffed outside": _area(buffed_outside(cavity)),
        "buffed inside": _area(inside) if inside else "",
        "fill": next((amount for name, amount in used.items() if name.startswith("fill rubber")), ""),
        "gum": used.get("cushion gum", ""),
        "seal": used.get("liner rubber", ""),
        "solvent": used.get("solvent", ""),
        "cement": used.get("cement", ""),
        "fluid": used.get("chemical-cure fluid", ""),
        "bleeder": used.get("bleeder cloth", ""),
        "film": used.get("release film", ""),
        "pressure": f"{bench.pressure:g} bar",
        **dict.fromkeys((*_OF_KIT, *_OF_CURE, *_OF_SECOND), ""),
        **outfit.figures,
    }
    for place, cured in enumerate(cures):
        if cured.order and cured.sheet:
            figures |= _second(cured.order, cured.sheet) if place else _first(cured.order, cured.sheet)
    return figures


def _first(order: CureOrder, sheet: CureSheet) -> dict[str, str]:
    return {
        **_clock(order, sheet),
        "peak": f"{sheet.slowest.peak_C:.0f} °C",
        "slow point": f"{sheet.slowest.depth_mm:.0f} mm below the outside face, in the {sheet.slowest.layer}",
    }


def _second(order: CureOrder, sheet: CureSheet) -> dict[str, str]:
    return {f"second {name}": figure for name, figure in _clock(order, sheet).items()}


def _clock(order: CureOrder, sheet: CureSheet) -> dict[str, str]:
    """Return what the repairer reads off dial and clock during one cure."""
    setpoint = order.outside.setpoint_C
    return {
        "setpoint": f"{setpoint:g} °C",
        "timer temperature": f"{setpoint - SHORT_OF_SETPOINT:g} °C",
        "timer start": _minutes(sheet.timer_starts_at_min),
        "minutes": _minutes(sheet.minutes_from_timer),
        "release temperature": f"{sheet.release_C:g} °C",
        "release minutes": _minutes(sheet.minutes_to_release),
    }


def _area(area: float) -> str:
    """Return an area [m2]; a small one is not rounded to nothing."""
    return f"{area:.2f} m2" if area >= LEAST_AREA else f"under {LEAST_AREA:g} m2"


def _minutes(minutes: float) -> str:
    """Return whole minutes, rounded up: a cure is never cut short by rounding."""
    return f"{ceil(minutes)} min"
