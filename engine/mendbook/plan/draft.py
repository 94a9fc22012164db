"""A cure order that lacks nothing but its setpoint."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from math import floor

from mendbook.cure.vapour import air_pressure, boiling_temperature
from mendbook.plan.bench import Bench
from mendbook.plan.size import Size
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Area, Pad
from mendbook.terms.cure_wall import Layer

HEATING_RATE = 6.0  # °C/min; from memory, 2 to 15: measure the pads
POLYESTER = 140.0  # °C, where no rule caps it; house default, for polyester or a cord not known
HOTTEST = 150.0  # °C, where no rule caps it; house default
WATER = {"dry": 0.5, "damp": 1.0, "wet": 1.0}  # activity of water in the rubber; house default
LEAST_SIDE = 5.0  # mm of an injury; a smaller one cures as soon
RELEASE = 100.0  # °C; common practice, no source


@dataclass(frozen=True)
class Draft:
    """What is to be cured, and how.

    casing : cord of the casing plies, which caps the setpoint
    moisture : of the cords, which sets the activity of water
    injury, heated : new rubber in the plane of the wall, and what the kit heats on each face, so that the minutes
        hold for its edge, too
    """

    name: str
    layers: tuple[Layer, ...]
    bench: Bench
    casing: str
    moisture: str
    both_faces: bool
    injury: Size | None = None
    heated: Mapping[str, Size] = field(default_factory=dict)

    @property
    def cap(self) -> float:
        """The highest setpoint there may be [°C]."""
        usual = HOTTEST if self.casing in ("steel", "nylon", "rayon", "aramid") else POLYESTER
        return usual if self.bench.hottest is None else self.bench.hottest

    @property
    def first(self) -> float:
        """The setpoint wished, within the cap [°C]."""
        return min(self.bench.setpoint, self.cap)

    @property
    def water(self) -> float:
        """Activity of water in the rubber [0 to 1]."""
        return WATER.get(self.moisture, 1.0)

    @property
    def wide(self) -> "Draft":
        """The same under pads without edges, which is worked out in a quarter of the time."""
        return replace(self, injury=None)

    def order(self, setpoint: float) -> CureOrder:
        """Return the order at `setpoint` [°C]. Raises ValidationError where none can be written."""
        boils = boiling_temperature(air_pressure(self.bench.altitude))
        return CureOrder(
            case=self.name,
            layers=self.layers,
            outside=self._pad("outside", setpoint),
            inside=self._pad("inside", setpoint) if self.both_faces else Pad(present=False),
            ambient_C=self.bench.shop,
            tyre_C=self.bench.tyre,
            clamp_bar=self.bench.pressure,
            altitude_m=self.bench.altitude,
            water_activity=self.water,
            release_C=min(RELEASE, floor(boils + 0.1)),
            injury=_area(self.injury),
        )

    def premises(self) -> tuple[str, ...]:
        """Return what was taken for granted."""
        return (
            f"Pads heat at {HEATING_RATE:g} °C/min from shop temperature (from memory; measure them).",
            f"Clamp {self.bench.pressure:g} bar, water activity {self.water:g} (house default for the moisture found).",
        )

    def _pad(self, face: str, setpoint: float) -> Pad:
        return Pad(setpoint_C=setpoint, heating_rate_C_min=HEATING_RATE, heated=_area(self.heated.get(face)))


def _area(size: Size | None) -> Area | None:
    if size is None:
        return None
    return Area(length_mm=round(max(size.around, LEAST_SIDE), 1), width_mm=round(max(size.across, LEAST_SIDE), 1))
