"""The search for a setpoint: what to try next, whoever works out the cure."""

from collections.abc import Generator
from dataclasses import dataclass
from math import floor, log

STEP = 5.0  # °C
COOLEST = 105.0  # °C; below it a cure takes more than a day
PER_TEN = 1.6  # times as much overcure for 10 °C more, computed for 80 mm; only a first guess


@dataclass(frozen=True)
class Tried:
    """What a setpoint does to a repair."""

    excess: float  # the most that any layer gets, in multiples of what it bears
    overcures: bool
    boils: bool
    safe: float  # the highest setpoint at which the clamp keeps water from boiling [°C]

    @property
    def is_gentle(self) -> bool:
        """Return whether no layer overcures and no water boils."""
        return not (self.overcures or self.boils)


Search = Generator[float, Tried, float]


def seek_setpoint(first: float) -> Search:
    """Yield the setpoints to try [°C], `first` first, and take what each does; return the one to follow.

    It is the highest of whole steps below `first` that is gentle, and the coolest where none is. Nothing is tried
    twice.
    """
    known = {first: (yield first)}
    setpoint = first
    while setpoint > COOLEST and not known[setpoint].is_gentle:
        setpoint = _lower(setpoint, known[setpoint])
        if setpoint not in known:
            known[setpoint] = yield setpoint
    # The guess may have gone a step too far.
    while setpoint + STEP < first and known[setpoint].is_gentle:
        higher = setpoint + STEP
        if higher not in known:
            known[higher] = yield higher
        if not known[higher].is_gentle:
            break
        setpoint = higher
    return setpoint


def settle_at_edge(setpoint: float) -> Search:
    """Yield setpoints to try with the edge of the injury, from the gentle one under wide pads down [°C].

    What the edge asks for may be too much for another layer.
    """
    while not (yield setpoint).is_gentle and setpoint > COOLEST:
        setpoint = max(COOLEST, setpoint - STEP)
    return setpoint


def _lower(setpoint: float, tried: Tried) -> float:
    """Return the next setpoint to try [°C]: a step down, or as many as what was tried lets one guess."""
    steps = max(1, floor(10 * log(max(tried.excess, 1.0)) / log(PER_TEN) / STEP))
    guess = setpoint - steps * STEP
    if tried.boils:
        guess = min(guess, tried.safe)
    return max(COOLEST, floor(guess / STEP) * STEP)
