"""From an order and a record to the state of the cure."""

from dataclasses import replace
from math import ceil

import numpy as np

from mendbook.cure.arrays import Array
from mendbook.cure.course import Course
from mendbook.cure.live import forecast as ahead
from mendbook.cure.live.cuts import Event, costs, events_of, told
from mendbook.cure.live.estimate import Fit, tell
from mendbook.cure.live.pad_courses import BEGUN, find_falls, judge_pads
from mendbook.cure.live.pads import late_start, settle, unstick, unswap
from mendbook.cure.live.pressure import judge_pressure
from mendbook.cure.live.record import Record
from mendbook.cure.live.sensors import Told, listen
from mendbook.cure.live.signals import clean_signals, find_gaps, find_missing
from mendbook.cure.live.spread import spread
from mendbook.cure.live.units import right_units
from mendbook.cure.live.words import live_cautions, live_notes
from mendbook.cure.reach import judge_pads as judge_reach
from mendbook.cure.schedules import target_of
from mendbook.cure.varying import hold_still
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import FaceCure
from mendbook.terms.cure_state import CureState, DepthState, Fault, Phase, PowerCut, Remaining

TEN_MINUTES = 600.0  # s


def read_state(
    order: CureOrder, record: Record, *, began: str = "", faults: tuple[Fault, ...] = (), notes: tuple[str, ...] = ()
) -> CureState:
    """Return where the cure of `order` stands by its log, and what it still needs.

    record : the log as it was read, at least one line and one pad
    began : clock of its first line, if it has one
    faults, notes : what was found already while it was read

    Properties that change with temperature, and heat of reaction, are left out. Raises PadTooSmallError where the
    edge of the injury would take too long.
    """
    varied, order = order, hold_still(order)
    found = [*faults, *find_gaps(record), *find_missing(record)]
    lines = len(record.times)
    for mend in (right_units, clean_signals, unswap, unstick):
        record, more = mend(order, record)
        found += more
    pads, more = settle(order, record)
    pads = replace(pads, longer=_longer(order))
    found += [*more, *late_start(order, record)]
    told_by = listen(order, record, pads)
    found += told_by.faults
    fitted = _slowest_fit(told_by)
    history = fitted.history
    falls = find_falls(order, told_by.pads)
    events = events_of(history, falls)
    found += judge_pads(order, told_by.pads, falls, record)
    view = _View(order, record, fitted, events)
    found += told(events, record, told_by.pads)
    found += judge_pressure(history, record, view.released_at)
    state = view.state(lines, began, tuple(sorted(found, key=lambda fault: (fault.from_min, fault.where))))
    return state.model_copy(update={"notes": (*live_notes(varied, fitted), *notes)})


def _longer(order: CureOrder) -> float:
    """Return by how much longer the edge of the injury takes than the middle."""
    judged = judge_reach(order, ahead.schedules_of(order))
    return next(iter(judged.factors.values())) if judged else 1.0


def _slowest_fit(told_by: Told) -> Fit:
    """Return the reading of the sensors by which the cure takes longest."""
    if len(told_by.fits) == 1:
        return told_by.fits[0]

    def seconds(fitted: Fit) -> float:
        going_on = ahead.forecast(fitted.history, ahead.at_setpoint(fitted.history))
        return going_on.seconds if going_on else np.inf

    return max(told_by.fits, key=lambda fitted: (seconds(fitted), -fitted.history.least_cure()))


