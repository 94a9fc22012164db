"""Pads that are too small: the factor on the minutes against two dimensions, the refusal, and what the sheet says."""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import NeverCuredError, PadTooSmallError, compute
from mendbook.cure.course import Wall
from mendbook.cure.disc import Disc, TooSlowError
from mendbook.cure.edge import ELEMENTS, EdgeWall, Patch, further
from mendbook.cure.grid import Outline
from mendbook.cure.reach import LONGEST, Judged, judge_pads
from mendbook.cure.schedules import plan_courses, power_off_time
from mendbook.cure.sideways import look_along
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_pad import Area, Pad
from tests.cure.block import Block
from tests.cure.walls import INSULATED, along_cords, beside, compound, fill, order, pad, step, through

FAR = 10.0  # m: an edge that is not felt


def area(length: float, width: float) -> Area:
    return Area(length_mm=length, width_mm=width)


def covered(wanted: CureOrder, injury: Area, outside: Area, inside: Area | None = None) -> CureOrder:
    """Return an order with its injury and heated areas told."""

    def heats(face: Pad, heated: Area) -> Pad:
        return face.model_copy(update={"heated": heated}) if face.present else face

    return wanted.model_copy(
        update={
            "injury": injury,
            "outside": heats(wanted.outside, outside),
            "inside": heats(wanted.inside, inside or outside),
        }
    )


def judged(wanted: CureOrder) -> Judged:
    found = judge_pads(wanted, ("safe",))
    assert found is not None
    return found


def quick_at_one_edge(wanted: CureOrder, distance_mm: float) -> float:
    """Return the factor at a distance inside one straight edge, as the quick path counts it."""
    more = further(wanted, look_along(wanted))
    patch = Patch(((distance_mm / 1e3 + more, FAR), (FAR, FAR)))
    return power_off_time(EdgeWall(wanted, (patch, patch))) / power_off_time(Wall(wanted, ELEMENTS))


WALLS: dict[str, CureOrder] = {
    "thin": order((fill(20),), pad()),
    "thick": order((fill(80),), pad()),
    "very thick": order((fill(150),), pad()),
    "through the injury": order(through(60), pad()),
    "beside the injury": order(beside(40), pad()),
    "casing that conducts five times as well along": order(along_cords(beside(40), 5), pad()),
    "casing that conducts fifteen times as well along": order(along_cords(beside(80), 15), pad()),
    "all conducts five times as well along": order(along_cords((fill(60),), 5), pad()),
    "outside pad alone": order((fill(30),), pad(), INSULATED),
    "inside pad alone": order(beside(30), INSULATED, pad()),
    "other face bare": order((fill(15),), pad(), pad(present=False)),
    "cool pads": order((fill(60),), pad(115)),
    "hot preheated pads, fast stock": order((fill(20, compound=compound(3)),), step(150)),
    "unlike pads": order((fill(50),), pad(150), pad(125)),
    "a draught": order((fill(40),), pad(loss_W_m2K=30)),
    "a cold shop": order((fill(60),), pad(), ambient_C=-10),
    "target 2": order((fill(60),), pad(), target=2),
    "low activation energy": order((fill(40, compound=compound(12, activation=70)),), pad()),
}
QUICK = ("thin", "thick", "casing that conducts five times as well along", "other face bare")


@pytest.mark.parametrize("name", QUICK)
def test_near_an_edge_the_factor_is_on_the_safe_side(name: str) -> None:
    check_edge(WALLS[name], (1.0, 1.5, 2.5))


@pytest.mark.long
@pytest.mark.parametrize("name", WALLS)
def test_near_an_edge_of_any_wall_the_factor_is_on_the_safe_side(name: str) -> None:
    check_edge(WALLS[name], (0.75, 1.0, 1.25, 1.5, 2.0, 2.5, 3.0))


def check_edge(wanted: CureOrder, distances: tuple[float, ...]) -> None:
    """Never more than 0.4 % short; of what the edge really costs, at most as much again and 1 % too much."""
    unit = look_along(wanted).unit_mm
    wide = 6 * unit
    disc = Disc(wanted, Outline(wide, wide, is_round=False))
    compared = 0
    for distance in reversed(distances):
        try:
            true = disc.time_factor(wide - distance * unit)
            quick = quick_at_one_edge(wanted, distance * unit)
        except (TooSlowError, NeverCuredError):
            continue
        if quick > LONGEST:
            continue
        compared += 1
        assert 0.996 * true <= quick <= 1 + 2 * (true - 1) + 0.01
    assert compared >= 2


@pytest.mark.parametrize("name", ["thick", "through the injury"])
def test_where_the_wall_beside_is_as_cold_as_can_be_the_factor_is_exact(name: str) -> None:
    """Then depth and breadth are independent (Carslaw and Jaeger 1.15, from memory), and nothing is fitted."""
    wanted = WALLS[name]
    unit = look_along(wanted).unit_mm
    wide = 6 * unit
    disc = Disc(wanted, Outline(wide, wide, is_round=False), beside_W_m2K=1 / wanted.outside.contact_resistance_m2K_W)
    for distance in (1.0, 1.5, 2.5):
        patch = Patch(((distance * unit / 1e3, FAR), (FAR, FAR)))
        column = power_off_time(EdgeWall(wanted, (patch, patch))) / power_off_time(Wall(wanted, ELEMENTS))
        assert column == pytest.approx(disc.time_factor(wide - distance * unit), abs=2e-3)


