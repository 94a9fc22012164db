"""Holds at the level of a case: the case raises it, what the docket says to write clears it."""

import re
from collections.abc import Iterable
from typing import Any

import pytest

from mendbook.rulebook.book import Rulebook
from mendbook.terms.docket import Docket, Entry, Finding
from mendbook.triage import Shop
from mendbook.triage.findings import is_heard
from tests.triage.cases import CUT, LOADER, NAIL, TRUCK, Tree, but, triage

SCUFF: Tree = {
    "name": "A", "kind": "abrasion", "distance from bead": "330 mm", "reaches": "rubber", "rubber left": "2 mm",
    "length": "40 mm", "width": "30 mm", "skived": "yes",
}  # fmt: skip
OLD: Tree = {"name": "old", "class": "spot", "side": "crown", "clock": "90 deg", "state": "sound"}
BIAS: Tree = {"designation": "23.5-25", "casing": "nylon"}
# What a person writes where a derived fact follows from another field.
FOLLOWING = {
    "pressure at removal": "8.2 bar", "designation": "26.5R25", "date code": "3123", "plies": "12",
    "tread depths": ["9 mm", "9 mm", "9 mm", "9 mm"], "earlier repairs": "none", "tyre temperature": "30 °C",
    "dual difference": "1 mm",
}  # fmt: skip


def loader(*, injuries: tuple[Tree, ...] = (), **changes: Any) -> Tree:
    return but(LOADER, injuries=list(injuries), **changes)


def truck(*, injuries: tuple[Tree, ...] = (), **changes: Any) -> Tree:
    return but(TRUCK, injuries=list(injuries), **changes)


def nylon(*, injuries: tuple[Tree, ...] = (), **changes: Any) -> Tree:
    return but(loader(injuries=injuries, tyre=BIAS), **changes)


def found(**written: str) -> Tree:
    return loader(found={name.replace("_", " "): value for name, value in written.items()})


