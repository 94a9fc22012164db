"""Heat conduction against closed solutions and worked examples of textbooks."""

import numpy as np
import pytest

from mendbook.terms.cure_pad import Pad
from mendbook.terms.cure_wall import Layer, Material
from tests.cure import series
from tests.cure.walls import FILL, INSULATED, STEEL_CASING, fill, heating, ideal, pad, step

ALPHA = 0.25 / (1120 * 1850)  # m2/s of FILL
SLAB = (fill(80),)
MIDDLE, QUARTER = 24, 12  # nodes of 48 elements
WITHIN = 1e-3  # of the step: what 50 cells should give from Fo 0.05 on; 5e-4 is found


def seconds(fourier: float, half_mm: float = 40, alpha: float = ALPHA) -> float:
    return fourier * (half_mm / 1e3) ** 2 / alpha


# Carslaw & Jaeger 3.3-3.4; the same numbers follow from Incropera & DeWitt ch. 5. Computed from the series here
# and in the source of these figures; the books quoted from memory.
CENTRE = {
    0.05: 0.99687, 0.1: 0.94931, 0.2: 0.77231, 0.3: 0.60680, 0.4: 0.47449, 0.5: 0.37078, 0.6: 0.28971,
    0.8: 0.17687, 1.0: 0.10798, 1.5: 0.03144, 2.0: 0.00916,
}  # fmt: skip
MEAN = {
    0.05: 0.74769, 0.1: 0.64318, 0.2: 0.49591, 0.3: 0.38676, 0.4: 0.30212, 0.5: 0.23605, 0.6: 0.18444,
    0.8: 0.11260, 1.0: 0.06874,
}  # fmt: skip


def share(temperature: float, start: float = 20, final: float = 140) -> float:
    return (temperature - final) / (start - final)


@pytest.mark.parametrize(("fourier", "expected"), CENTRE.items())
def test_the_middle_of_a_slab_follows_the_series(fourier: float, expected: float) -> None:
    assert series.step_share(0, fourier) == pytest.approx(expected, abs=6e-6)
    temperature = heating(SLAB, ideal())[1].temperatures(np.array([seconds(fourier)]))[MIDDLE, 0]
    assert share(temperature) == pytest.approx(expected, abs=WITHIN)


@pytest.mark.parametrize(("fourier", "expected"), MEAN.items())
def test_the_mean_of_a_slab_follows_the_series(fourier: float, expected: float) -> None:
    assert series.mean_share(fourier) == pytest.approx(expected, abs=6e-6)
    stack, phase = heating(SLAB, ideal())
    profile = phase.temperatures(np.array([seconds(fourier)]))[:, 0]
    mean = float(profile @ stack.capacity / stack.capacity.sum())
    assert share(mean) == pytest.approx(expected, abs=WITHIN)


@pytest.mark.parametrize(("fourier", "expected"), [(0.2, 0.55318), (0.5, 0.26219), (1.0, 0.07635)])
def test_half_way_to_the_face_follows_the_series(fourier: float, expected: float) -> None:
    temperature = heating(SLAB, ideal())[1].temperatures(np.array([seconds(fourier)]))[QUARTER, 0]
    assert share(temperature) == pytest.approx(expected, abs=WITHIN)


@pytest.mark.parametrize(
    ("left", "fourier"), [(0.5, 0.37875), (0.10, 1.03110), (0.05, 1.31203), (0.02, 1.68339), (0.01, 1.96431)]
)
def test_the_middle_takes_as_long_as_the_series_says(left: float, fourier: float) -> None:
    temperature = heating(SLAB, ideal())[1].temperatures(np.array([seconds(fourier)]))[MIDDLE, 0]
    assert share(temperature) == pytest.approx(left, abs=WITHIN)


@pytest.mark.parametrize(("fourier", "error"), [(0.1, 0.048), (0.2, 0.0065), (0.3, 0.0009)])
def test_one_term_of_the_series_is_not_enough_early_on(fourier: float, error: float) -> None:
    one_term = 4 / np.pi * np.exp(-(np.pi**2) * fourier / 4)
    temperature = heating(SLAB, ideal(), elements=192)[1].temperatures(np.array([seconds(fourier)]))[96, 0]
    assert one_term / share(temperature) - 1 == pytest.approx(error, abs=3e-4)


