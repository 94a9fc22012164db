"""What interior sensors tell, held against the model and each other: hung, swapped, drifting, or an unusual wall."""

from dataclasses import dataclass, replace
from functools import partial
from itertools import combinations
from math import exp

import numpy as np

from mendbook.cure.live.estimate import DIFFUSIVITY_SD, NINETY, Block, Fit, blocks_of, fit
from mendbook.cure.live.history import History, Pads, scaled
from mendbook.cure.live.pads import APART, exchange_pads
from mendbook.cure.live.record import Record
from mendbook.cure.live.signals import standing_runs, stuck
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_state import Fault

POOR = 1.0  # K; a fit no worse is not questioned, unless
SHIFTED = 3.5  # it puts a sensor so far from its depth [standard deviations]
BETTER = 0.2  # of the cost of a fit: another reading of the columns must bring it so far down
AWAY = 4.0  # K; a sensor that is so far off the model for ten minutes has left it
TEN = 10  # minutes
GOOD = 1.2  # K; so well a sensor fits as long as it is sound
MOVED = 8.0  # K by the model while a sensor stood still
STRANGE = 3 * DIFFUSIVITY_SD  # of the logarithm of the diffusivity


@dataclass(frozen=True)
class Told:
    """What the sensors tell. Where more than one reading of them is left, the slowest cure counts."""

    fits: tuple[Fit, ...]
    pads: Pads
    faults: tuple[Fault, ...]


def listen(order: CureOrder, record: Record, pads: Pads) -> Told:
    """Return what the interior sensors of `record` tell of the wall of `order` under `pads`."""
    record, faults = _without_hung(order, record, pads)
    blocks = blocks_of(record.times, record.sensors)
    first = fit(order, pads, blocks)
    if not blocks:
        return Told((first,), pads, tuple(faults))
    if _is_poor(first) and pads.times[0] < 0:
        faults.append(_late(record))
        return Told((_slow(order, pads),), pads, tuple(faults))
    if _is_poor(first):
        first, blocks, pads, found = _exchanged(first, order, record, pads, blocks)
        faults += found
    fits, found = _without_drift(first, order, pads, blocks, record)
    faults += found
    if abs(fits[0].parameters[0]) > STRANGE:
        faults.append(_strange(fits[0], record))
        fits = (*fits, fit(order, pads, ()))
    return Told(fits, pads, tuple(faults))


def _without_hung(order: CureOrder, record: Record, pads: Pads) -> tuple[Record, list[Fault]]:
    """Return the record without readings of sensors that stood still to the last digit while the model moved."""
    runs = [(sensor, standing_runs(sensor, record.times)) for sensor in record.sensors]
    if not any(found for _, found in runs):
        return record, []
    history = History(order, pads)
    faults, mended = [], []
    for sensor, found in runs:
        readings = sensor.readings.copy()
        for start, end in found:
            course = history.at_depth(sensor.depth or 0.0, record.times[[start, end]])
            if abs(float(course[1] - course[0])) > MOVED:
                readings[start + 1 : end + 1] = np.nan
                faults.append(stuck(sensor, record.times, start, end, end - start))
        mended.append(sensor.read_as(readings))
    return record.swap(*mended), faults


def _exchanged(
    first: Fit, order: CureOrder, record: Record, pads: Pads, blocks: tuple[Block, ...]
) -> tuple[Fit, tuple[Block, ...], Pads, list[Fault]]:
    """Return the fit with two columns read the other way round, where that explains what does not fit otherwise."""
    best, answer = BETTER * first.cost, (first, blocks, pads, list[Fault]())
    for one, other in combinations(range(len(blocks)), 2):
        turned = list(blocks)
        turned[one] = replace(blocks[one], depth=blocks[other].depth)
        turned[other] = replace(blocks[other], depth=blocks[one].depth)
        tried = fit(order, pads, tuple(turned))
        if tried.cost < best:
            best, answer = tried.cost, (tried, tuple(turned), pads, [_turned(record, blocks[one], blocks[other])])
    if record.outside and record.inside and np.abs(np.diff(pads.readings, axis=0)).max() > APART:
        across = replace(pads, readings=pads.readings[::-1])
        tried = fit(order, across, blocks)
        if tried.cost < best:
            _, faults = exchange_pads(record, "The sensors inside fit only so.")
            answer = (tried, blocks, across, faults)
    return answer


def _turned(record: Record, one: Block, other: Block) -> Fault:
    return Fault(
        kind="swapped",
        where=f"{one.name}, {other.name}",
        from_min=float(min(one.times[0], other.times[0])) / 60,
        to_min=None,
        readings=_readings(record, one.name, other.name),
        said="These two sensors are swapped: in this order heat cannot have reached them.",
        done="Each was read at the depth of the other. Check which wire goes where.",
    )