RAISED: dict[str, Tree] = {
    "age/off_road_section": loader(injuries=(CUT,), tyre={"date code": "1018"}),
    "age/road_bonds": truck(tyre={"date code": "1018"}),
    "age/road_hardness": truck(tyre={"date code": "1018"}),
    "age/stored": loader(tyre={"date code": "1019", "storage": "stored anyhow"}),
    "any_zone/cuts_earlier_repair": loader(injuries=(but(CUT, cuts_earlier_repair="yes"),)),
    "any_zone/liner_only_long": loader(injuries=(but(SCUFF, kind="liner only", liner_damage="90 mm"),)),
    "any_zone/near_open_splice": loader(injuries=(but(CUT, splice_gap="20 mm"),)),
    "any_zone/object_still_in": truck(injuries=(but(NAIL, object="still in"),)),
    "any_zone/out_of_table": loader(tyre={"designation": "40.00R57"}),
    "any_zone/plies_not_counted": nylon(injuries=(CUT,)),
    "any_zone/pulled_cords": loader(injuries=(but(CUT, pulled_cords="found"),)),
    "any_zone/readings_differ": loader(injuries=(but(CUT, readings_differ_by="14 mm"),)),
    "any_zone/reverted_rubber": loader(injuries=(but(CUT, old_rubber="reverted"),)),
    "any_zone/rust_far_along": loader(injuries=(but(SCUFF, rust="60 mm"),)),
    "any_zone/separation_not_skived": loader(injuries=(but(SCUFF, kind="separation", skived="no"),)),
    "bead/chafer_fabric": found(chafer_fabric_bare="10 mm"),
    "bead/chafer_tear_deep": found(chafer_tear_depth="6 mm"),
    "bead/chafer_tear_long": found(chafer_tear_length="80 mm"),
    "bead/rim_groove_off_road": found(rim_groove="7 mm"),
    "bead/rim_groove_road": truck(found={"rim groove": "4 mm"}),
    "casing/acid": found(contamination="acid or alkali"),
    "casing/cracks_deep_off_road": found(crack_class="C3"),
    "casing/earlier_repair_loose": loader(earlier_repairs=[{"name": "old", "class": "spot", "state": "loose"}]),
    "casing/heat_suspected": loader(found={"heat event": "suspected", "hours since heat": "48 h"}),
    "casing/inside_inspected": found(inside_inspected="no"),
    "casing/leak_not_traced": found(leak="not traced"),
    "casing/liquid": found(filled_with="liquid"),
    "casing/low_pressure_steel": found(pressure_at_removal="2.5 bar"),
    "casing/low_pressure_textile": nylon(found={"pressure at removal": "2.5 bar"}),
    "casing/moisture": found(moisture="damp"),
    "casing/oil": found(contamination="oil or fuel"),
    "casing/pressure_unknown_steel": found(pressure_at_removal="unknown"),
    "casing/pressure_unknown_textile": nylon(found={"pressure at removal": "unknown"}),
    "casing/run_flat_suspected_steel": found(run_flat="suspected"),
    "casing/run_flat_textile": nylon(found={"run flat": "suspected"}),
    "casing/salt_water": found(contamination="salt water"),
    "casing/separation_off_road": found(sidewall_separation="10 cm2"),
    "casing/sidewall_hardness": found(sidewall_hardness="86 Shore A"),
    "casing/tread_separation_off_road": found(tread_separation="40 mm"),
    "identity/age_contradicted": found(age_record="contradicted"),
    "identity/earlier_repairs": loader(earlier_repairs="not mapped"),
    "identity/serial": loader(tyre={"date code": "unknown"}),
    "identity/sides_agree": loader(tyre={"sides agree": "no"}),
    "identity/size": loader(tyre={"designation": "unknown"}),
    "law/us/overload": truck(service={"country": "us", "load share": "110 %"}),
    "law/us/rim_run_out": truck(service={"country": "us"}, found={"rim run-out": "4 mm"}),
    "law/uk_part_worn/earlier_repairs": truck(earlier_repairs=[OLD]),
    "law/uk_part_worn/look": truck(),
    "any_zone/minor_zone_for_sale": truck(injuries=(but(NAIL, side="serial side", distance_from_centreline="115 mm"),)),
    "law/un_r109/bead": truck(found={"chafer tear depth": "0.5 ± 0 mm"}),
    "law/un_r109/chemicals": truck(found={"contamination": "solvent"}),
    "law/un_r109/earlier_repairs": truck(earlier_repairs=[OLD]),
    "law/un_r109/liner": truck(found={"liner split": "20 mm"}),
    "law/un_r109/low_pressure_suspected": truck(found={"run flat": "suspected"}),
    "law/un_r109/penetration": truck(injuries=(NAIL,)),
    "law/un_r109/rust": truck(injuries=(but(NAIL, rust="5 mm"),)),
    "law/un_r109/separation": truck(found={"tread separation": "20 mm"}),
    "law/un_r109/crack": truck(injuries=(but(SCUFF, kind="crack", distance_from_bead="70 mm"),)),
    "law/un_r109/worn_to_cord": truck(found={"worn to cord": "yes"}),
    "liner/blister": found(liner_blister="found"),
    "liner/sealant_off_road": found(filled_with="sealant"),
    "liner/split": found(liner_split="150 mm"),
    "liner/splits": found(liner_splits="5"),
    "liner/tube_instead": loader(tyre={"tube": "tube asked for instead of a repair"}),
    "method/cold_shop": loader(injuries=(CUT,), workshop={"shop temperature": "4 °C"}),
    "method/damp_shop": loader(injuries=(CUT,), workshop={"shop humidity": "85 %"}),
    "method/inside_bag": loader(injuries=(CUT,), workshop={"inside bag": "none or out of date"}),
    "people/air_line": found(air_line="incomplete"),
    "people/person": found(person="not authorised"),
    "people/restraint_damaged": found(restraint="damaged"),
    "people/restraint_unchecked": found(restraint="not checked today"),
    "people/rim_parts": found(rim_parts="cracked"),
    "rubber/large_skin_bared": loader(injuries=(but(SCUFF, reaches="cord", length="400 mm"),)),
    "rubber/large_skin_off_road": loader(injuries=(but(SCUFF, length="400 mm"),)),
    "rubber/large_skin_truck": truck(injuries=(but(SCUFF, length="300 mm", distance_from_bead="150 mm"),)),
    "rubber/large_skin_whole_cords": loader(
        injuries=(but(CUT, reaches="plies", cords_cut="0", plies_damaged="0", length="400 mm"),)
    ),
    "rubber/thin_at_bead_off_road": loader(injuries=(but(SCUFF, distance_from_bead="5 mm"),)),
    "rubber/thin_at_bead_truck": truck(injuries=(but(SCUFF, distance_from_bead="2 mm"),)),
    "number/perforation": truck(injuries=tuple(but(NAIL, name=f"N{n}", clock=f"{8 * n} deg") for n in range(7))),
    "service/dual_mates": truck(service={"fitment": "dual", "dual difference": "25 mm"}),
    "service/fast_section": loader(injuries=(CUT,), service={"speed": "90 km/h"}),
    "service/heat_rating": loader(service={"tkph use": "130 %"}),
    "service/hot_floor": loader(injuries=(CUT,), service={"hot floor": "yes"}),
    "service/overload": loader(service={"load share": "120 %"}),
    "sidewall/flex_cracks": loader(injuries=(but(SCUFF, kind="crack"),), found={"crack class": "C2"}),
    "sidewall/long_abrasion": loader(injuries=(but(SCUFF, reaches="cord", length="350 mm"),)),
    "tread/readings_road": truck(tyre={"tread depths": ["9 mm"]}),
    "tread/worn_to_cord_off_road": found(worn_to_cord="yes"),
}
# What only other measures of the same case raise: ages that are slips, factors, spacing, kit.
NOT_RAISED = {
    "age/unlikely", "any_zone/factors_below_floor", "any_zone/plies_not_counted_textile_radial", "number/gap",
    "method/dew_point", "method/reinforcement_in_bead_band", "method/thick_with_one_face",
}  # fmt: skip