def test_heated_from_one_face_takes_four_times_as_long() -> None:
    """With the other face insulated the law is that of a slab twice as thick: exactly."""
    times = np.array([seconds(fourier, half_mm=40) for fourier in (0.2, 0.5, 1.0)])
    thin_both = heating((fill(40),), ideal())[1].temperatures(times / 4)[MIDDLE]
    thin_one = heating((fill(40),), ideal(), INSULATED)[1].temperatures(times)[-1]
    assert thin_one == pytest.approx(thin_both, abs=0.05)
    assert thin_one == pytest.approx([47.323, 95.507, 127.04], abs=0.05)


# A slab of 80 mm, 20 °C, k 0.25, 1120 kg/m3, 1850 J/(kg K), to six places from the series.
@pytest.mark.parametrize(
    ("fourier", "middle", "quarter"),
    [
        (0.1, 26.083356, 51.721842),
        (0.2, 47.322607, 73.618893),
        (0.5, 95.506708, 108.537407),
        (1.0, 127.042755, 130.837844),
    ],
)
def test_a_step_at_both_faces(fourier: float, middle: float, quarter: float) -> None:
    assert 140 - 120 * series.step_share(0, fourier) == pytest.approx(middle, abs=1e-6)
    coarse = heating(SLAB, ideal())[1].temperatures(np.array([seconds(fourier)]))[:, 0]
    fine = heating(SLAB, ideal(), elements=384)[1].temperatures(np.array([seconds(fourier)]))[:, 0]
    assert [coarse[MIDDLE], coarse[QUARTER]] == pytest.approx([middle, quarter], abs=0.06)
    assert [fine[192], fine[96]] == pytest.approx([middle, quarter], abs=1e-3)


@pytest.mark.parametrize(
    ("fourier", "middle", "face"),
    [(0.2, 42.667513, 130.700862), (0.5, 88.996559, 135.305587), (1.0, 122.905601, 138.426921)],
)
def test_a_step_through_a_contact_resistance(fourier: float, middle: float, face: float) -> None:
    """Biot number 16; roots 1.4786429, 4.4416068, 7.4197643."""
    assert series.contact_roots(16, 3) == pytest.approx([1.4786429, 4.4416068, 7.4197643], abs=1e-7)
    assert 140 - 120 * series.contact_share(0, fourier, 16) == pytest.approx(middle, abs=1e-6)
    profile = heating(SLAB, step(contact_resistance_m2K_W=0.01))[1].temperatures(np.array([seconds(fourier)]))
    assert [profile[MIDDLE, 0], profile[0, 0]] == pytest.approx([middle, face], abs=0.05)


@pytest.mark.parametrize(
    ("minutes", "middle", "quarter"),
    [(10, 20.014, 21.791), (20, 20.940, 32.147), (60, 52.781, 77.769), (120, 95.161, 108.29), (240, 128.26, 131.70)],
)
def test_a_ramp_of_six_kelvin_a_minute(minutes: float, middle: float, quarter: float) -> None:
    fourier, top = (ALPHA * t * 60 / 0.04**2 for t in (minutes, 20))
    slope = 120 / top
    for place, expected in ((0.0, middle), (0.5, quarter)):
        lag = series.ramp_lag(place, fourier) - (series.ramp_lag(place, fourier - top) if minutes > 20 else 0)
        assert 20 + slope * (min(fourier, top) - lag) == pytest.approx(expected, abs=6e-3)
    ramp = pad(contact_resistance_m2K_W=0)
    profile = heating(SLAB, ramp)[1].temperatures(np.array([minutes * 60.0]))[:, 0]
    assert [profile[MIDDLE], profile[QUARTER]] == pytest.approx([middle, quarter], abs=0.05)


# Incropera & DeWitt, Fundamentals of Heat and Mass Transfer, table 5.1 (from memory): Bi, first root, weight C1.
BIOT = [
    (0.01, 0.0998, 1.0017), (0.02, 0.1410, 1.0033), (0.1, 0.3111, 1.0161), (0.2, 0.4328, 1.0311), (0.3, 0.5218, 1.0450),
    (0.5, 0.6533, 1.0701), (1, 0.8603, 1.1191), (2, 1.0769, 1.1785), (3, 1.1925, 1.2102), (4, 1.2646, 1.2287),
    (5, 1.3138, 1.2402), (6, 1.3496, 1.2479), (8, 1.3978, 1.2570), (10, 1.4289, 1.2620), (20, 1.4961, 1.2699),
    (50, 1.5400, 1.2727), (100, 1.5552, 1.2731),
]  # fmt: skip


