"""What is drawn stands where the figures are, and is told in words."""

import numpy as np
import pytest

from mendbook.card.cure_pictures.captions import tell_profile, tell_temperatures, tell_thicknesses
from mendbook.cure.thicknesses import vary_thickness
from mendbook.cure.traces import trace_profile, trace_temperatures
from tests.card.cure_pictures.orders import ORDERS, data, drawn, lines, sheet

SOME = ["usual", "thin", "unequal", "second stage"]


@pytest.mark.parametrize("name", SOME)
def test_the_moments_are_marked_where_the_sheet_says(name: str) -> None:
    answer = sheet(name)
    found = lines(drawn(name))
    marked = {words: set(data(found[words])[0]) for words in ("timer starts", "switch off", "release")}
    off = answer.minutes_from_switch_on
    assert marked == {
        "timer starts": {answer.timer_starts_at_min},
        "switch off": {off},
        "release": {off + answer.minutes_to_release},
    }
    minutes, curve = data(found["slowest point"])
    assert np.interp(off, minutes, curve) == pytest.approx(answer.slowest.temperature_C, abs=0.1)


def test_the_slowest_point_is_seen_to_warm_up_after_power_off() -> None:
    found = lines(drawn("usual"))
    (when,), (peak,) = data(found["peak"])
    minutes, curve = data(found["slowest point"])
    assert when > sheet("usual").minutes_from_switch_on + 10
    assert peak == pytest.approx(curve.max())
    assert np.interp(when, minutes, curve) == pytest.approx(peak)
    assert "peak" not in lines(drawn("thin"))


def test_pads_that_run_alike_are_one_curve_and_others_are_two() -> None:
    assert {"both pads", "both faces"} <= lines(drawn("preheated")).keys()
    assert {"outside pad", "inside pad", "outside face", "inside face"} <= lines(drawn("unequal")).keys()
    assert {"outside pad", "inside face, no pad"} <= lines(drawn("bare")).keys()
    assert "inside pad" not in lines(drawn("bare"))


@pytest.mark.parametrize("name", SOME)
def test_target_limits_and_slowest_point_stand_in_the_profile(name: str) -> None:
    answer, found = sheet(name), lines(drawn(name), 1)
    assert set(data(found["target"])[1]) == {answer.target}
    for layer in answer.layers:
        assert set(data(found[f"limit: {layer.layer}"])[1]) == {layer.limit}
    depths, cures = data(found["slowest point"])
    assert list(depths) == [pytest.approx(answer.slowest.depth_mm, abs=0.051)] * 3
    layer = answer.slowest.layer
    for curve, cure in zip((f"at power-off: {layer}", f"when cold: {layer}"), cures[1:], strict=True):
        at, drawn_cure = data(found[curve])
        assert np.interp(depths[0], at, drawn_cure) == pytest.approx(cure)
    edges = np.cumsum([0, *(one.thickness_mm for one in ORDERS[name].layers)])
    assert drawn(name).axes[1].get_xlim() == pytest.approx((0, edges[-1]))


@pytest.mark.parametrize("name", SOME)
def test_this_wall_stands_on_the_curve_of_its_schedule(name: str) -> None:
    answer, found = sheet(name), lines(drawn(name), 2)
    (thickness,), (minutes,) = data(found["ordered"])
    assert thickness == sum(layer.thickness_mm for layer in ORDERS[name].layers)
    assert minutes == answer.minutes_from_switch_on
    sizes, curve = data(found[answer.schedule])
    assert np.interp(thickness, sizes, curve) == pytest.approx(minutes, abs=0.1)
    sizes, straight = data(found["straight line"])
    assert np.polyfit(sizes, straight, 2)[0] == pytest.approx(0, abs=1e-9)
    safe_sizes, safe = data(found["safe"])
    assert np.interp(40, sizes, straight) == pytest.approx(np.interp(40, safe_sizes, safe))


def test_every_caption_stands_below_its_picture() -> None:
    order, answer = ORDERS["usual"], sheet("usual")
    said = [text.get_text().replace("\n", " ") for text in drawn("usual").texts if text.get_gid() == "caption"]
    assert said == [
        tell_temperatures(answer, trace_temperatures(order, answer)),
        tell_profile(answer, trace_profile(order, answer)),
        tell_thicknesses(answer, vary_thickness(order, answer)),
    ]


def caption(name: str, place: int) -> str:
    said = [text.get_text().replace("\n", " ") for text in drawn(name).texts if text.get_gid() == "caption"]
    return said[place]


def test_the_first_caption_tells_the_clock_and_warns_of_cool_faces() -> None:
    said = caption("usual", 0)
    off = sheet("usual").minutes_from_switch_on
    assert "The timer starts at 17 min and power goes off at 234 min (3 h 54 min)" in said
    assert 233 < off <= 234
    assert "it warms up further, to 129 °C" in said
    assert "they say nothing about the inside" in said
    assert "The clamp stays on until 359 min (5 h 59 min), when no point is above 100 °C." in said
    assert "gets no hotter than 140 °C" in caption("thin", 0)


def test_a_timer_that_would_start_after_power_off_is_not_marked() -> None:
    assert sheet("late").timer_starts_at_min > sheet("late").minutes_from_switch_on
    assert "timer starts" not in lines(drawn("late"))
    assert caption("late", 0).startswith("Power goes off 312 min (5 h 12 min) after switching on, before a timer")


def test_the_second_caption_tells_undercure_overcure_and_what_is_not_judged() -> None:
    assert "has 1 x t90 at power-off and 2.68 x t90 when cold" in caption("usual", 1)
    assert "OVERCURED: 'fill' with 9.91 x t90, which bears 6; " in caption("usual", 1)
    assert "No layer is cured past what it bears." in caption("thin", 1)
    assert "The target of 1.25 x t90 is reached with what counts of the cool-down." in caption("unequal", 1)
    assert "Not judged, for want of a compound: cloth." in caption("not judged", 1)
    assert "1 layer of number 0, 2 layer of number 1, " in caption("many layers", 1)


def test_minutes_that_the_edge_of_the_injury_asks_for_are_told_apart() -> None:
    reach = sheet("small pads").reach
    assert reach is not None
    longer = "10 %"
    assert reach.factor == pytest.approx(1.095, abs=0.005)
    assert f"All this is in the middle of the injury; for its edge it is heated {longer} longer" in caption(
        "small pads", 1
    )
    assert f"Curves and straight line are for wide pads; these cost {longer} more here." in caption("small pads", 2)
    (_,), (minutes,) = data(lines(drawn("small pads"), 2)["ordered"])
    sizes, curve = data(lines(drawn("small pads"), 2)["safe"])
    assert minutes == pytest.approx(reach.factor * np.interp(60, sizes, curve), rel=2e-3)


def test_the_third_caption_says_what_the_straight_line_would_undercure() -> None:
    said = caption("thick", 2)
    assert "made right for 40 mm of this make-up by heating alone" in said
    assert "At 150 mm it switches off at" in said
    assert "It would stay undercured." in said
    assert "later than heating alone asks for. At 80 mm" in caption("thin", 2)
    assert "No straight line is drawn" in caption("late", 2)
    assert "straight line" not in lines(drawn("late"), 2)