# Laws that no country brings by itself: they are asked for by name.
BY_NAME = {
    "law/uk_part_worn/": "uk-part-worn",
    "any_zone/minor_zone_for_sale": "uk-part-worn",
    "law/un_r109/": "un-r109",
}


def law_of(rule: str) -> str | None:
    return next((law for folder, law in BY_NAME.items() if rule.startswith(folder)), None)


def held_by(docket: Docket, rule: str, uses: tuple[str, ...]) -> Finding | None:
    for finding in docket.findings:
        if finding.rule == rule and "hold" in finding.says and is_heard(finding, uses):
            return finding
    return None


def write(tree: Tree, entry: Entry, book: Rulebook) -> Tree:
    """Return the case with what the docket says to write."""
    if entry.field in FOLLOWING and entry.fact != entry.field:
        value: Any = FOLLOWING[entry.field]
    elif book.vocabulary[entry.fact].is_listed:
        value = entry.value.split(" or ")[0]
    else:
        match = re.fullmatch(r"(up to|at least) (\S+) (.+?)(?:, reading error included)?", entry.value)
        assert match is not None
        how, figure, unit = match.groups()[:3]
        # Well inside, so that the reading error does not reach over the limit.
        value = f"{float(figure) * (2.0 if how == 'at least' else 0.5):g} {unit}"
    if not entry.section:
        return but(tree, **{entry.field: value})
    if entry.section != "injuries":
        return but(tree, **{entry.section: {entry.field: value}})
    return but(tree, injuries=[but(injury, **{entry.field: value}) for injury in tree["injuries"]])


def test_every_hold_is_tried_or_named_as_not_raised(book: Rulebook) -> None:
    holding = {rule.id for rule in book.rules for line in rule.lines if line.outcome.hold}
    assert holding == {*RAISED, *NOT_RAISED}


