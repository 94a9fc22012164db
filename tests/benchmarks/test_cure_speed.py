"""How fast a cure is worked out, against scipy's own solver for stiff equations. Run with -m benchmark -s."""

from collections.abc import Callable
from functools import partial
from time import perf_counter

import numpy as np
import pytest

from mendbook.cure import compute
from mendbook.cure.advice import advise
from mendbook.cure.course import Wall
from mendbook.cure.schedules import power_off_time
from mendbook.terms.cure_order import CureOrder
from tests.cure.general import PLACES, TwoLayers
from tests.cure.lines import Lines
from tests.cure.walls import FILL, STEEL_CASING, beside, fill, heating, ideal, order, pad, through, varied

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
def test_advice_takes_less_than_a_second() -> None:
    found = milliseconds(lambda: advise(WANTED), 1)
    print(f"\nadvise: {found:.0f} ms")
    assert found < 1000


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


VARYING = order((varied(80, conductivity=-0.001, capacity=0.002, reaction=20),), pad())


@pytest.mark.benchmark
def test_the_march_against_the_modes_and_against_radau() -> None:
    """Heating only. The march does what modes cannot; Radau is given the power-off time and marches once."""
    exact = power_off_time(Wall(VARYING, elements=384))
    error = abs(power_off_time(Wall(VARYING)) / exact - 1)
    end = np.array([exact])
    ours = milliseconds(lambda: Wall(VARYING).heating.temperatures(end), 5)
    modes = milliseconds(lambda: Wall(order((fill(80),), pad())).heating.temperatures(end), 20)

    def radau_error(cells_per_mm: float, rtol: float) -> float:
        lines = Lines(VARYING, cells_per_mm)
        return float(abs(lines.heat(exact, rtol)[len(lines.capacity) :].min() - 1)) / 4

    grid = [(cells, rtol) for cells in (0.7, 1.0, 2.0) for rtol in (1e-3, 1e-4, 1e-5)]
    good = [(c, r) for c, r in grid if radau_error(c, r) <= max(2 * error, 2e-4)]
    assert good, "no run of Radau is as exact"
    radau = min(milliseconds(partial(Lines(VARYING, c).heat, exact, r), 2) for c, r in good)
    whole = milliseconds(lambda: compute(VARYING), 2)
    print(
        f"\nmarch {ours:.1f} ms (error {error:.1e}): {ours / modes:.0f} x the modes; Radau {radau:.0f} ms is "
        f"{radau / ours:.1f} x the march; a sheet of three schedules {whole:.0f} ms"
    )
    assert radau > ours


@pytest.mark.benchmark
def test_two_layers_against_fipy_at_equal_accuracy() -> None:
    """Temperatures at three depths an hour after a step, against the closed series of two layers."""
    closed = np.array([96.777454, 69.045966, 79.487632])
    layers = (fill(30, material=FILL), fill(50, material=STEEL_CASING))

    def modes(elements: int) -> float:
        stack, phase = heating(layers, ideal(), elements=elements)
        found = np.interp(PLACES, stack.depth, phase.temperatures(np.array([3600.0]))[:, 0])
        return float(np.abs(found - closed).max())

    def fipy(cells: int, steps: int) -> float:
        """Its steps are of first order; three runs extrapolated are far cheaper than one with as small an error."""
        coarse, middle, fine = (TwoLayers(cells).march(3600, steps * halved) for halved in (1, 2, 4))
        return float(np.abs((8 * fine - 6 * middle + coarse) / 3 - closed).max())

    print("\nelements: error [K] " + ", ".join(f"{n}: {modes(n):.1e}" for n in (12, 24, 48, 96, 192)))
    wanted = modes(48)
    ours = milliseconds(partial(modes, 48), 20)
    good = [(c, n) for c in (32, 80) for n in (4, 8, 15) if fipy(c, n) <= max(wanted, 0.05)]
    assert good, "no run of FiPy is as exact"
    theirs = min(milliseconds(partial(fipy, c, n), 1) for c, n in good)
    print(f"modes {ours:.2f} ms (error {wanted:.1e} K), FiPy {theirs:.0f} ms at best: ratio {theirs / ours:.0f}")
    assert theirs / ours > 10


@pytest.mark.benchmark
def test_error_against_resolution() -> None:
    """Relative error of the heating-only time, against 384 elements."""
    for name, wanted in (("modes, through 80 mm", WANTED), ("march, 80 mm of fill that varies", VARYING)):
        exact = power_off_time(Wall(wanted, elements=384))
        errors = {n: power_off_time(Wall(wanted, elements=n)) / exact - 1 for n in (12, 24, 48, 96)}
        print(f"\n{name}: " + ", ".join(f"{n} elements {error:+.1e}" for n, error in errors.items()))
        assert abs(errors[48]) < 5e-4
        assert abs(errors[96]) < abs(errors[48]) / 3