class _View:
    """All that a state is made of."""

    def __init__(self, order: CureOrder, record: Record, fitted: Fit, events: list[Event]) -> None:
        self.order, self.record, self.fitted, self.events = order, record, fitted, events
        self.history = fitted.history
        self.is_off = any(event.is_off for event in events)
        self.was_asked = any(event.is_power_off for event in events)
        self.offset = self._offset()
        self.hottest = float(self.history.temperatures[:, -1].max()) + self.offset
        self.going_on = None if self.is_off else ahead.forecast(self.history, ahead.as_now(self.history))
        self.brought_up = None if self.was_asked else ahead.forecast(self.history, ahead.at_setpoint(self.history))
        self.cooling: Course | None = self._cooling()
        self.to_release = self._to_release()
        self.is_cured = self.history.least_cure(ahead.edge_index(self.history)) >= order.target
        self.may_release = self.is_off and self.is_cured and self.to_release == 0 and self.hottest <= order.release_C

    def _offset(self) -> float:
        """Return by how much sensors read above the model at last [K], never below zero."""
        end = self.history.pads.times[-1]
        lately = [
            float(self.fitted.residuals(block)[block.times >= end - TEN_MINUTES].mean())
            for block in self.fitted.blocks
            if block.times[-1] >= end - TEN_MINUTES
        ]
        return max([0.0, *lately])

    def _cooling(self) -> Course | None:
        if self.is_off:
            return ahead.switch_off(self.history)
        going_on = self.going_on or self.brought_up
        return going_on.course if going_on else None

    def _to_release(self) -> float | None:
        """Return the time to release after power-off, or from now where it is off [s]."""
        if self.cooling is None:
            return None
        below = max(self.order.release_C - self.offset, self.order.ambient_C + 1)
        return self.cooling.cooling.time_to(below)

    @property
    def released_at(self) -> float | None:
        """From when on the clamp might be let go, by what is past [s]; None if not yet."""
        off = next((event.start for event in self.events if event.is_off), None)
        if off is None or not self.is_cured:
            return None
        times, hottest = self.history.pads.times, self.history.temperatures.max(axis=0) + self.offset
        cool = np.flatnonzero((times > off) & (hottest > self.order.release_C))
        last = int(cool[-1]) + 1 if len(cool) else int(np.searchsorted(times, off))
        return float(times[last]) if last < len(times) else None

    @property
    def phase(self) -> Phase:
        """Where the cure stands, in a word."""
        if self.may_release:
            return "ready"
        if self.is_off:
            return "cooling" if self.was_asked else "power cut"
        pads = self.history.pads
        sides = [side for side, pad in enumerate((self.order.outside, self.order.inside)) if pad.present]
        if all(pads.readings[side].max() < pads.readings[side, 0] + BEGUN for side in sides):
            cold = all(pads.readings[side, -1] < ahead.RISING * 60 + 80 for side in sides)
            return "waiting" if cold else "heating"
        rising = (pads.slope(side, ahead.LATELY) > ahead.RISING for side in sides)
        return "warming up" if any(rising) else "heating"

    def state(self, lines: int, began: str, faults: tuple[Fault, ...]) -> CureState:
        """Return the whole answer."""
        now = float(self.history.pads.times[-1]) / 60
        as_now = self._remaining(self.going_on, "as now")
        going_on = self.going_on or self.brought_up
        followed = going_on.name if going_on else ahead.schedules_of(self.order)[0]
        depths = self._depths()
        wall = self.history.wall
        record = self.record.pressure
        given = record.readings[record.known] if record else np.array([])
        return CureState(
            case=self.order.case,
            began=began,
            minutes_logged=round(now, 2),
            lines=lines,
            phase=self.phase,
            schedule=followed,
            target=target_of(wall, followed),
            slowest=depths[wall.slowest(self.history.cure[:, -1])],
            outside=self._face(0, self.history.cure[:, -1]),
            inside=self._face(-1, self.history.cure[:, -1]),
            outside_in_the_end=self.cooling and self._face(0, self.cooling.after_cooling),
            inside_in_the_end=self.cooling and self._face(-1, self.cooling.after_cooling),
            depths=depths,
            as_now=as_now,
            at_setpoint=self._remaining(self.brought_up, "at setpoint"),
            switch_off_at_min=None if as_now is None else round(now + as_now.minutes, 1),
            cured_in_the_end=self._in_the_end(),
            hottest_C=round(self.hottest, 1),
            minutes_to_release=None if self.to_release is None else _up(self.to_release),
            may_release=self.may_release,
            release_C=self.order.release_C,
            estimate=tell(self.fitted),
            power_cuts=self._cuts(),
            pressure_bar=round(float(given[-1]), 2) if given.size else None,
            faults=faults,
            cautions=live_cautions(self.order),
            notes=(),
        )

    def _depths(self) -> tuple[DepthState, ...]:
        wall, cure = self.history.wall, self.history.cure[:, -1]
        return tuple(
            DepthState(
                layer=self.order.layers[layer].name,
                depth_mm=round(1e3 * float(wall.stack.depth[node]), 1),
                temperature_C=round(float(self.history.temperatures[node, -1]), 1),
                cure=round(float(reached), 4),
                must_cure=bool(must),
            )
            for node, layer, reached, must in zip(
                wall.points.nodes, wall.points.layers, cure, wall.points.must_cure, strict=True
            )
        )

    def _face(self, end: int, cure: Array) -> FaceCure | None:
        layer = self.order.layers[end]
        if layer.compound is None:
            return None
        multiples, limit = float(cure[end]), layer.compound.face_limit
        return FaceCure(layer=layer.name, multiples=round(multiples, 3), limit=limit, ok=multiples <= limit)

    def _in_the_end(self) -> float:
        cure = self.cooling.after_cooling if self.cooling else self.history.cure[:, -1]
        return round(float(cure[self.history.wall.points.must_cure].min()), 3)

    def _remaining(self, going_on: ahead.Forecast | None, how: str) -> Remaining | None:
        """Return the heating still needed, with its band where sensors tell of the wall."""
        if going_on is None:
            return None
        if not self.fitted.blocks or going_on.seconds == 0:
            return Remaining(minutes=_up(going_on.seconds))
        faces = ahead.as_now if how == "as now" else ahead.at_setpoint
        low, high = spread(self.fitted, going_on, faces)
        return Remaining(
            minutes=_up(going_on.seconds),
            low=None if low is None else round(low / 60, 1),
            high=None if high is None else _up(high),
        )

    def _cuts(self) -> tuple[PowerCut, ...]:
        return tuple(
            PowerCut(
                from_min=round(event.start / 60, 1),
                to_min=None if event.end is None else round(event.end / 60, 1),
                coldest_C=round(event.coldest, 1),
                costs_min=None if self.was_asked else costs(self.history, event, self.going_on or self.brought_up),
            )
            for event in self.events
            if event.is_cut
        )


def _up(seconds: float) -> float:
    """Return tenths of a minute, rounded up: a cure is never cut short by rounding."""
    return ceil(seconds / 6 - 1e-6) / 10
