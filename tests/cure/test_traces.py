"""What pictures are drawn from, against the sheet and the course of the cure."""

import numpy as np
import pytest

from mendbook.cure import compute
from mendbook.cure.course import Wall, follow
from mendbook.cure.traces import trace_profile, trace_temperatures
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Bend, Pad
from tests.cure.walls import INSULATED, STEEL_CASING, beside, cured, fill, gum, ideal, order, pad, step, through, varied

PROGRAMME = Pad(programme=(Bend(at_min=0, temperature_C=20), Bend(at_min=25, temperature_C=120),
                           Bend(at_min=70, temperature_C=125), Bend(at_min=85, temperature_C=145)))  # fmt: skip
ORDERS = {
    "both faces": order(through(80), pad()),
    "economy": order(through(70), pad(120), pad(145, 3), schedule="economy"),
    "programme": order(beside(60), PROGRAMME, pad()),
    "perfect contact": order(through(30), ideal()),
    "one face": order(through(40), pad(), INSULATED),
    "reacting": order((varied(40, 0.001, 0.002, 10),), pad()),
    "fan": order(through(45), step(), cooling="fan"),
}
every_order = pytest.mark.parametrize("wanted", ORDERS.values(), ids=ORDERS)


@every_order
def test_temperatures_are_those_of_the_sheet_where_it_names_them(wanted: CureOrder) -> None:
    sheet = compute(wanted)
    traced = trace_temperatures(wanted, sheet)
    off, release = sheet.minutes_from_switch_on, sheet.minutes_from_switch_on + sheet.minutes_to_release
    assert np.all(np.diff(traced.minutes) > 0)
    assert np.interp(off, traced.minutes, traced.slowest) == pytest.approx(sheet.slowest.temperature_C, abs=0.1)
    assert traced.peak[1] == pytest.approx(sheet.slowest.peak_C, abs=0.1)
    assert np.interp(traced.peak[0], traced.minutes, traced.slowest) == pytest.approx(traced.peak[1])
    assert traced.peak[1] >= traced.slowest.max() - 1e-9
    assert np.interp(release, traced.minutes, traced.hottest) == pytest.approx(sheet.release_C, abs=0.5)
    assert traced.hottest[traced.minutes > release].max() < sheet.release_C
    assert traced.minutes[-1] > release


@every_order
def test_every_temperature_is_the_one_that_the_course_has_then(wanted: CureOrder) -> None:
    sheet = compute(wanted)
    traced = trace_temperatures(wanted, sheet)
    wall = Wall(wanted)
    course = follow(wall, 60 * sheet.minutes_from_switch_on, coasting=sheet.schedule != "safe")
    node = wall.points.nodes[course.slowest]
    for at in (3, len(traced.minutes) // 3, len(traced.minutes) // 2 + 9, -1):
        moment = np.array([60 * traced.minutes[at]])
        if moment[0] <= course.power_off:
            nodes = wall.heating.temperatures(moment)[:, 0]
            pads = [float(face.temperatures(moment)[0]) for face in wall.faces]
        else:
            nodes = course.cooling.temperatures(moment - course.power_off)[:, 0]
            pads = course.cooling.pads(moment - course.power_off)[:, 0].tolist()
        drawn = [traced.faces[0][at], traced.slowest[at], traced.faces[1][at], traced.hottest[at]]
        assert drawn == pytest.approx([nodes[0], nodes[node], nodes[-1], nodes.max()], abs=1e-6)
        for curve, met in zip(traced.pads, pads, strict=True):
            assert curve is None or curve[at] == pytest.approx(met, abs=1e-6)


def test_bends_of_a_programme_are_drawn_and_a_bare_face_has_no_pad() -> None:
    wanted = ORDERS["programme"]
    traced = trace_temperatures(wanted, compute(wanted))
    assert traced.pads[0] is not None
    for bend in PROGRAMME.programme:
        at = int(np.abs(traced.minutes - bend.at_min).argmin())
        assert traced.minutes[at] == pytest.approx(bend.at_min, abs=1e-9)
        assert traced.pads[0][at] == pytest.approx(bend.temperature_C)
    one_sided = ORDERS["one face"]
    assert trace_temperatures(one_sided, compute(one_sided)).pads[1] is None


@every_order
def test_the_profile_is_that_of_the_sheet(wanted: CureOrder) -> None:
    sheet = compute(wanted)
    profile = trace_profile(wanted, sheet)
    assert [layer.layer for layer in profile.layers] == [layer.name for layer in wanted.layers]
    reached = [layer.cure for layer in profile.layers if layer.cure]
    told = [(layer.least_at_power_off, layer.least, layer.most) for layer in sheet.layers]
    found = [(one.at_power_off.min(), one.after_cooling.min(), one.after_cooling.max()) for one in reached]
    # The sheet rounds its minutes up by as much as 6 s after it has counted the cure.
    assert found == [pytest.approx(figures, rel=5e-3, abs=1e-3) for figures in told]
    assert profile.slowest_mm == pytest.approx(sheet.slowest.depth_mm, abs=0.051)
    if sheet.schedule == "safe":
        assert profile.slowest_at_power_off == pytest.approx(sheet.target, rel=5e-3)
        must_cure = [layer.cure.at_power_off.min() for layer in profile.layers if layer.cure and layer.must_cure]
        assert profile.slowest_at_power_off == min(must_cure)


def test_layers_follow_each_other_from_face_to_face() -> None:
    wanted = order((fill(40), gum(), cured("casing", 12, STEEL_CASING).model_copy(update={"compound": None})), pad())
    layers = trace_profile(wanted, compute(wanted)).layers
    edges = [(layer.depth_mm[0], layer.depth_mm[-1]) for layer in layers]
    assert edges == [pytest.approx(edge) for edge in ((0, 40), (40, 42), (42, 54))]
    assert [layer.cure is None for layer in layers] == [False, False, True]
    assert [layer.must_cure for layer in layers] == [True, True, False]
