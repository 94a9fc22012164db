"""Falls of the pads taken together: a power cut, a pad that failed, or the power-off that was due."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np

from mendbook.cure.live.forecast import Forecast, as_now, forecast, was_due
from mendbook.cure.live.history import History, Pads
from mendbook.cure.live.pad_courses import Fall
from mendbook.cure.live.pads import SIDES
from mendbook.cure.live.record import Record
from mendbook.terms.cure_state import Fault

LONG = 1800.0  # s; a fall that lasts longer may have been meant


@dataclass(frozen=True)
class Event:
    """Falls of pads that meet in time. Times in [s after the first line]; `end` is None while it lasts."""

    falls: tuple[Fall, ...]
    of_all: bool  # every pad fell
    was_due: bool  # the cure was far enough for power-off

    @property
    def start(self) -> float:
        """When the first pad fell."""
        return min(fall.start for fall in self.falls)

    @property
    def end(self) -> float | None:
        """When the last was back."""
        ends = [fall.end for fall in self.falls]
        return None if None in ends else max(end for end in ends if end is not None)

    @property
    def coldest(self) -> float:
        """Coldest reading [°C]."""
        return min(fall.coldest for fall in self.falls)

    @property
    def is_off(self) -> bool:
        """Whether no pad heats at the end of the log."""
        return self.of_all and all(fall.end is None for fall in self.falls)

    @property
    def is_power_off(self) -> bool:
        """Whether it is the power-off of a cure that was far enough."""
        return self.is_off and self.was_due

    @property
    def is_cut(self) -> bool:
        """Whether every pad fell, and nobody should have asked for it."""
        return self.of_all and not self.is_power_off


def events_of(history: History, falls: Sequence[Fall]) -> list[Event]:
    """Return `falls` in groups that meet in time."""
    now = float(history.pads.times[-1])
    heated = {side for side, pad in enumerate((history.order.outside, history.order.inside)) if pad.present}
    groups: list[list[Fall]] = []
    for fall in falls:
        meeting = next((group for group in groups if any(fall.meets(other, now) for other in group)), None)
        if meeting is None:
            groups.append([fall])
        else:
            meeting.append(fall)
    return [_event(history, group, heated) for group in groups]


def _event(history: History, group: list[Fall], heated: set[int]) -> Event:
    of_all = {fall.side for fall in group} == heated
    index = int(np.searchsorted(history.pads.times, min(fall.start for fall in group)))
    lasts = all(fall.end is None for fall in group)
    return Event(tuple(group), of_all, of_all and lasts and was_due(history, index))


def costs(history: History, event: Event, going_on: Forecast | None) -> float | None:
    """Return the heating that a cut adds [min]: against pads that had stayed as they were, in a straight line."""
    if going_on is None:
        return None
    times, readings = history.pads.times, history.pads.readings.copy()
    for fall in event.falls:
        within = (times > fall.start) & (times < (fall.end or np.inf))
        after = fall.before if fall.end is None else float(np.interp(fall.end, times, readings[fall.side]))
        ends = ([fall.start, fall.end or float(times[-1])], [fall.before, max(after, fall.before)])
        readings[fall.side, within] = np.interp(times[within], *ends)
        if fall.end is None:
            readings[fall.side, -1] = fall.before
    kept = History(history.order, replace(history.pads, readings=readings))
    without = forecast(kept, as_now(kept))
    return None if without is None else round((going_on.seconds - without.seconds) / 60, 1)


def told(events: Sequence[Event], record: Record, pads: Pads) -> list[Fault]:
    """Return what is to be said of `events`, those that were due left out."""
    return [fault for event in events for fault in _told(event, record, float(pads.times[-1]))]


def _told(event: Event, record: Record, now: float) -> list[Fault]:
    if event.is_power_off:
        return []
    end = now if event.end is None else event.end
    minutes = (end - event.start) / 60
    so_far = " so far" if event.end is None else ""
    if event.of_all:
        early = " Or it was switched off before it was due." if event.end is None and end - event.start > LONG else ""
        return [
            Fault(
                kind="power cut",
                where="",
                from_min=event.start / 60,
                to_min=None if event.end is None else event.end / 60,
                said=f"Every pad lost its heat, for {minutes:.0f} min{so_far}, down to {event.coldest:.0f} °C.{early}",
                done="The cure goes on from where the wall stands; minutes of a clock no longer hold. "
                "Leave clamp and pads on.",
            )
        ]
    names = [
        channel.name if (channel := record.pads[side]) else f"{SIDES[side]} pad"
        for side in sorted({fall.side for fall in event.falls})
    ]
    return [
        Fault(
            kind="pad failed",
            where=", ".join(names),
            from_min=event.start / 60,
            to_min=None if event.end is None else event.end / 60,
            said=f"It lost its heat while the other held, for {minutes:.0f} min{so_far}, down to "
            f"{event.coldest:.0f} °C.",
            done="Nothing was replaced: the log counts. If the pad is hot by hand, its sensor has come off: then the "
            "minutes are too long rather than too short.",
        )
    ]