@pytest.mark.parametrize("thickness", [40, pytest.param(80, marks=pytest.mark.long)])
def test_with_the_cool_down_counted_it_is_on_the_safe_side_too(thickness: float) -> None:
    """What is lacking spreads on after power-off: by how much later all of it must be switched off, in the disc."""
    wanted = order((fill(thickness),), pad())
    unit = look_along(wanted).unit_mm
    wide, distance = 5 * unit, 1.5 * unit
    disc = Disc(wanted, Outline(wide, wide, is_round=False))
    off = power_off_time(disc.wall, "floor")
    more = further(wanted, look_along(wanted))
    patch = Patch(((distance / 1e3 + more, FAR), (FAR, FAR)))
    wall = Wall(wanted, ELEMENTS)
    quick = power_off_time(EdgeWall(wanted, (patch, patch)), "floor") / power_off_time(wall, "floor")

    def least_at_edge(factor: float) -> float:
        least = disc.slowest(disc.after_cooling(factor * off))
        return float(least[abs(disc.distances_mm - (wide - distance)).argmin()])

    assert least_at_edge(quick) >= 0.995
    assert least_at_edge(1 + (quick - 1) / 2) < 1
    assert quick > power_off_time(EdgeWall(wanted, (patch, patch))) / power_off_time(wall)


@pytest.mark.parametrize("radius", [1.75, 2.5])
def test_a_square_pad_lies_between_the_circles_in_and_around_it(radius: float) -> None:
    """A larger pad warms everything more: so says the maximum principle, and the strip is larger than the square."""
    wanted = order((fill(60),), pad())
    side = 2 * radius * 30
    factor = judged(covered(wanted, area(5, 5), area(side, side))).factors["safe"]
    in_it, around, strip = (
        Disc(wanted, Outline(b * 30, b * 30, is_round)).time_factor()
        for b, is_round in ((radius, True), (2**0.5 * radius, True), (radius, False))
    )
    assert max(around, strip) <= factor <= 1 + 1.3 * (in_it - 1)


# sides of the pad and of the injury in half thicknesses
RECTANGLES = [((4, 4), (0.4, 0.4)), ((6, 5), (2, 2)), ((8, 6), (4, 3)), ((10, 5), (2, 2)), ((12, 4), (5, 1))]


@pytest.mark.parametrize("thickness", [20, 60, 120])
@pytest.mark.parametrize(("sides", "hurt"), RECTANGLES)
def test_at_the_corner_of_a_rectangle_it_is_what_three_dimensions_say(
    thickness: float, sides: tuple[float, float], hurt: tuple[float, float]
) -> None:
    """A computation of the tests' own in depth, length and breadth, of some 0.2 % (`block`)."""
    half = thickness / 2
    block = Block(thickness / 1e3, (sides[0] * half / 1e3, sides[1] * half / 1e3))
    place = block.place_near((hurt[0] * half / 1e3, hurt[1] * half / 1e3))
    injury = [2e3 * middle[at] for middle, at in zip(block.middles, place, strict=True)]
    wanted = covered(order((fill(thickness),), pad()), area(*injury), area(sides[0] * half, sides[1] * half))
    true = block.slower(place)
    assert 0.995 * true <= judged(wanted).factors["safe"] <= 1 + 1.35 * (true - 1) + 0.003


def test_pads_of_different_size_count_each_on_its_own_face() -> None:
    wanted = order((fill(60),), pad())
    unit = look_along(wanted).unit_mm
    small, large, far = 1.5 * unit, 2.5 * unit, 2900.0

    def quick(outside: float, inside: float) -> float:
        told = covered(wanted, area(5, 40), area(far, 40 + 2 * outside), area(far, 40 + 2 * inside))
        return judged(told).factors["safe"]

    both_small, mixed, both_large = quick(small, small), quick(small, large), quick(large, large)
    assert both_large < mixed < both_small
    true = Disc(wanted, Outline(20 + small, 20 + large, is_round=False)).time_factor(20)
    assert true * 0.996 <= mixed <= both_small


def test_the_minutes_hold_the_factor() -> None:
    plain = order(through(80), pad())
    small = covered(plain, area(100, 80), area(240, 240))
    sheet, wide = compute(small), compute(plain)
    assert sheet.reach is not None
    assert 1.05 < sheet.reach.factor < LONGEST
    assert sheet.minutes_from_switch_on == pytest.approx(sheet.reach.factor * wide.minutes_from_switch_on, rel=2e-3)
    assert sheet.minutes_from_switch_on == sheet.schedules[0].minutes_from_switch_on
    for here, there in zip(sheet.schedules, wide.schedules, strict=True):
        assert here.minutes_from_switch_on > there.minutes_from_switch_on
    assert sheet.outside is not None
    assert wide.outside is not None
    assert sheet.outside.multiples > wide.outside.multiples
    assert f"{sheet.reach.factor:.3f} times those under wide pads" in " ".join(sheet.notes)


