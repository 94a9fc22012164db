"""How fast a cure is worked out, against scipy's own solver for stiff equations. Run with -m benchmark -s."""

from collections.abc import Callable
from functools import partial
from time import perf_counter

import pytest

from mendbook.cure import compute
from mendbook.cure.course import Wall
from mendbook.cure.schedules import power_off_time
from mendbook.terms.cure_order import CureOrder
from tests.cure.lines import Lines
from tests.cure.walls import beside, order, pad, through

WANTED = order(through(80), pad())


def milliseconds(work: Callable[[], object], times: int) -> float:
    """Return the best of three rounds of `times` runs [ms a run]."""
    rounds = []
    work()
    for _ in range(3):
        start = perf_counter()
        for _ in range(times):
            work()
        rounds.append((perf_counter() - start) / times * 1e3)
    return min(rounds)


@pytest.mark.benchmark
@pytest.mark.parametrize("wanted", [WANTED, order(beside(80), pad())], ids=["through 80 mm", "beside 80 mm"])
def test_a_sheet_takes_a_few_milliseconds(wanted: CureOrder) -> None:
    found = milliseconds(lambda: compute(wanted), 50)
    print(f"\ncompute: {found:.2f} ms")
    assert found < 10


@pytest.mark.benchmark
def test_the_modes_beat_a_march_in_time_of_the_same_accuracy() -> None:
    """Heating to one known power-off, the cure of the slowest point as the measure of accuracy.

    The march starts from the power-off time; to find it as the engine does, it would march several times.
    """
    exact = power_off_time(Wall(WANTED, elements=384))
    wall_error = abs(power_off_time(Wall(WANTED)) / exact - 1)

    def error(cells_per_mm: float, rtol: float) -> float:
        lines = Lines(WANTED, cells_per_mm)
        cells = len(lines.capacity)
        least = lines.heat(exact, rtol)[cells:][lines.must].min()
        return float(abs(least - 1)) / 4  # cure grows 4 % with every per cent of time

    grid = [(cells, rtol) for cells in (0.7, 1.0, 2.0) for rtol in (1e-3, 1e-4, 1e-5)]
    good = [(c, r) for c, r in grid if error(c, r) <= max(2 * wall_error, 2e-4)]
    assert good, "no march is as exact"
    marches = {(c, r): milliseconds(partial(Lines(WANTED, c).heat, exact, r), 2) for c, r in good}
    best = min(marches, key=lambda key: marches[key])
    ours = milliseconds(lambda: power_off_time(Wall(WANTED)), 50)
    print(
        f"\nmodes {ours:.2f} ms (error {wall_error:.1e}), Radau {marches[best]:.1f} ms at {best[0]:g} cells/mm and "
        f"rtol {best[1]:g} (error {error(*best):.1e}): ratio {marches[best] / ours:.0f}"
    )
    assert marches[best] / ours > 3