@pytest.mark.parametrize(("biot", "root", "weight"), BIOT)
def test_the_slowest_mode_is_the_one_in_the_table(biot: float, root: float, weight: float) -> None:
    """Read back from the engine: decay between two late moments, and the amplitude that it leaves.

    The roots are also those scipy.optimize finds for z tan z = Bi. A thick, poorly conducting slab of its own
    makes every Biot number with a contact resistance in bounds.
    """
    assert series.contact_roots(biot, 1)[0] == pytest.approx(root, abs=6e-5)
    conductivity, half = (0.02, 0.05) if biot > 50 else (20.0, 0.004)
    resistance = half / (conductivity * biot)
    if resistance > 0.05:
        half, resistance = 0.05 * conductivity * biot, 0.05
    material = Material(
        name="slab", conductivity_W_mK=conductivity, density_kg_m3=1000, heat_capacity_J_kgK=1000, basis="none"
    )
    layer = (fill(2e3 * half, material=material),)
    phase = heating(layer, step(contact_resistance_m2K_W=resistance), elements=192)[1]
    time = half**2 * 1e6 / conductivity
    early, late = 2.0 / root**2, 2.5 / root**2
    middle = [share(t) for t in phase.temperatures(np.array([early, late]) * time)[96]]
    decay = np.log(middle[0] / middle[1]) / (late - early)
    assert np.sqrt(decay) == pytest.approx(root, rel=1e-3)
    if early > 0.5:  # by then the other modes are gone
        assert middle[0] * np.exp(root**2 * early) == pytest.approx(weight, abs=2e-3)


def lab_slab(half_mm: float, conductivity: float, alpha: float) -> tuple[Layer, ...]:
    heat = conductivity / alpha
    material = Material(
        name="slab", conductivity_W_mK=conductivity, density_kg_m3=heat / 1e3, heat_capacity_J_kgK=1e3, basis="none"
    )
    return (fill(2 * half_mm, material=material),)


def test_worked_example_of_a_wall_between_two_streams() -> None:
    """Yovanovich, University of Waterloo, ME 651 (inputs read): Bi 0.5, Fo 1.2, so 0.6412 and 0.5092."""
    phase = heating(lab_slab(100, 20, 20e-6), step(contact_resistance_m2K_W=0.01))[1]
    profile = phase.temperatures(np.array([600.0]))[:, 0]
    assert share(profile[MIDDLE]) == pytest.approx(0.6412, abs=2e-4)
    assert share(profile[0]) == pytest.approx(0.5092, abs=2e-4)


def test_worked_example_of_a_pipe_wall() -> None:
    """Incropera & DeWitt ch. 5 (from memory): 40 mm of steel, oil at 60 °C inside, 8 min; 43.0 and 45.4 °C.

    k 63.9, h 500: both divided by ten here, which leaves the Biot number as it is.
    """
    one_face = (lab_slab(20, 6.39, 18.8e-6), step(80, contact_resistance_m2K_W=0.02))
    phase = heating(*one_face, INSULATED, tyre=-20)[1]
    profile = phase.temperatures(np.array([480.0]))[:, 0]
    oil = [60 - 80 * share(t, -20, 80) for t in (profile[-1], profile[0])]
    assert oil == pytest.approx([43.0, 45.4], abs=0.1)


def test_worked_example_of_a_brass_plate() -> None:
    """Cengel, Heat and Mass Transfer ch. 4 (from memory): 40 mm, 20 °C, oven 500 °C, 7 min; about 280 °C.

    The chart in the book gives 282; the exact surface is 279.6 and the middle 277.2. k 110, h 120, scaled alike.
    """
    scale = 20 / 110
    phase = heating(lab_slab(20, 20, 33.9e-6), step(contact_resistance_m2K_W=1 / (120 * scale)))[1]
    profile = phase.temperatures(np.array([420.0]))[:, 0]
    oven = [500 - 480 * share(t) for t in (profile[0], profile[MIDDLE])]
    assert oven == pytest.approx([279.6, 277.2], abs=0.1)


