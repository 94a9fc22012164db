"""A public classification of casings, OST 38-47-171-95 (annexed to an order of 2004, read), and limits from aviation.

The classification sorts casings for retreading by construction: bias, radial, all-steel. Its lesson for us is an order:
no radial is judged more leniently than a bias tyre with the same fault. The aircraft limits are outside our scope and
kept for their form: conditions that must hold together, and a hole that is measured on both faces.
"""

import pytest

from mendbook.rulebook.book import Rulebook
from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but, triage

ZONES = ("crown centre", "crown edge", "shoulder", "upper sidewall", "lower sidewall")
CLASSES = ("W1", "W2", "W3", "W4", "W5", "W6", "W7")
# Where a radial may be hurt wider across the section than a bias tyre [mm]: its cords run that way, so few are cut.
WIDER = {
    "upper sidewall": (5, 10, 10, 10, 10, 15, 15),
    "lower sidewall": (5, 10, 10, 10, 10, 15, 15),
}


def box(book: Rulebook, construction: str, zone: str, width_class: str) -> tuple[float, float]:
    facts = {"construction": construction, "zone": zone, "width class": width_class}
    found = {}
    for name in ("table length", "table width"):
        [found[name]] = [n for t in book.tables_giving(name) if (n := t.look_up(name, facts)) is not None]
    return found["table length"], found["table width"]


@pytest.mark.parametrize("zone", ZONES)
def test_no_radial_may_be_hurt_longer_or_over_more_area_than_a_bias_tyre(zone: str, book: Rulebook) -> None:
    """OST 38-47-171-95, rows of class I: radial stricter than bias. Read; the sizes are our own.

    We differ in one measure: in the sidewall a radial may be hurt 5 to 15 mm wider across the section.
    """
    wider = []
    for width_class in CLASSES:
        radial, bias = (box(book, one, zone, width_class) for one in ("radial", "bias"))
        assert radial[0] < bias[0]
        assert radial[0] * radial[1] < bias[0] * bias[1]
        wider.append(max(0, radial[1] - bias[1]))
    assert tuple(wider) == WIDER.get(zone, (0,) * len(CLASSES))


@pytest.mark.parametrize("length", ["20 mm", "50 mm", "80 mm", "120 mm", "200 mm", "400 mm"])
@pytest.mark.parametrize("place", ["200 mm", "330 mm", "480 mm"])
def test_a_cut_that_spares_the_cords_is_never_milder_on_a_radial(length: str, place: str, shop: Shop) -> None:
    """OST 38-47-171-95, class I: bias 10 cuts up to 50 mm, radial and all-steel 5 up to 30 mm. Read.

    We count no cuts that spare the cords, and allow them longer: milder than its class I, which is for retreading.
    """
    cut = but(CUT, reaches="rubber", rubber_left="2 mm", cords_cut=None, depth=None, length=length, width="20 mm",
              distance_from_bead=place)  # fmt: skip
    tyre = {"designation": "26.5-25", "casing": "nylon", "plies": "20"}
    radial = triage(but(LOADER, injuries=[cut]), shop)
    bias = triage(but(LOADER, tyre=tyre, injuries=[cut]), shop)
    assert radial.verdict is not None
    assert bias.verdict is not None
    assert shop.book.rank(radial.verdict) >= shop.book.rank(bias.verdict)
    assert radial.holds or not bias.holds


def test_the_tread_of_its_first_class_is_that_of_british_law(shop: Shop) -> None:
    """OST 38-47-171-95, class I: 1 mm left on trucks, 2 mm on buses. Read.

    The same 1 mm bars a truck tyre under UK law; for buses we ask no more than for trucks, milder by 1 mm.
    """
    for duty in ("truck", "bus"):
        for depth, verdict in (("1 ± 0 mm", "leave"), ("0.99 ± 0 mm", "reject")):
            tree = but(TRUCK, tyre={"tread depths": ["9 mm"] * 4, "tread left": depth},
                       service={"country": "uk", "duty": duty})  # fmt: skip
            assert triage(tree, shop).verdict == verdict


@pytest.mark.parametrize("separation", ["1 ± 0 mm", "200 ± 0 mm", "700 ± 0 mm", "3000 ± 0 mm"])
def test_separation_is_never_milder_as_it_grows_and_always_stricter_than_its_first_class(
    separation: str, shop: Shop
) -> None:
    """OST 38-47-171-95: separation without bared cord is taken up to a fifth of the circumference in class I. Read.

    We are stricter: on the road any separation away from an injury is rejected, off it every one is held.
    """
    docket = triage(but(TRUCK, found={"tread separation": separation}), shop)
    assert docket.uses["road"] == "reject"
    assert triage(but(LOADER, found={"tread separation": separation}), shop).outcome == "hold"


@pytest.mark.parametrize(("length", "reaches", "is_barred"), [
    ("40 ± 0 mm", "cord", True), ("40 ± 0 mm", "rubber", False), ("20 ± 0 mm", "cord", False),
    ("20 ± 0 mm", "rubber", False),
])  # fmt: skip
def test_two_conditions_of_one_limit_must_hold_together(length: str, reaches: str, is_barred: bool, shop: Shop) -> None:
    """FAA AC 43.13-1B para 9-14: wider than half a rib and deeper than half a groove. Reported by others; for aircraft.

    The form is that of the British cut, long and deep at once; either alone is no bar.
    """
    cut = but(CUT, length="4 mm", width="4 mm", depth=None, cords_cut=None, distance_from_bead="150 mm",
              reaches=reaches, rubber_left="8 mm", outside_length=length)  # fmt: skip
    docket = triage(but(TRUCK, service={"country": "uk"}, injuries=[cut]), shop)
    assert ("law/uk/cut" in {f.rule for f in docket.findings if f.readings["as read"]}) is is_barred


@pytest.mark.parametrize(
    ("outside", "inside", "verdict"),
    [
        ("3 ± 0 mm", "3 ± 0 mm", "spot"),
        ("6 ± 0 mm", "3 ± 0 mm", "spot"),
        ("3 ± 0 mm", "6.1 ± 0 mm", "reinforce"),
        ("6.1 ± 0 mm", "3 ± 0 mm", "reinforce"),
    ],
)
def test_a_hole_is_as_large_as_its_larger_face(outside: str, inside: str, verdict: str, shop: Shop) -> None:
    """NAVEDTRA 14018: 1/4 in (6.35 mm) outside and 1/8 in (3.18 mm) inside. Read in an excerpt; for aircraft.

    We hold both faces to one limit of 6 mm: stricter by 0.35 mm outside, milder by 2.8 mm inside.
    """
    nail: Tree = but(NAIL, length=outside, width="3 ± 0 mm", inside_length=inside)
    assert triage(but(TRUCK, injuries=[nail]), shop).verdict == verdict
