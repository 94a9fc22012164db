"""Invented logs of cures whose truth is known: the wall is followed by `tests.cure.lines`, never by our own modes."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from functools import cache

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.live import Channel, Record
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_wall import Layer, Material
from tests.cure.lines import LoggedLines
from tests.cure.walls import order, pad, through

CELLS_PER_MM = 0.8
SENSOR_NOISE, PAD_NOISE, PRESSURE_NOISE = 0.7, 0.5, 0.02  # one standard deviation
STEP = 10.0  # s

Bends = tuple[tuple[float, float], ...]  # minutes and °C

RAMP = ((0.0, 20.0), (20.0, 140.0))


def cooling(start: float, end: float, level: float = 140.0, minutes_to_half: float = 45.0) -> Bends:
    """Return a pad that loses its heat from `start` to `end` [min], in straight lines of five minutes."""
    times = np.arange(start, end, 5.0)[1:]
    return ((start, level), *((float(t), 20 + (level - 20) * 0.5 ** ((t - start) / minutes_to_half)) for t in times))


@dataclass(frozen=True)
class Truth:
    """A wall as it really is, and what its pads did."""

    book: CureOrder
    times: np.ndarray  # [s]
    pads: np.ndarray
    temperatures: np.ndarray  # of cells (rows) by time
    cure: np.ndarray
    lines: LoggedLines

    @property
    def needed_min(self) -> float:
        """When the slowest point reached the target, by heating as it went [min]."""
        least = self.cure[self.lines.must].min(axis=0)
        return float(np.interp(self.book.target, least, self.times)) / 60

    def least_cure(self, minute: float) -> float:
        column = int(np.searchsorted(self.times, 60 * minute))
        return float(self.cure[self.lines.must, column].min())

    def log(
        self, minutes: float, seed: int = 1, depths: Sequence[float] = (), *, noisy: bool = True, every: float = STEP
    ) -> Record:
        """Return what a logger would have written by `minutes`, with sensors at `depths` [mm]."""
        chance = np.random.default_rng(seed)
        keep = (self.times <= 60 * minutes + 1e-9) & (np.mod(self.times, every) < 1e-6)

        def read(course: np.ndarray, scatter: float) -> np.ndarray:
            return np.round(course[keep] + noisy * chance.normal(0, scatter, int(keep.sum())), 2)

        outside, inside = (read(row, PAD_NOISE) for row in self.pads)
        sensors = tuple(
            Channel(f"{depth:g} mm", read(self.lines.at_depth(self.temperatures, depth), SENSOR_NOISE), depth / 1e3)
            for depth in depths
        )
        pressure = read(np.full(len(self.times), self.book.clamp_bar), PRESSURE_NOISE)
        return Record(
            self.times[keep],
            Channel("outside pad", outside), Channel("inside pad", inside), sensors, Channel("pressure", pressure),
        )  # fmt: skip


@cache
def truth(
    thickness: float = 60, minutes: float = 200, diffusivity: float = 0.857, contact: float = 2.0,
    outside: Bends = RAMP, inside: Bends = RAMP, setpoints: tuple[float, float] = (140.0, 140.0),
    schedule: str = "safe",
) -> Truth:  # fmt: skip
    """Return a wall with other conductivity and contact than its order says, under pads that ran as told."""
    book = order(through(thickness), pad(setpoints[0]), pad(setpoints[1]), schedule=schedule)
    real = book.model_copy(
        update={
            "layers": tuple(_conducting(layer, diffusivity) for layer in book.layers),
            "outside": replace_contact(book, "outside", contact),
            "inside": replace_contact(book, "inside", contact),
        }
    )
    bends = np.unique([60 * at for course in (outside, inside) for at, _ in course])
    pads = np.array([np.interp(bends, *np.array([(60 * at, value) for at, value in course]).T)
                     for course in (outside, inside)])  # fmt: skip
    lines = LoggedLines(real, CELLS_PER_MM, bends, pads)
    times = np.arange(0, 60 * minutes + STEP / 2, STEP)
    temperatures, cure = lines.run(times)
    shown = np.array([np.interp(times, bends, row) for row in pads])
    return Truth(book, times, shown, temperatures, cure, lines)


def _conducting(layer: Layer, ratio: float) -> Layer:
    through: Material = layer.material.model_copy(
        update={"conductivity_W_mK": layer.material.conductivity_W_mK * ratio}
    )
    return layer.model_copy(update={"material": through})


def replace_contact(book: CureOrder, side: str, ratio: float) -> object:
    given = getattr(book, side)
    return given.model_copy(update={"contact_resistance_m2K_W": given.contact_resistance_m2K_W * ratio})


def channel(record: Record, name: str) -> Channel:
    channels = [*record.temperatures, *([record.pressure] if record.pressure else [])]
    return next(found for found in channels if found.name == name)


def alter(record: Record, name: str, start: float, end: float, change: Callable[[Array], Array]) -> Record:
    """Return `record` with the readings of one column between two minutes as `change(readings)` makes them."""
    old = channel(record, name)
    within = record.since(60 * start, 60 * end)
    readings = old.readings.copy()
    readings[within] = change(readings[within])
    return record.swap(old.read_as(readings))


def without(record: Record, start: float, end: float) -> Record:
    """Return `record` without its lines between two minutes."""
    keep = ~record.since(60 * start, 60 * end)

    def thin(found: Channel | None) -> Channel | None:
        return found.read_as(found.readings[keep]) if found else None

    return replace(
        record,
        times=record.times[keep], outside=thin(record.outside), inside=thin(record.inside),
        sensors=tuple(sensor.read_as(sensor.readings[keep]) for sensor in record.sensors),
        pressure=thin(record.pressure),
    )  # fmt: skip