@pytest.mark.parametrize(
    ("conductivity", "alpha", "expected"), [(0.13, 0.13 / (1100 * 2010), 1165), (0.16, 1.345e-7, 523)]
)
def test_textbook_problem_of_a_carcass_in_steam(conductivity: float, alpha: float, expected: float) -> None:
    """A problem of the kind in Incropera ch. 5 (from memory): 20 mm, 25 °C, steam 200 °C, h 200, to 150 °C.

    First with soft rubber of Incropera table A.3, then with a filled rubber: the answer halves.
    """
    phase = heating(lab_slab(10, conductivity, alpha), step(200, contact_resistance_m2K_W=0.005), tyre=25)[1]
    times = np.arange(1.0, 2000.0)
    reached = times[np.argmax(phase.temperatures(times)[MIDDLE] >= 150)]
    assert reached == pytest.approx(expected, rel=3e-3)


@pytest.mark.parametrize(
    ("alpha", "soil", "surface", "days", "expected"), [(0.138e-6, 20, -15, 60, 0.677), (0.15e-6, 15, -10, 90, 0.801)]
)
def test_textbook_problems_of_a_buried_pipe(
    alpha: float, soil: float, surface: float, days: float, expected: float
) -> None:
    """Incropera & DeWitt ch. 5 and Cengel ch. 4 (from memory: 0.68 and 0.80 m): how deep the ground freezes.

    A tenth of the depth, a hundredth of the time: 300 mm, insulated below, are deep enough.
    """
    stack, phase = heating(lab_slab(150, 0.5, alpha), ideal(), INSULATED)
    profile = phase.temperatures(np.array([864.0 * days]))[:, 0]
    cooled = [share(temperature) for temperature in profile]
    assert 10 * np.interp(-surface / (soil - surface), cooled, stack.depth) == pytest.approx(expected, abs=2e-3)


TWO_LAYERS = (fill(30, material=FILL), fill(50, material=STEEL_CASING))


@pytest.mark.parametrize(
    ("seconds_", "expected"),
    [
        (3600, (96.777454, 69.045966, 79.487632)),
        (7200, (118.75, 105.09, 110.32)),
        (14400, (134.87, 131.57, 132.84)),
    ],
)
def test_two_layers_follow_their_own_eigenfunctions(seconds_: float, expected: tuple[float, float, float]) -> None:
    """At 15, 30 (the interface) and 55 mm: closed eigenfunctions of the two-layer slab (own derivation)."""
    stack, phase = heating(TWO_LAYERS, ideal(), elements=80)
    profile = phase.temperatures(np.array([float(seconds_)]))[:, 0]
    found = np.interp([0.015, 0.030, 0.055], stack.depth, profile)
    assert found == pytest.approx(expected, abs=0.02)


def test_two_layers_decay_at_the_roots_of_their_characteristic_equation() -> None:
    """cot(m d1/sqrt(a1)) e1 + cot(m d2/sqrt(a2)) e2 = 0, e = sqrt(k rho c): 1.9740e-4, 8.3086e-4, 1.80317e-3 1/s."""
    stack, phase = heating(TWO_LAYERS, ideal(), elements=400)
    assert phase.modes.decay[:3] == pytest.approx([1.9740e-4, 8.3086e-4, 1.80317e-3], rel=2e-4)
    effusivity = [np.sqrt(m.conductivity_W_mK * m.density_kg_m3 * m.heat_capacity_J_kgK) for m in (FILL, STEEL_CASING)]
    crossing = [
        d * np.sqrt(m.density_kg_m3 * m.heat_capacity_J_kgK / m.conductivity_W_mK)
        for d, m in ((0.03, FILL), (0.05, STEEL_CASING))
    ]
    for decay in (1.9740e-4, 8.3086e-4, 1.80317e-3):
        a, b = (np.sqrt(decay) * c for c in crossing)
        residue = effusivity[0] * np.cos(a) * np.sin(b) + effusivity[1] * np.cos(b) * np.sin(a)
        assert abs(residue) < 2e-3 * max(effusivity)
    assert len(stack.depth) == len(phase.modes.decay) + 2


def test_a_bare_face_comes_to_the_balance_of_conduction_and_loss() -> None:
    """Long after: (T - 20) / (140 - 20) = 1 / (1 + h d / k), by hand."""
    bare = Pad(present=False, loss_W_m2K=10)
    profile = heating((fill(40),), ideal(), bare)[1].temperatures(np.array([1e7]))[:, 0]
    assert profile[-1] == pytest.approx(20 + 120 / (1 + 10 * 0.04 / 0.25), abs=1e-6)
