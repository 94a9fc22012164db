"""A cure order from the few figures that a repairer has at hand, with no tyre behind it."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from math import floor

from mendbook.cure.vapour import air_pressure, boiling_temperature
from mendbook.plan.bench import PRESSURE, SETPOINT
from mendbook.plan.draft import HEATING_RATE, RELEASE, WATER
from mendbook.plan.stock import FILL, NEEDED_MATERIALS
from mendbook.plan.wall import GUM, LEAST
from mendbook.terms.cure_order import Cooling, Counting, CureOrder
from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_wall import Compound, Layer, Material
from mendbook.terms.scatter import Scatter
from mendbook.terms.spelling import did_you_mean

HIGHEST = 6000.0  # m above the sea, the most that an order takes
MOISTURE = "damp"  # where nobody said; house default, on the safe side of a dry casing
SHOP = 20.0  # °C, where nobody read a thermometer; house default
COVERED = 1.0  # W/(m2 K) from a bare face under 50 mm of fibre or foam of 0.05 W/(m K); by hand
CORDS = ("textile", "steel")
FACES = ("both", "outside", "inside")


class PlainOrderError(ValueError):
    """Figures that do not make a wall. The message says which option, why, and what to write instead."""


@dataclass(frozen=True)
class Shelf:
    """What layers may be of: the knowledge folder's materials and compounds, by name."""

    materials: Mapping[str, Material]
    compounds: Mapping[str, Compound]


@dataclass(frozen=True)
class Figures:
    """What was measured and set. Lengths in [mm], temperatures in [°C], pressure in [bar gauge]; None: not said."""

    thickness: float  # of the whole wall between the pads
    thickness_error: float = 0.0  # one standard deviation of it; 0: not said
    fill: str | Compound = FILL
    gum: float | None = None
    casing: float = 0.0  # old casing left under the new rubber
    cord: str = "textile"
    reinforcement: float = 0.0
    precured: bool = False  # the reinforcement
    ambient: float | None = None
    tyre: float | None = None
    setpoint: float | None = None
    rate: float | None = None  # [°C/min]
    preheated: bool = False
    faces: str = "both"
    covered: bool = False  # the face that is not heated
    pressure: float | None = None
    altitude: float = 0.0  # [m]
    moisture: str | None = None
    schedule: Counting = "safe"
    cooling: Cooling = "still air"


def plain_order(figures: Figures, shelf: Shelf) -> CureOrder:
    """Return the order for `figures`, with what was taken for granted as its rationale.

    Raises PlainOrderError when the layers do not fit into the thickness or a name is not known, and
    pydantic.ValidationError when a figure lies outside what an order may say.
    """
    setpoint = SETPOINT if figures.setpoint is None else figures.setpoint
    rate = HEATING_RATE if figures.rate is None else figures.rate
    hot = (
        Pad(setpoint_C=setpoint, start_C=setpoint)
        if figures.preheated
        else Pad(setpoint_C=setpoint, heating_rate_C_min=rate)
    )
    bare = Pad(present=False, loss_W_m2K=COVERED) if figures.covered else Pad(present=False)
    boils = boiling_temperature(air_pressure(min(figures.altitude, HIGHEST)))
    error = figures.thickness_error
    return CureOrder(
        case=f"a wall of {figures.thickness:g} mm",
        layers=_layers(figures, shelf),
        outside=bare if _named("--faces", figures.faces, FACES) == "inside" else hot,
        inside=bare if figures.faces == "outside" else hot,
        ambient_C=SHOP if figures.ambient is None else figures.ambient,
        tyre_C=figures.tyre,
        clamp_bar=PRESSURE if figures.pressure is None else figures.pressure,
        altitude_m=figures.altitude,
        water_activity=WATER[_named("--moisture", figures.moisture or MOISTURE, tuple(WATER))],
        release_C=min(RELEASE, floor(boils + 0.1)),
        schedule=figures.schedule,
        cooling=figures.cooling,
        scatter=Scatter(thickness_mm=error, thickness_share=0) if error else Scatter(),
        rationale=tuple(_premises(figures)),
    )