def _without_drift(
    first: Fit, order: CureOrder, pads: Pads, blocks: tuple[Block, ...], record: Record
) -> tuple[tuple[Fit, ...], list[Fault]]:
    """Return the fits to go by once sensors that left the model are left out."""
    now, kept, faults = first, list(blocks), list[Fault]()
    while len(kept) > 1 and _is_poor(now):
        without = [fit(order, pads, tuple(kept[:index] + kept[index + 1 :])) for index in range(len(kept))]
        wrong = min(range(len(kept)), key=lambda index: without[index].cost)
        faults.append(_drift(kept.pop(wrong), without[wrong], record, _BORNE_OUT))
        now = without[wrong]
    if not _is_poor(now):
        return (now,), faults
    sound = fit(order, pads, _sound_part(order, pads, kept[0]))
    faults.append(_drift(kept[0], sound, record, _ALONE))
    return (sound, now, _slow(order, pads)), faults


def _slow(order: CureOrder, pads: Pads) -> Fit:
    """Return the wall as slow as is likely without anything that tells of it: 5 % of the cases are slower."""
    return fit(scaled(order, exp(-NINETY * DIFFUSIVITY_SD), 1.0), pads, ())


_BORNE_OUT = "All its readings are left out of the estimate; the other sensors bear the model out."
_ALONE = (
    "No other sensor can say whether it or the model is wrong. Of the times by it, by what it read before, and by the "
    "order with the slowest rubber that is likely, the longest counts."
)


def _is_poor(fitted: Fit) -> bool:
    """Return whether the readings do not go together with any wall like the one ordered."""
    if max(len(block.times) for block in fitted.blocks) < TEN:
        return False
    return fitted.misfit > POOR or fitted.most_shifted > SHIFTED or any(map(partial(_has_left, fitted), fitted.blocks))


def _has_left(fitted: Fit, block: Block) -> bool:
    """Return whether a sensor lies off the model for ten minutes together."""
    off = fitted.residuals(block)
    if len(off) < TEN:
        return False
    means = np.convolve(off, np.ones(TEN) / TEN, mode="valid")
    return bool(np.abs(means).max() > AWAY)


def _sound_part(order: CureOrder, pads: Pads, block: Block) -> tuple[Block, ...]:
    """Return the longest beginning of a sensor that goes with the model, less ten minutes; nothing where none does."""
    low, high = 0, len(block.times)
    while high - low > 1:
        middle = (low + high) // 2
        tried = fit(order, pads, (_beginning(block, middle),))
        off = tried.residuals(tried.blocks[0])[-TEN:]
        low, high = (middle, high) if abs(float(off.mean())) < GOOD and not _is_poor(tried) else (low, middle)
    return (_beginning(block, low - TEN),) if low > TEN else ()


def _beginning(block: Block, minutes: int) -> Block:
    return replace(block, times=block.times[:minutes], means=block.means[:minutes], sd=block.sd[:minutes])


def _drift(block: Block, fitted: Fit, record: Record, done: str) -> Fault:
    off = block.means - fitted.history.at_depth(block.depth, block.times)
    worst = float(off[np.argmax(np.abs(off))])
    near = np.flatnonzero(np.abs(off) < GOOD)
    start = float(block.times[min(near[-1] + 1, len(off) - 1)] if len(near) else block.times[0])
    return Fault(
        kind="drift",
        where=block.name,
        from_min=start / 60,
        to_min=None,
        readings=_readings(record, block.name),
        said=f"It leaves the model, and reads up to {abs(worst):.0f} K {'above' if worst > 0 else 'below'} it.",
        done=done,
    )


def _late(record: Record) -> Fault:
    return Fault(
        kind="late start",
        where=", ".join(sensor.name for sensor in record.sensors),
        from_min=0.0,
        to_min=None,
        readings=_readings(record, *(sensor.name for sensor in record.sensors)),
        said="The sensors inside do not go with a wall that was heated for so short a time before the log began.",
        done="They are not used. The slowest rubber that is likely counts, and no heat from before but the rise.",
    )


def _strange(fitted: Fit, record: Record) -> Fault:
    return Fault(
        kind="unusual wall",
        where=", ".join(block.name for block in fitted.blocks),
        from_min=0.0,
        to_min=None,
        said=f"By the sensors the diffusivity is {fitted.diffusivity:.2f} times that of the order, further off than is "
        f"usual. Check the materials, the thicknesses and the depths of the sensors ({len(record.sensors)}).",
        done="Of the times by the sensors and by the order the longer counts.",
    )


def _readings(record: Record, *names: str) -> int:
    """Return how many readings there are in the columns of `names`."""
    return sum(int(sensor.known.sum()) for sensor in record.sensors if sensor.name in names)
