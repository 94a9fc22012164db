"""The cure order of a repair, its setpoint lowered until neither a face overcures nor water boils."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from math import floor, log
from types import MappingProxyType

from pydantic import ValidationError

from mendbook.cure import NeverCuredError, PadTooSmallError, compute
from mendbook.cure.vapour import air_pressure, boiling_temperature
from mendbook.plan.bench import SETPOINT, Bench
from mendbook.plan.size import Size
from mendbook.terms.cure_order import Area, CureOrder, Layer, Pad
from mendbook.terms.cure_sheet import CureSheet

HEATING_RATE = 6.0  # °C/min; from memory, 2 to 15: measure the pads
POLYESTER = 140.0  # °C, where no rule caps it; house default, for polyester or a cord not known
HOTTEST = 150.0  # °C, where no rule caps it; house default
STEP = 5.0  # °C
COOLEST = 105.0  # °C; below it a cure takes more than a day
PER_TEN = 1.6  # times as much overcure for 10 °C more, computed for 80 mm; only a first guess
WATER = {"dry": 0.5, "damp": 1.0, "wet": 1.0}  # activity of water in the rubber; house default
LEAST_SIDE = 5.0  # mm of an injury; a smaller one cures as soon
RELEASE = 100.0  # °C; common practice, no source


@dataclass(frozen=True)
class Cured:
    """An order with its sheet; where it cannot be cured, why not."""

    order: CureOrder | None
    sheet: CureSheet | None
    why_not: str = ""


def order_cure(
    name: str,
    layers: tuple[Layer, ...],
    bench: Bench,
    *,
    casing: str,
    moisture: str,
    both_faces: bool,
    why_hot: str,
    injury: Size | None = None,
    heated: Mapping[str, Size] = MappingProxyType({}),
) -> Cured:
    """Return the order for `layers` and what the cure module answers to it.

    casing : cord of the casing plies, which caps the setpoint
    moisture : of the cords, which sets the activity of water
    injury, heated : new rubber in the plane of the wall, and what the kit heats on each face, so that the minutes
        hold for its edge, too
    The setpoint is the highest of whole 5 °C steps, from the one wished downwards, at which no layer gets more
    cure than it bears and the clamp keeps water from boiling.
    """
    usual = HOTTEST if casing in ("steel", "nylon", "rayon", "aramid") else POLYESTER
    cap = usual if bench.hottest is None else bench.hottest
    first = min(bench.setpoint, cap)
    draft = _Draft(name, layers, bench, WATER.get(moisture, 1.0), both_faces, injury, heated)
    try:
        wide = replace(draft, injury=None)  # pads without edges: told apart in a quarter of the time
        at_first = compute(wide.order(first), beside=False)
        setpoint = _search(wide, first, at_first)
        sheet = compute(draft.order(setpoint))
        while setpoint > COOLEST and not _is_gentle(sheet):
            at_first = sheet if setpoint == first else at_first
            setpoint = max(COOLEST, setpoint - STEP)  # what the edge asks for was too much for another layer
            sheet = compute(draft.order(setpoint))
    except (NeverCuredError, PadTooSmallError) as problem:
        return Cured(None, None, f"{name}: {problem}")
    except ValidationError as problem:
        return Cured(None, None, f"{name}: no cure order can be written. {_words(problem)}")
    reasons = (why_hot, *_thick(layers), *_heat(bench, first, setpoint, cap, (at_first, sheet)), *draft.premises())
    return Cured(draft.order(setpoint).model_copy(update={"rationale": reasons}), sheet)


@dataclass(frozen=True)
class _Draft:
    name: str
    layers: tuple[Layer, ...]
    bench: Bench
    water: float
    both_faces: bool
    injury: Size | None
    heated: Mapping[str, Size]

    def pad(self, face: str, setpoint: float) -> Pad:
        return Pad(setpoint_C=setpoint, heating_rate_C_min=HEATING_RATE, heated=_area(self.heated.get(face)))

    def order(self, setpoint: float) -> CureOrder:
        boils = boiling_temperature(air_pressure(self.bench.altitude))
        return CureOrder(
            case=self.name,
            layers=self.layers,
            outside=self.pad("outside", setpoint),
            inside=self.pad("inside", setpoint) if self.both_faces else Pad(present=False),
            ambient_C=self.bench.shop,
            tyre_C=self.bench.tyre,
            clamp_bar=self.bench.pressure,
            altitude_m=self.bench.altitude,
            water_activity=self.water,
            release_C=min(RELEASE, floor(boils + 0.1)),
            injury=_area(self.injury),
        )

    def premises(self) -> tuple[str, ...]:
        return (
            f"Pads heat at {HEATING_RATE:g} °C/min from shop temperature (from memory; measure them).",
            f"Clamp {self.bench.pressure:g} bar, water activity {self.water:g} (house default for the moisture found).",
        )


def _area(size: Size | None) -> Area | None:
    if size is None:
        return None
    return Area(length_mm=round(max(size.around, LEAST_SIDE), 1), width_mm=round(max(size.across, LEAST_SIDE), 1))


def _is_gentle(sheet: CureSheet) -> bool:
    return all(layer.ok for layer in sheet.layers) and sheet.porosity.ok


def _search(draft: _Draft, first: float, at_first: CureSheet) -> float:
    """Return the highest gentle step [°C], `first` or below."""
    setpoint, sheet = first, at_first
    while setpoint > COOLEST and not _is_gentle(sheet):
        setpoint = _lower(setpoint, sheet)
        sheet = compute(draft.order(setpoint), beside=False)
    while setpoint + STEP < first and _is_gentle(sheet):  # the guess may have gone a step too far
        sheet = compute(draft.order(setpoint + STEP), beside=False)
        if _is_gentle(sheet):
            setpoint += STEP
    return setpoint


def _lower(setpoint: float, sheet: CureSheet) -> float:
    """Return the next setpoint to try [°C]: a step down, or as many as the sheet lets one guess."""
    excess = max((layer.most / layer.limit for layer in sheet.layers), default=1.0)
    steps = max(1, floor(10 * log(max(excess, 1.0)) / log(PER_TEN) / STEP))
    guess = setpoint - steps * STEP
    if not sheet.porosity.ok:
        guess = min(guess, sheet.porosity.highest_safe_setpoint_C)
    return max(COOLEST, floor(guess / STEP) * STEP)


def _thick(layers: tuple[Layer, ...]) -> tuple[str, ...]:
    parts = ", ".join(f"{layer.name} {layer.thickness_mm:g} mm" for layer in layers)
    total = sum(layer.thickness_mm for layer in layers)
    return (f"{total:g} mm through the injury, where heat has furthest to go: {parts}.",)


def _heat(
    bench: Bench, first: float, setpoint: float, cap: float, sheets: tuple[CureSheet, CureSheet]
) -> tuple[str, ...]:
    if bench.setpoint > cap:
        begin = f"Setpoint {bench.setpoint:g} °C was wished; {cap:g} °C is the most for this casing."
    elif bench.setpoint == SETPOINT:
        begin = f"Setpoint {first:g} °C (common practice, no source)."
    else:
        begin = f"Setpoint {first:g} °C as the workshop wishes."
    at_first, at_last = sheets
    if not _is_gentle(at_last):
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


def _words(problem: ValidationError) -> str:
    return "; ".join(str(fault["msg"]).removeprefix("Value error, ") for fault in problem.errors())
