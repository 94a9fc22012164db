"""A march in time through a chain of nodes that has no modes: TR-BDF2, L-stable, with its own error taken off.

A step h is a trapezoid to g h and a backward difference from there, g = 2 - sqrt 2. Both ask for the same matrix,
d(stored) - (1 - 1/sqrt 2) h d(flows), and a formula of third order beside them tells the error (Bank et al. 1985; Hosea
and Shampine 1996; formulae from memory). Newton's method solves each stage; the cure of the sites is marched along.
The error, smoothed twice by the matrix, is then taken off: third order, and no mode of the chain grows, however
stiff. Between steps a cubic through values and slopes tells the rest.
"""

from bisect import bisect_right
from collections.abc import Callable, Sequence
from math import inf, sqrt
from typing import NamedTuple

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.chain import Chain
from mendbook.terms.drift import REFERENCE

STAGE = 2 - sqrt(2)  # where the first stage ends, as a share of the step
IMPLICIT = 1 - 1 / sqrt(2)  # weight of the moment solved for, in either stage
EXPLICIT = sqrt(2) / 4  # weight of each moment before it, at the end of the step
EMBEDDED = ((4 * EXPLICIT - 1) / 3, -1 / 3, 2 * IMPLICIT / 3)  # weights of second order less those of third
ERROR = 5e-3  # K, in a step, before it is taken off
FIRST = 0.05  # s; a step from where the course of an end begins or bends
LONGEST = 1800.0  # s; the cubic between two steps spans no more
CAUTION, SHRINK, GROWTH = 0.9, 0.2, 4.0  # of the next step, against the one that would have just the error allowed
CLOSE = 0.1  # K, of Newton's last correction: what is left is about a thousandth of its square
CORRECTIONS = 6  # most; a step that needs more is too long
WILD = 100.0  # K; so is one that asks for a correction as large


class Moment(NamedTuple):
    """A chain at one time. Temperatures in [K above 80 °C]."""

    time: float  # [s]
    nodes: Array  # temperatures
    cured: Array  # of the sites [multiples of t90]
    flows: Array  # into the nodes [W/m2]
    speed: Array  # of cure of the sites [multiples of t90 per s]
    warming: Array  # of the nodes [K/s]


