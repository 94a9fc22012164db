"""How sure a verdict is, what to measure next, and what would change it."""

from mendbook.triage import Shop
from tests.triage.cases import CUT, LOADER, TRUCK, Tree, but, triage

UNSKIVED: Tree = but(CUT, length="57 mm", width="95 mm", cords_cut="15", depth=None, skived="no")


def test_an_undecided_case_says_between_what(shop: Shop) -> None:
    docket = triage(but(LOADER, injuries=[UNSKIVED]), shop)
    assert (docket.bracket, docket.decided, docket.outcome) == (("section", "reject"), False, "hold")
    assert docket.injuries[0].bracket == ("section", "reject")


def test_what_to_measure_next_is_only_what_can_change_the_answer(shop: Shop) -> None:
    docket = triage(but(LOADER, injuries=[UNSKIVED]), shop)
    assert [(look.about, look.fact) for look in docket.measure_next] == [("A", "length")]
    (look,) = docket.measure_next
    assert look.why == "it decides between section and reject"
    assert look.how == shop.book.vocabulary["length"].measure


def test_the_first_look_asked_for_narrows_the_bracket(shop: Shop) -> None:
    tree = but(LOADER, injuries=[but(UNSKIVED, reaches="unknown", cords_cut=None)])
    before = triage(tree, shop)
    first = before.measure_next[0]
    assert (before.bracket, first.fact) == (("leave", "reject"), "reaches")
    after = triage(but(tree, injuries=[but(UNSKIVED, reaches="cord", cords_cut=None)]), shop)
    assert after.bracket == ("spot", "spot")
    longer = triage(but(tree, injuries=[but(UNSKIVED, reaches="through", length="40 ± 0 mm")]), shop)
    assert (longer.bracket, longer.measure_next) == (("section", "section"), ())


def test_a_decided_case_asks_for_nothing(shop: Shop) -> None:
    assert triage(but(LOADER, injuries=[CUT]), shop).measure_next == ()


def test_a_case_that_is_rejected_at_best_asks_for_nothing(shop: Shop) -> None:
    docket = triage(but(LOADER, injuries=[but(CUT, length="200 mm")]), shop)
    assert (docket.bracket, docket.measure_next) == (("reject", "reject"), ())


def test_a_hold_that_hangs_on_a_reading_asks_for_it(shop: Shop) -> None:
    docket = triage(but(LOADER, found={"pressure at removal": "unknown"}, injuries=[CUT]), shop)
    assert [look.fact for look in docket.measure_next] == ["pressure at removal", "casing X-ray"]
    assert {look.why for look in docket.measure_next} == {"a hold depends on it"}


def test_the_nearest_change_that_gives_a_milder_verdict_is_named(shop: Shop) -> None:
    docket = triage(but(LOADER, injuries=[but(CUT, length="70 mm", width="100 mm")]), shop)
    change = next(change for change in docket.would_change if change.fact == "length")
    assert (change.now, change.verdict) == ("70 mm", "section")
    then = float(change.then.split()[0])
    # What is promised is true: judged anew at that length it is milder.
    nearer = but(CUT, length=f"{then:g} mm", width="100 mm")
    assert triage(but(LOADER, injuries=[nearer]), shop).verdict == "section"
    assert 50 <= then <= 60


def test_a_change_of_duty_is_yours_and_age_is_a_lesson(shop: Shop) -> None:
    long_haul = but(LOADER, service={"duty": "haul long"}, injuries=[but(CUT, length="55 mm", cords_cut="14")])
    docket = triage(long_haul, shop)
    assert docket.verdict == "reject"
    duty = next(change for change in docket.would_change if change.fact == "duty")
    assert (duty.then, duty.verdict) == ("loader v-cycle", "section")
    old = triage(but(LOADER, tyre={"date code": "3115"}, injuries=[CUT]), shop)
    age = next(change for change in old.would_change if change.fact == "age")
    assert "a lesson for next time" in age.says


def test_a_reject_that_no_single_change_lifts_says_so(shop: Shop) -> None:
    found = {"run flat": "confirmed", "zipper signs": "seen"}
    docket = triage(but(LOADER, found=found, injuries=[CUT]), shop)
    assert (docket.verdict, docket.would_change) == ("reject", ())
    assert docket.nothing_to_change == "No single change gives a milder verdict."


def test_a_reject_that_only_the_past_could_lift_names_it(shop: Shop) -> None:
    docket = triage(but(LOADER, found={"bead wire": "broken"}, injuries=[CUT]), shop)
    assert docket.nothing_to_change == "Nothing you can change gives a milder verdict; it was decided by bead wire."


def test_when_too_much_is_unknown_it_is_named_before_any_measure(shop: Shop) -> None:
    nothing: Tree = {"case": "x", "found": {"valve core": "out", "heat event": "none"}, "injuries": [{"name": "A"}]}
    docket = triage(nothing, shop)
    assert docket.outcome == "hold"
    assert docket.nothing_to_change == "Too much is unknown to say what would change it."
    asked = {look.fact for look in docket.measure_next}
    assert {"construction", "casing", "duty", "zone"} <= asked


def test_road_and_off_road_are_judged_side_by_side(shop: Shop) -> None:
    docket = triage(but(TRUCK, found={"sidewall separation": "5 cm2"}), shop)
    assert docket.uses == {"off-road": "leave", "road": "reject"}
    assert docket.verdict == "reject"
    off_road = triage(but(LOADER, found={"sidewall separation": "5 cm2"}), shop)
    assert off_road.uses == {"off-road": "leave", "road": "reject"}
    assert (off_road.verdict, off_road.outcome) == ("leave", "hold")


def test_an_unknown_use_is_judged_for_both(shop: Shop) -> None:
    docket = triage(but(TRUCK, service={"use": "unknown"}, found={"sidewall separation": "5 cm2"}), shop)
    assert docket.bracket == ("leave", "reject")
    assert docket.verdict == "reject"
