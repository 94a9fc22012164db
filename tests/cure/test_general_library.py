"""Two layers against a general library for partial differential equations, FiPy (read and run here)."""

import numpy as np
import pytest

from tests.cure.general import PLACES, TwoLayers
from tests.cure.walls import FILL, STEEL_CASING, fill, heating, ideal

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