def _layers(figures: Figures, shelf: Shelf) -> tuple[Layer, ...]:
    """Return the wall from outside: fill, gum, old casing, gum, reinforcement; gum bonds what is there."""
    fill, gum, steel, textile, cloth = (shelf.materials[name] for name in NEEDED_MATERIALS)
    compound = figures.fill if isinstance(figures.fill, Compound) else _compound(figures.fill, shelf)
    bonds = bool(figures.casing) + bool(figures.reinforcement)
    skim = GUM if figures.gum is None else figures.gum
    rest = figures.thickness - skim * bonds - figures.casing - figures.reinforcement
    if rest < LEAST:
        raise PlainOrderError(
            f"--thickness: {figures.thickness:g} mm is the whole wall between the pads, and gum, casing and "
            f"reinforcement take {figures.thickness - rest:g} mm of it. Write the whole thickness, or thinner layers."
        )
    old, bridge = shelf.compounds["cured casing rubber"], shelf.compounds["cured reinforcement rubber"]
    sheet = (
        Layer(name="gum", thickness_mm=skim, material=gum, compound=shelf.compounds["cushion gum"])
        if skim and bonds
        else None
    )
    casing = steel if _named("--cord", figures.cord, CORDS) == "steel" else textile
    laid = (
        Layer(name="fill", thickness_mm=rest, material=fill, compound=compound),
        sheet,
        Layer(name="casing", thickness_mm=figures.casing, material=casing, compound=old, cured_before=True)
        if figures.casing
        else None,
        sheet if bonds > 1 else None,
        Layer(
            name="reinforcement",
            thickness_mm=figures.reinforcement,
            material=cloth,
            compound=bridge if figures.precured else compound,
            cured_before=figures.precured,
        )
        if figures.reinforcement
        else None,
    )
    return tuple(layer for layer in laid if layer is not None)


def _compound(name: str, shelf: Shelf) -> Compound:
    if name in shelf.compounds:
        return shelf.compounds[name]
    raise PlainOrderError(
        f"--fill: no compound is called '{name}'.{did_you_mean(name, shelf.compounds)} "
        f"Write one of {', '.join(shelf.compounds)}, or the file of a compound of your own."
    )


def _named(option: str, word: str, known: tuple[str, ...]) -> str:
    if word in known:
        return word
    raise PlainOrderError(f"{option}: '{word}' is not one of {', '.join(known)}.{did_you_mean(word, known)}")


def _premises(figures: Figures) -> Iterator[str]:
    """Yield what nobody said and was taken for granted."""
    if not figures.reinforcement:
        yield "No reinforcement: say --reinforcement with its thickness when one is laid in."
    if figures.gum is None and (figures.casing or figures.reinforcement):
        yield f"{GUM:g} mm of cushion gum under new rubber (house default)."
    if figures.ambient is None:
        yield f"The shop is at {SHOP:g} °C (house default; a colder shop takes longer: read the thermometer)."
    if figures.tyre is None:
        yield "The tyre is as warm as the shop: one that stood outside is colder, and takes longer."
    if figures.setpoint is None:
        yield f"Setpoint {SETPOINT:g} °C (common practice, no source); the casing may bear less."
    if figures.rate is None and not figures.preheated:
        yield f"Pads heat at {HEATING_RATE:g} °C/min (from memory; measure yours)."
    if figures.pressure is None:
        yield f"Clamp {PRESSURE:g} bar (common practice, no source)."
    if figures.moisture is None:
        yield f"Cords are {MOISTURE} (house default), which decides what pressure keeps water from boiling."
    if figures.faces != "both":
        lost = COVERED if figures.covered else Pad(present=False).loss_W_m2K
        how = "under 50 mm of insulation, worked out by hand" if figures.covered else "in still air, from memory"
        yield f"The bare face loses {lost:g} W/(m2 K) ({how})."
    if figures.fill == FILL:
        yield "The fill rubber cures as knowledge has it (from memory): take t90 from the cure curve of the batch."
    yield "Nobody judged whether this tyre may be repaired at all: that is what 'mendbook triage' is for."