def a_third(rules: Iterable[str]) -> list[Any]:
    """Return every rule, two of three for the long run only."""
    return [pytest.param(rule, marks=[pytest.mark.long] if place % 3 else []) for place, rule in enumerate(rules)]


@pytest.mark.parametrize("rule", a_third(RAISED))
def test_what_the_docket_says_to_write_clears_the_hold(rule: str, shop: Shop) -> None:
    tree = RAISED[rule]
    uses = (tree["service"]["use"],)
    before = triage(tree, shop, law=law_of(rule))
    finding = held_by(before, rule, uses)
    assert finding is not None
    assert before.outcome in ("hold", "reject")
    assert finding.text in before.holds
    for way in finding.cleared_by:
        after = tree
        for entry in way:
            after = write(after, entry, shop.book)
        docket = triage(after, shop, law=law_of(rule))
        assert held_by(docket, rule, uses) is None
        assert finding.text not in docket.holds


LOOKED_FOR = {
    rule: tree for rule, tree in RAISED.items() if rule not in ("identity/age_contradicted", "law/us/overload")
}


@pytest.mark.parametrize("rule", a_third(LOOKED_FOR))
def test_a_good_look_takes_no_verdict_away_and_a_bad_one_never_makes_it_milder(rule: str, shop: Shop) -> None:
    tree = LOOKED_FOR[rule]
    before = triage(tree, shop, law=law_of(rule))
    finding = held_by(before, rule, (tree["service"]["use"],))
    assert finding is not None
    rank = shop.book.rank
    for entry in (entry for way in finding.cleared_by for entry in way):
        fact = shop.book.vocabulary[entry.fact]
        if not fact.is_look:
            continue
        sound = triage(write(tree, entry, shop.book), shop, law=law_of(rule))
        assert (sound.verdict, sound.bracket) == (before.verdict, before.bracket)
        unsound = triage(
            write(tree, entry.model_copy(update={"value": fact.values[-1]}), shop.book), shop, law=law_of(rule)
        )
        assert unsound.verdict is not None
        assert before.verdict is not None
        assert rank(unsound.verdict) >= rank(before.verdict)
        assert unsound.outcome == "reject"


def test_the_docket_names_the_look_and_how_it_is_done(shop: Shop) -> None:
    docket = triage(found(run_flat="suspected"), shop)
    [finding] = [f for f in docket.findings if f.rule == "casing/run_flat_suspected_steel"]
    assert finding.cleared_by == ((Entry(section="found", field="casing X-ray", value="sound", fact="casing X-ray"),),)
    [look] = docket.measure_next
    assert (look.about, look.fact, look.why) == ("tyre", "casing X-ray", "a hold depends on it")
    assert look.how == shop.book.vocabulary["casing X-ray"].measure


def test_a_look_that_no_hold_asks_for_is_not_asked_for(shop: Shop) -> None:
    docket = triage(loader(injuries=(but(CUT, length="48 to 70 mm"),)), shop)
    looks = {fact.name for fact in shop.book.vocabulary if fact.is_look}
    assert docket.measure_next
    assert not looks & {look.fact for look in docket.measure_next}
    assert not looks & {change.fact for change in docket.would_change}
    assert not looks & {name.split(": ")[-1] for name in docket.assumed}


def test_a_look_of_which_nobody_knows_how_it_came_out_is_not_done(shop: Shop) -> None:
    tree = found(run_flat="suspected")
    without = triage(tree, shop)
    unknown = triage(but(tree, found={"casing X-ray": "unknown"}), shop)
    assert (unknown.outcome, unknown.bracket, unknown.holds) == (without.outcome, without.bracket, without.holds)


def test_a_look_does_not_clear_what_was_confirmed(shop: Shop) -> None:
    docket = triage(found(run_flat="confirmed", **{"casing X-ray": "sound"}), shop)
    assert docket.outcome == "reject"