def test_the_sheet_says_what_is_short() -> None:
    told = covered(order((fill(60),), pad()), area(100, 80), area(300, 250), area(220, 200))
    sheet = compute(told)
    assert sheet.reach is not None
    assert [(p.face, p.length_mm, p.width_mm, p.ok) for p in sheet.reach.pads] == [
        ("outside", 100, 85, True),
        ("inside", 60, 60, False),
    ]
    assert sheet.reach.needed_mm == 72
    short = [warning for warning in sheet.warnings if "past the injury" in warning]
    assert len(short) == 1
    assert short[0].startswith("Heat reaches 60 mm past the injury inside, and 72 mm are needed.")


def test_wide_pads_cost_nothing() -> None:
    plain = order(through(60), pad())
    sheet = compute(covered(plain, area(100, 80), area(700, 700)))
    assert sheet.reach is not None
    assert sheet.reach.factor == 1
    assert sheet.schedules == compute(plain).schedules


@pytest.mark.parametrize(
    "change",
    [{}, {"injury": area(50, 50)}, {"outside": pad(heated=area(300, 300))}],
    ids=["neither", "injury alone", "heated alone"],
)
def test_what_is_not_told_is_not_judged(change: dict[str, Any]) -> None:
    sheet = compute(order((fill(40),), pad(), pad()).model_copy(update=change))
    assert sheet.reach is None
    assert "It holds where the heated areas reach" in " ".join(sheet.notes)


def test_a_pad_of_unknown_size_counts_as_the_other() -> None:
    wanted = order((fill(40),), pad())
    both = covered(wanted, area(50, 50), area(160, 160))
    one = both.model_copy(update={"inside": wanted.inside})
    assert judged(one).factors == judged(both).factors


def test_a_pad_that_never_cures_is_refused_with_one_that_does() -> None:
    wanted = order((fill(80),), pad())
    with pytest.raises(PadTooSmallError) as refused:
        compute(covered(wanted, area(100, 80), area(140, 110)))
    words = str(refused.value)
    assert "the outside heated area of 140 x 110 mm is too small for an injury of 100 x 80 mm" in words
    assert "more than 1.5 times as long as the middle (house default)" in words
    least = [float(figure) for figure in words.split("Heat ")[1].split(" mm")[0].split(" x ")]
    assert judged(covered(wanted, area(100, 80), area(*least))).factors["safe"] <= LONGEST
    with pytest.raises(PadTooSmallError):
        judged(covered(wanted, area(100, 80), area(*(side - 12 for side in least))))
    plenty = [float(figure) for figure in words.split("with ")[1].split(" mm")[0].split(" x ")]
    assert judged(covered(wanted, area(100, 80), area(*plenty))).factors["safe"] < 1.02


def test_a_pad_that_does_not_cover_is_refused() -> None:
    with pytest.raises(PadTooSmallError, match=r"the inside heated area of 90 x 300 mm .* It does not cover it"):
        compute(covered(order((fill(20),), pad()), area(100, 80), area(300, 300), area(90, 300)))


@settings(deadline=None, max_examples=25)
@given(st.floats(15, 120), st.floats(1.2, 3), st.floats(0, 2), st.floats(1, 3))
def test_a_larger_pad_is_never_slower(thickness: float, overlap: float, more: float, ratio: float) -> None:
    wanted = order(along_cords((fill(thickness),), ratio), pad())
    unit = look_along(wanted).unit_mm

    def factor(share: float) -> float:
        side = 30 + 2 * share * unit
        try:
            return judged(covered(wanted, area(30, 30), area(side, side))).factors["safe"]
        except PadTooSmallError:
            return float("inf")

    assert 1 <= factor(overlap + more) <= factor(overlap)


@settings(deadline=None, max_examples=25)
@given(st.floats(30, 200), st.floats(30, 200), st.floats(0, 60))
def test_a_larger_injury_under_the_same_pad_is_never_sooner(length: float, width: float, more: float) -> None:
    wanted, pads = order((fill(40),), pad()), area(400, 400)
    small, large = (judged(covered(wanted, area(length + d, width + d), pads)).factors["safe"] for d in (0.0, more))
    assert small <= large * (1 + 1e-9)


def test_turned_by_a_quarter_it_is_the_same() -> None:
    wanted = order((fill(50),), pad())
    there = judged(covered(wanted, area(60, 90), area(180, 230)))
    back = judged(covered(wanted, area(90, 60), area(230, 180)))
    assert back.factors["safe"] == pytest.approx(there.factors["safe"], rel=1e-9)


def test_each_schedule_has_a_factor_of_its_own() -> None:
    """The more of the cool-down counts, the more of it the edge lacks."""
    wanted = covered(order((fill(60),), pad()), area(80, 80), area(200, 200))
    factors = judge_pads(wanted, tuple(plan_courses(Wall(wanted), ("safe", "economy", "floor"))))
    assert factors is not None
    assert 1 < factors.factors["safe"] < factors.factors["economy"] < factors.factors["floor"]
