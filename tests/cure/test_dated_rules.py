"""Minutes per thickness of an old public manual against what heat conduction alone takes.

US Army TM 9-2610-200-14 (September 2000 and 2005, public release), para 2-41 note, read: hot spot repair at 280 to
300 °F, 6 min for each 1/32 in of all-purpose or tread rubber, 1 min for each 1/32 in of two-part filler. The copy
prints "2 inch (0.8 mm)"; 1/32 in is our reading, for that is 0.8 mm. With our cure of t90 added it stands in
tests/conformance/test_army_manual.py; here no cure is asked for, only nine tenths of the warming at the slowest point.
"""

import numpy as np
import pytest
from scipy.optimize import brentq

from mendbook.terms.cure_wall import Material
from tests.cure.series import step_share
from tests.cure.walls import INSULATED, fill, heating, ideal

THIRTY_SECOND = 25.4 / 32  # mm
RUBBER, FILLER = 6 / THIRTY_SECOND, 1 / THIRTY_SECOND  # min/mm
ALPHA = 1.3e-7  # m2/s, black-filled natural rubber, from memory
FAST = Material(
    name="rubber",
    conductivity_W_mK=ALPHA * 1120 * 1850,
    density_kg_m3=1120,
    heat_capacity_J_kgK=1850,
    basis="an example",
)


def conduction(thickness: float, *, one_sided: bool) -> float:
    """Return minutes until the slowest point has nine tenths of the step; the series, whatever the engine says."""
    fourier = brentq(lambda fo: step_share(0, fo) - 0.1, 0.2, 3)
    half = thickness / 1e3 * (1 if one_sided else 0.5)
    return float(fourier * half**2 / ALPHA / 60)


def test_the_manual_s_lines() -> None:
    """By hand: 25.4 mm are 32 thirty-seconds, so 192 min; 10 mm 75.6 min."""
    assert pytest.approx(7.56, abs=0.005) == RUBBER
    assert pytest.approx(1.26, abs=0.001) == FILLER
    assert pytest.approx(75.6, abs=0.05) == 10 * RUBBER
    assert pytest.approx(192) == 25.4 * RUBBER


@pytest.mark.parametrize("thickness", [10, 30, 80])
@pytest.mark.parametrize("one_sided", [True, False])
def test_the_engine_conducts_as_the_series_does(thickness: float, one_sided: bool) -> None:
    minutes = conduction(thickness, one_sided=one_sided)
    layers = (fill(thickness, material=FAST),)
    phase = heating(layers, ideal(), INSULATED if one_sided else ideal())[1]
    slowest = phase.temperatures(np.array([minutes * 60])).min()
    assert (slowest - 20) / 120 == pytest.approx(0.9, abs=2e-3)


@pytest.mark.parametrize(
    ("line", "one_sided", "crossing"),
    [(RUBBER, False, 229), (RUBBER, True, 57), (FILLER, False, 38), (FILLER, True, 9.5)],
)
def test_a_straight_line_is_shorter_than_conduction_alone_from_some_thickness_on(
    line: float, one_sided: bool, crossing: float
) -> None:
    """The manual's rubber is on the safe side where thin; heated from one face, from 57 mm on it is not even warm.

    Its two-part filler gets less than the warming from 9.5 mm on. Nobody may carry these lines on to a thick wall.
    """
    per_square = conduction(1, one_sided=one_sided)
    assert line / per_square == pytest.approx(crossing, rel=0.01)
    assert conduction(0.8 * crossing, one_sided=one_sided) < line * 0.8 * crossing
    assert conduction(1.2 * crossing, one_sided=one_sided) > line * 1.2 * crossing
