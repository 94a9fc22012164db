"""How far pads must reach, before the cure is known: the table against the two-dimensional computation it comes from.

No publication gives these distances; the computation itself is checked in `test_disc`.
"""

from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.cure import look_sideways, overlap_needed
from mendbook.cure.disc import Disc
from mendbook.cure.grid import Outline
from mendbook.cure.reach import overlap_of
from mendbook.cure.sideways import look_along
from mendbook.terms.cure_order import CureOrder
from tests.cure.walls import INSULATED, along_cords, beside, compound, fill, order, pad, through

WIDE = 6  # units along the wall: the middle no longer feels the edge


def found(wanted: CureOrder, *, is_round: bool) -> float:
    """Return how far inside the edge of a wide pad the slowest depth has 95 % of the middle's cure [mm]."""
    reach = WIDE * look_along(wanted).unit_mm
    disc = Disc(wanted, Outline(reach, reach, is_round))
    return disc.reach_mm(disc.at_power_off(disc.power_off_time()))


@pytest.mark.parametrize("thickness", [20, 80])
def test_the_overlap_is_where_the_edge_gets_95_per_cent(thickness: float) -> None:
    distance = found(order((fill(thickness),), pad()), is_round=True)
    assert distance <= overlap_needed(thickness) <= distance * 1.02


@pytest.mark.long
@pytest.mark.parametrize("thickness", [10, 30, 40, 60, 100, 120, 150])
def test_the_overlap_between_and_below(thickness: float) -> None:
    distance = found(order((fill(thickness),), pad()), is_round=True)
    assert distance * 0.99 <= overlap_needed(thickness) <= distance * 1.15


# Walls unlike the one of the table, under straight edges. The figure is read before setpoint and minutes are known.
UNLIKE: dict[str, CureOrder] = {
    "layers through the injury": order(through(60), pad()),
    "steel casing beside the injury": order(beside(80), pad()),
    "casing that conducts five times as well along": order(along_cords(beside(80), 5), pad()),
    "casing that conducts fifteen times as well along": order(along_cords(beside(40), 15), pad()),
    "one face heated": order((fill(30),), pad(), INSULATED),
    "one face of a casing": order(along_cords(beside(40), 5), INSULATED, pad()),
    "cool pads": order((fill(80),), pad(110)),
    "hot pads": order((fill(80),), pad(155)),
    "a cold shop": order((fill(60),), pad(), ambient_C=-10),
    "a warm shop": order((fill(60),), pad(), ambient_C=35),
    "a draught": order((fill(40),), pad(loss_W_m2K=30)),
    "low activation energy": order((fill(60, compound=compound(12, activation=80)),), pad()),
    "high activation energy": order((fill(60, compound=compound(12, activation=110)),), pad()),
    "slow stock": order((fill(40, compound=compound(30)),), pad()),
    "target 2": order((fill(80),), pad(), target=2),
}


@pytest.mark.parametrize("name", ["casing that conducts five times as well along", "cool pads", "one face heated"])
def test_other_walls_ask_for_about_as_much(name: str) -> None:
    check(UNLIKE[name])


@pytest.mark.long
@pytest.mark.parametrize("name", UNLIKE)
def test_every_other_wall_asks_for_about_as_much(name: str) -> None:
    check(UNLIKE[name])


def check(wanted: CureOrder) -> None:
    """At most 6 % short (cool pads), at most 20 % too far. What it is short of, the factor on the minutes makes up."""
    assert 0.94 <= overlap_of(wanted) / found(wanted, is_round=False) <= 1.20


def test_the_mean_of_areas_would_be_short_where_the_middle_conducts_best() -> None:
    """So layers are weighted with the square of the slowest profile: the casing lies where the wall is coldest."""
    layers = along_cords(beside(40), 15)
    thickness = sum(layer.thickness_mm for layer in layers)
    wall = look_sideways(layers)
    areal = sum(a.thickness_mm * a.material.conductivity_W_mK * a.material.in_plane_ratio for a in layers) / thickness
    distance = found(order(layers, pad()), is_round=False)
    assert overlap_needed(thickness, areal / wall.through) < 0.92 * distance
    assert overlap_needed(thickness, wall.in_plane_ratio) >= distance


@settings(deadline=None)
@given(st.floats(5, 300), st.floats(0.5, 50))
def test_a_thicker_wall_never_asks_for_less_overlap(thickness: float, more: float) -> None:
    assert overlap_needed(thickness) <= overlap_needed(thickness + more)


def test_heat_along_the_wall_needs_the_square_root_more() -> None:
    """The equations of heat scale so (by hand): lengths along the wall grow with sqrt(k along / k through)."""
    assert overlap_needed(80, in_plane_ratio=4) == pytest.approx(2 * overlap_needed(80))
    plain, four = (look_sideways(along_cords((fill(80),), ratio)) for ratio in (1, 4))
    assert four.unit_mm == pytest.approx(2 * plain.unit_mm)


def test_heated_from_one_face_a_wall_counts_twice() -> None:
    """An insulated face is a plane of symmetry: 40 mm behave like one half of 80 mm."""
    assert overlap_needed(40, one_sided=True) == overlap_needed(80)


@pytest.mark.parametrize("heated", [{}, {"inside": False}, {"outside": False}])
def test_a_wall_cut_into_layers_of_one_kind_is_the_same_wall(heated: dict[str, Any]) -> None:
    whole, cut = look_sideways((fill(60),), **heated), look_sideways((fill(11), fill(30), fill(19)), **heated)
    assert (cut.through, cut.along, cut.heat) == pytest.approx((whole.through, whole.along, whole.heat))


def test_mirrored_layers_under_mirrored_pads_are_the_same_wall() -> None:
    layers = along_cords(through(60) + beside(30), 4)
    there, back = look_sideways(layers, inside=False), look_sideways(layers[::-1], outside=False)
    assert (back.along, back.heat) == pytest.approx((there.along, there.heat))