class March:
    """The temperatures of a chain and the cure of its sites, marched as far as they are asked for."""

    def __init__(
        self, chain: Chain, nodes: Array, cured: Array, ends: Callable[[float], Array], bends: Sequence[float]
    ) -> None:
        """Start at time 0 from temperatures `nodes` [°C] and `cured` [multiples of t90], site by site.

        ends : temperature of both ends [°C] at a time [s]
        bends : when the course of an end changes its slope [s], in rising order
        """
        from scipy.linalg.lapack import dgtsv  # here: a triage that needs none of it starts sooner

        self._chain, self._ends, self._bends, self._solve_rows = chain, ends, bends, dgtsv
        self._moments = [self._moment(0.0, nodes - REFERENCE, cured)]
        self._step = FIRST

    def at(self, times: Array) -> tuple[Array, Array]:
        """Return temperatures of the nodes [°C] and cure of the sites [multiples of t90], one column a moment."""
        self._go_to(float(times.max()))
        marks = np.array([moment.time for moment in self._moments])
        leg = np.clip(np.searchsorted(marks, times, side="right") - 1, 0, len(marks) - 2)
        first, last = int(leg.min()), int(leg.max()) + 2
        span, moments = np.diff(marks)[leg], self._moments[first:last]
        place, leg = (times - marks[leg]) / span, leg - first
        late, leave, arrive = place**2 * (3 - 2 * place), span * place * (1 - place) ** 2, span * place**2 * (place - 1)

        def between(values: list[Array], slopes: list[Array]) -> Array:
            value, slope = np.array(values).T, np.array(slopes).T
            chord = value[:, leg] + (value[:, leg + 1] - value[:, leg]) * late
            return np.asarray(chord + slope[:, leg] * leave + slope[:, leg + 1] * arrive)

        nodes = between([moment.nodes for moment in moments], [moment.warming for moment in moments])
        cured = between([moment.cured for moment in moments], [moment.speed for moment in moments])
        return nodes + REFERENCE, cured

    def steps(self, start: float, end: float) -> list[float]:
        """Return when steps end between `start` and `end` [s]."""
        self._go_to(end)
        return [moment.time for moment in self._moments if start < moment.time < end]

    def _moment(self, time: float, nodes: Array, cured: Array) -> Moment:
        flows = self._chain.flows(nodes, self._ends(time) - REFERENCE)
        speed = self._chain.sites.speed(nodes)
        return Moment(time, nodes, cured, flows, speed, self._chain.warming(nodes, cured, flows, speed))

    def _go_to(self, time: float) -> None:
        while self._moments[-1].time < time or len(self._moments) == 1:
            self._go_on()

    def _go_on(self) -> None:
        """Take the next step, as long as its error allows; no step goes across a bend."""
        start = self._moments[-1]
        later = bisect_right(self._bends, start.time)
        stop = self._bends[later] if later < len(self._bends) else inf
        while True:
            step = min(self._step, LONGEST)
            lands = start.time + 1.1 * step >= stop
            end = self._try(start, stop if lands else start.time + step)
            if end is not None:
                break
        self._moments.append(end)
        if lands:
            self._step = FIRST

    def _try(self, start: Moment, time: float) -> Moment | None:
        """Return the moment at `time`, or None where that is too far; settle how long the next step may be."""
        chain, step = self._chain, time - start.time
        weight, half = IMPLICIT * step, EXPLICIT * step
        stored = chain.stored(start.nodes, start.cured)
        guess = start.nodes + STAGE * step * start.warming
        middle = self._solve(
            start.time + STAGE * step, weight, stored + weight * start.flows, start.cured + weight * start.speed, guess
        )
        end = middle and self._solve(
            time, weight, stored + half * (start.flows + middle.flows),
            start.cured + half * (start.speed + middle.speed), start.nodes + (middle.nodes - start.nodes) / STAGE,
        )  # fmt: skip
        if middle is None or end is None:
            self._step = SHRINK * step
            return None
        stages = (start, middle, end)
        heat = step * sum(weight * stage.flows for weight, stage in zip(EMBEDDED, stages, strict=True))
        cure = step * sum(weight * stage.speed for weight, stage in zip(EMBEDDED, stages, strict=True))
        matrix = chain.slopes(end.nodes, end.cured, weight)
        warmth = self._solve_rows(*matrix, heat + chain.gather(chain.sites.giving(end.cured) * cure))[3]
        error = float(np.abs(warmth).max()) / ERROR
        self._step = step * min(GROWTH, max(SHRINK, CAUTION * (error + 1e-9) ** (-1 / 3)))
        if error > 1:
            return None
        warmth = self._solve_rows(*matrix, (chain.capacity + chain.capacity_slope * end.nodes) * warmth)[3]
        return self._moment(time, end.nodes - warmth, end.cured - cure)

    def _solve(self, time: float, weight: float, stored: Array, cured: Array, nodes: Array) -> Moment | None:
        """Return the moment whose heat is `stored` and whose cure is `cured`, each with `weight` [s] of its own change.

        `nodes` are a first guess. None where Newton's corrections do not come to rest.
        """
        chain, ends = self._chain, self._ends(time) - REFERENCE
        for _ in range(CORRECTIONS):
            now = cured + weight * chain.sites.speed(nodes)
            excess = chain.stored(nodes, now) - weight * chain.flows(nodes, ends) - stored
            correction = self._solve_rows(*chain.slopes(nodes, now, weight), excess)[3]
            size = np.abs(correction).max()
            if not size < WILD:
                return None
            nodes = nodes - correction
            if size < CLOSE:
                return self._moment(time, nodes, cured + weight * chain.sites.speed(nodes))
        return None
