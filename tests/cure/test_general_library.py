"""Two layers, and a pad that ends, against a general library for partial differential equations, FiPy (run here)."""

import numpy as np
import pytest

from mendbook.cure.disc import Disc
from mendbook.cure.grid import Outline
from tests.cure.general import PLACES, TwoLayers, UnderStrip
from tests.cure.walls import FILL, STEEL_CASING, fill, heating, ideal, order, step

LAYERS = (fill(30, material=FILL), fill(50, material=STEEL_CASING))


def test_two_layers_warm_up_as_in_fipy() -> None:
    """FiPy's Euler steps are of first order: three runs with halved steps, extrapolated."""
    coarse, middle, fine = (TwoLayers(160).march(3600, steps) for steps in (15, 30, 60))
    expected = (8 * fine - 6 * middle + coarse) / 3
    stack, phase = heating(LAYERS, ideal(), elements=320)
    found = np.interp(PLACES, stack.depth, phase.temperatures(np.array([3600.0]))[:, 0])
    assert found == pytest.approx(expected, abs=2e-3)
    assert expected == pytest.approx([96.777454, 69.045966, 79.487632], abs=2e-3)  # the closed series of two layers


def test_two_layers_decay_as_fipy_s_matrix_does() -> None:
    expected = TwoLayers(160).decay(3)
    _, phase = heating(LAYERS, ideal(), elements=320)
    assert phase.modes.decay[:3] == pytest.approx(expected, rel=3e-4)
    assert expected == pytest.approx([1.9740e-4, 8.3086e-4, 1.80317e-3], rel=5e-4)  # of the characteristic equation


def test_under_a_pad_that_ends_it_is_as_warm_as_in_fipy() -> None:
    """A good contact beside a bare face, which no product of solutions describes. Extrapolated in time and in size."""
    inside, hour = np.array([-0.01, 0.01, 0.02, 0.03, 0.05]), 3600.0
    sizes = []
    for rows in (6, 12):
        once, twice = (UnderStrip(rows).march(hour, steps, inside) for steps in (15, 30))
        sizes.append(2 * twice - once)
    expected = 2 * sizes[1] - sizes[0]  # first order in size, because of the corner at the pad's edge
    edge = 1e3 * UnderStrip.EDGE
    disc = Disc(order((fill(40),), step()), Outline(edge, edge, is_round=False))
    while disc.times[-1] < hour:
        disc.go_on()
    share = (hour - disc.times[-2]) / (disc.times[-1] - disc.times[-2])
    now = disc.temperatures[-2] + share * (disc.temperatures[-1] - disc.temperatures[-2])
    found = np.interp(edge - 1e3 * inside, disc.distances_mm, now[len(now) // 2])
    assert found == pytest.approx(expected, abs=0.25)
