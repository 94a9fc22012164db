"""Chance in whole numbers: the same seed gives the same yard, byte for byte, on any machine.

The streams of numpy's PCG64 and SeedSequence are fixed for all versions (NEP 19); its distributions are not, and a
logarithm may differ in its last digit from one machine to the next. So all that is drawn here is drawn with integers.
"""

from collections.abc import Sequence
from zlib import crc32

import numpy as np
from numpy.typing import NDArray

Ints = NDArray[np.int64]
FACES = 32  # bits of one roll


class Dice:
    """Draws columns by name; a column more changes no other column, and a piece is what it is within the whole."""

    def __init__(self, seed: int, first: int = 0) -> None:
        """Draw from the row `first` on."""
        self._seed, self.first = seed, first

    def roll(self, name: str, count: int) -> Ints:
        """Return `count` whole numbers from 0 to 2**32 - 1."""
        source = np.random.PCG64(np.random.SeedSequence([self._seed, crc32(name.encode())]))
        source.advance(self.first)
        return (source.random_raw(count) >> np.uint64(64 - FACES)).astype(np.int64)

    def chance(self, name: str, count: int, in_a_thousand: int | Ints) -> NDArray[np.bool_]:
        """Return what comes true `in_a_thousand` times."""
        return self.roll(name, count) < in_a_thousand * (1 << FACES) // 1000

    def pick(self, name: str, count: int, weights: Sequence[int]) -> Ints:
        """Return places in `weights`, each as often as it weighs."""
        ends = np.cumsum(weights)
        return np.searchsorted(ends, scaled(self.roll(name, count), int(ends[-1])), side="right").astype(np.int64)

    def pick_by(self, name: str, kinds: Ints, weights: Sequence[Sequence[int]]) -> Ints:
        """Return places in the weights of each one's kind."""
        drawn = [self.pick(f"{name} {kind}", len(kinds), row) for kind, row in enumerate(weights)]
        return np.choose(kinds, drawn) if len(drawn) <= 32 else np.array(drawn)[kinds, np.arange(len(kinds))]

    def between(self, name: str, low: int | Ints, high: int | Ints, count: int) -> Ints:
        """Return whole numbers from `low` to `high`, both ends among them."""
        return low + scaled(self.roll(name, count), high - low + 1)

    def knots(self, name: str, values: Sequence[int], count: int, leaning: Ints | None = None) -> Ints:
        """Return numbers spread evenly between neighbours of `values`, as many in each gap.

        With `leaning`, rolls of another column, three parts in four follow those: the columns go together.
        """
        rolls = self.roll(name, count)
        return along(rolls if leaning is None else (3 * leaning + rolls) >> 2, values)


def scaled(rolls: Ints, number: int | Ints) -> Ints:
    """Return rolls as whole numbers from 0 to below `number`."""
    return (rolls * number) >> FACES


def along(rolls: Ints, values: Sequence[int]) -> Ints:
    """Return for each roll the number that lies so far along `values`."""
    points = np.array(values, dtype=np.int64)
    far = rolls * (len(values) - 1)
    place, rest = far >> FACES, (far & ((1 << FACES) - 1)) >> 16
    return points[place] + (((points[place + 1] - points[place]) * rest) >> 16)
