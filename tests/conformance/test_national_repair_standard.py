"""BS AU 159, the British standard on repairs to road tyres, as a trade association's summary and garages give it.

The standard itself is a bought document and was not open; its limits for major repairs are not known here. It is for
cars and light vans where it gives 6 mm; our rules are for heavy tyres, and where they differ the test says which way.
"""

import polars as pl
import pytest

from mendbook.facts.lookup import Lookup
from mendbook.facts.service import minor_zone_width
from mendbook.facts.steps import run
from mendbook.rulebook.book import Rulebook
from mendbook.triage import Shop
from tests.facts.derived import derive
from tests.triage.cases import CUT, NAIL, TRUCK, Tree, but, triage

# Nominal section width [mm] and width of the zone for minor repairs [mm]. Read in the summary.
PRINTED = {125: 75, 135: 81, 145: 87, 155: 93, 165: 107, 175: 114, 185: 120, 195: 127}
# The same rule carried on: 60, 65 and 70 per cent, half a millimetre rounded up. Worked out, not read.
CARRIED_ON = {156: 101, 200: 130, 201: 141, 205: 144, 225: 158, 315: 221}


def zone(width: float, book: Rulebook) -> float:
    frame = run(Lookup(book).steps("minor zone share"), pl.DataFrame({"section width": [width]}))
    return float(frame.select(minor_zone_width()).item())


@pytest.mark.parametrize(("width", "expected"), {**PRINTED, **CARRIED_ON}.items())
def test_the_zone_of_minor_repairs_to_the_millimetre(width: int, expected: int, book: Rulebook) -> None:
    """BS AU 159g, table read in a trade association's summary up to 195 mm; wider ones follow from its rule."""
    assert zone(float(width), book) == expected


@pytest.mark.parametrize(
    ("designation", "wider_by"),
    [
        ("295/80R22.5", -6), ("315/80R22.5", -7), ("385/65R22.5", -8), ("11R22.5", -6), ("13R22.5", -6),
        ("10.00R20", 9), ("12.00R20", 11),
    ],
)  # fmt: skip
def test_our_crown_is_about_as_wide_as_the_zone_of_minor_repairs(designation: str, wider_by: int, shop: Shop) -> None:
    """BS AU 159g, read in the summary, against the crown in which we let a nail hole be filled.

    We are stricter by 6 to 8 mm of width, 3 to 4 mm on each side, and milder by 9 to 11 mm on narrow-base sizes in
    inches, which are wider than their designation says: we measure the tyre, the standard its designation. A tyre
    that is to be sold used is held to the standard's own zone.
    """
    facts = derive(but(TRUCK, tyre={"designation": designation}), shop)
    ours = 2.0 * (facts.tyre("half girth") - facts.tyre("shoulder ends"))
    assert round(ours - facts.tyre("minor zone width")) == wider_by


@pytest.mark.parametrize(("hole", "verdict"), [("6 ± 0 mm", "spot"), ("6.1 ± 0 mm", "reinforce")])
def test_a_minor_repair_ends_at_six_millimetres(hole: str, verdict: str, shop: Shop) -> None:
    """BS AU 159g: 6 mm at the base after preparation, cars and light vans. Read in the summary; the same here."""
    nail = but(NAIL, length=hole, width="4 ± 0 mm")
    assert triage(but(TRUCK, injuries=[nail]), shop).verdict == verdict


@pytest.mark.parametrize("distance", ["90 mm", "150 mm", "210 mm", "260 mm"])
def test_rubber_alone_is_repaired_anywhere_outside(distance: str, shop: Shop) -> None:
    """BS AU 159g: rubber-only surface repairs anywhere, without limit. Read in the summary.

    We are stricter: past half as much again as the size limit the foreman is asked, for large skins tear off, and at
    the bead an engineer.
    """
    scuff = but(CUT, reaches="rubber", rubber_left="1 mm", cords_cut=None, depth=None, length="20 mm", width="20 mm",
                distance_from_bead=distance)  # fmt: skip
    docket = triage(but(TRUCK, injuries=[scuff]), shop)
    assert (docket.outcome, docket.verdict) == ("repair", "spot")
    large = triage(but(TRUCK, injuries=[but(scuff, length="300 mm")]), shop)
    assert (large.outcome, large.verdict) == ("hold", "spot")


def test_a_hole_in_the_sidewall_is_no_minor_repair(shop: Shop) -> None:
    """BS AU 159g: sidewall penetration is not repaired on cars. Read in the summary.

    We are milder: on a heavy tyre a small one is a section repair, the standard's major repair.
    """
    hole = but(CUT, distance_from_bead="150 mm", length="10 mm", width="30 mm", cords_cut="4", depth=None)
    assert triage(but(TRUCK, injuries=[hole]), shop).verdict == "section"
    assert (
        triage(but(TRUCK, injuries=[but(hole, kind="puncture", length="3 mm", width="3 mm")]), shop).verdict
        == "section"
    )


def test_a_tube_is_not_a_repair(shop: Shop) -> None:
    """BS AU 159g. Read in the summary."""
    docket = triage(but(TRUCK, tyre={"tube": "tube asked for instead of a repair"}), shop)
    assert docket.outcome == "hold"


def test_minor_and_major_repairs_are_limited_in_place_size_and_number(book: Rulebook) -> None:
    """BS AU 159f sets minor and major apart and limits their place, size and number. Read in summaries."""
    assert book.verdicts.index("spot") < book.verdicts.index("reinforce") < book.verdicts.index("section")
    by_place = {rule.id for rule in book.rules if rule.id.startswith(("crown/", "shoulder/", "sidewall/"))}
    by_number = {rule.id for rule in book.rules if rule.id.startswith("number/")}
    assert {"crown/through", "shoulder/through_steel_radial", "sidewall/through_steel_radial"} <= by_place
    assert {"number/section_repairs", "number/sidewall_repairs", "number/all_repairs"} <= by_number


@pytest.mark.parametrize(
    ("fault", "outcome"),
    [
        ({"tyre": {"tread left": "1.5 ± 0 mm"}, "service": {"country": "us"}}, "reject"),  # tread below 1.6 mm
        ({"found": {"run flat": "confirmed"}}, "reject"),
        ({"injuries": [but(CUT, cuts_earlier_repair="yes", kind="puncture", distance_from_bead="150 mm")]}, "reject"),
        ({"found": {"crack class": "C3"}}, "reject"),  # ageing
        ({"found": {"bead wire": "exposed"}}, "reject"),
        ({"found": {"worn to cord": "yes"}}, "reject"),
        ({"earlier_repairs": [{"name": "old", "class": "spot", "state": "loose"}]}, "hold"),
    ],
    ids=["tread", "run flat", "secondary damage", "ageing", "bead", "bare cord", "faulty earlier repair"],
)  # fmt: skip
def test_what_is_not_repairable_is_never_released_for_the_road(fault: Tree, outcome: str, shop: Shop) -> None:
    """BS AU 159f, seven grounds. Read in garages' summaries.

    A faulty earlier repair is held until it has been taken out and judged anew, where the standard rejects: milder by
    that look. The tread limit of 1.6 mm is the US one; the UK's own for heavy vehicles is 1 mm, milder than that.
    """
    assert triage(but(TRUCK, **fault), shop).outcome == outcome
