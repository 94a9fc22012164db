"""Every published clause that this project is held against, and the test that holds it: none is left out silently.

A new clause is written down here first. Each test named says in its docstring, or in that of its module, whether the
text was read or is quoted from memory.
"""

import re
from collections.abc import Callable, Mapping
from importlib import import_module

import pytest

FEDERAL, BRITISH, SALE = "test_us_law", "test_uk_law", "test_used_tyres"
RETREADING, STANDARD, ARMY, CLASSES = (
    "test_retreading", "test_national_repair_standard", "test_army_manual", "test_casing_classes",
)  # fmt: skip

HELD: Mapping[str, tuple[str, str]] = {
    "49 CFR 393.75(a)(1), ply or belt shows": (FEDERAL, "cord_that_shows_and_any_separation_end_road_service"),
    "49 CFR 393.75(a)(2), separation": (FEDERAL, "cord_that_shows_and_any_separation_end_road_service"),
    "49 CFR 393.75(a)(3), flat or leaking": (FEDERAL, "a_flat_or_leaking_tyre_never_goes_back_as_it_is"),
    "49 CFR 393.75(a)(4), cut to the cord": (FEDERAL, "a_cut_so_deep_that_cord_shows_must_be_repaired"),
    "49 CFR 393.75(b), tread in front": (FEDERAL, "tread_depth_front_and_other_wheels"),
    "49 CFR 393.75(c), tread elsewhere": (FEDERAL, "tread_depth_front_and_other_wheels"),
    "49 CFR 393.75(d), retreads on bus fronts": (FEDERAL, "only_the_front_wheels_of_a_bus_are_barred_to_retreads"),
    "49 CFR 393.75(d)-(e), regrooved in front": (FEDERAL, "regrooved_tyres_are_barred_from_front_wheels"),
    "49 CFR 393.75(e), 2 232 kg in pounds": (
        "test_outside_units", "the_load_from_which_regrooved_tyres_are_barred_is_one_figure_in_both_units",
    ),
    "49 CFR 393.75(f), load": (FEDERAL, "a_load_above_the_rating_needs_a_permit"),
    "49 CFR 569.7(a)(2)(ii), rubber under a groove": (FEDERAL, "rubber_left_under_a_new_groove"),
    "49 CFR 569.7(a)(2)(iii)-(iv), how a groove is cut": (FEDERAL, "how_a_groove_is_cut_is_not_asked"),
    "49 CFR 570.62(a), tread": (FEDERAL, "tread_depth_front_and_other_wheels"),
    "49 CFR 570.62(a)(1), three places": (FEDERAL, "tread_is_read_at_three_places"),
    "49 CFR 570.62(c), bulges": (FEDERAL, "a_bump_or_bulge_by_separation_ends_road_service"),
    "49 CFR 570.62(d), repairs in front": (FEDERAL, "a_reinforced_repair_is_not_for_the_front"),
    "49 CFR 570.63, rim run-out": (FEDERAL, "a_rim_runs_true_to_an_eighth_of_an_inch"),
    "49 CFR 570.9, light vehicles": (FEDERAL, "light_vehicles_are_left_to_their_own_clause"),
    "US date code, three and four digits": (FEDERAL, "a_date_code_of_three_digits_leaves_the_decade_open"),
    "NHTSA letter, ply and chafer": (RETREADING, "bared_ply_and_bared_chafer_fabric_are_two_things"),
    "NHTSA letter, sealed nail hole": (RETREADING, "a_nail_hole_that_was_sealed_inside_is_not_bared_cord"),
    "NHTSA letter, proposal of fifteen inches": (
        RETREADING, "two_nail_holes_within_fifteen_inches_are_allowed_where_a_proposal_of_1969_would_not_have",
    ),
    "NHTSA letter, exposed and damaged bead": (
        RETREADING, "exposed_and_damaged_bead_wire_are_told_apart_and_both_are_defects",
    ),
    "UN R109, never accepted": (RETREADING, "what_is_never_accepted_is_rejected_whatever_the_cords"),
    "UN R109, within limits only": (RETREADING, "what_is_taken_within_limits_only_waits_for_the_retreader"),
    "UN R108, seven years of cars": (RETREADING, "the_seven_years_of_car_casings_are_not_brought_over"),
    "SI 1986/1078 reg 27(1), cut": (
        BRITISH, "a_cut_to_the_cord_longer_than_the_greater_of_two_measures_is_barred",
    ),
    "SI 1986/1078 reg 27(1), depth and length": (BRITISH, "length_without_depth_is_not_barred"),
    "SI 1986/1078 reg 27(1), lump and cord": (BRITISH, "cord_that_shows_and_lumps_end_road_service"),
    "SI 1986/1078 reg 27(4), heavy vehicles": (BRITISH, "a_millimetre_of_tread_over_three_quarters_of_the_breadth"),
    "SI 1986/1078 reg 27(4), cars": (BRITISH, "the_tread_of_cars_is_not_asked"),
    "SI 1986/1078 reg 27(5), recut": (BRITISH, "recut_tyres_are_for_goods_vehicles_with_large_rims"),
    "SI 2020/1178, ten years": (BRITISH, "no_tyre_over_ten_years_on_a_front_steered_axle"),
    "SI 2020/1178, retreads": (BRITISH, "a_retread_counts_from_the_day_it_was_retreaded"),
    "SI 2020/1178, date code in front": (BRITISH, "a_front_steered_axle_wants_a_date_code_that_can_be_read"),
    "SI 2020/1178, date code elsewhere": (BRITISH, "on_other_axles_an_illegible_date_code_is_a_lesser_fault"),
    "SI 1994/3117 reg 7, tread": (SALE, "two_millimetres_of_tread_are_wanted_for_a_sale_and_one_for_running"),
    "SI 1994/3117 reg 7, inside": (SALE, "lumps_and_cord_inside_bar_a_sale"),
    "SI 1994/3117 reg 7, outside": (SALE, "what_bars_running_bars_a_sale"),
    "SI 1994/3117 reg 7, cut": (SALE, "a_cut_that_may_not_be_run_with_may_not_be_sold"),
    "SI 1994/3117 reg 7, penetration": (SALE, "bared_cord_of_any_size_and_an_open_hole_bar_a_sale_until_repaired"),
    "SI 1994/3117 reg 7, both states": (SALE, "a_used_tyre_is_looked_at_without_air_and_at_its_highest_pressure"),
    "SI 1994/3117 reg 7, repairs": (SALE, "earlier_repairs_are_proven_to_be_to_the_standard"),
    "BS AU 159, zone of minor repairs": (STANDARD, "the_zone_of_minor_repairs_to_the_millimetre"),
    "BS AU 159, zone against our crown": (STANDARD, "our_crown_is_about_as_wide_as_the_zone_of_minor_repairs"),
    "BS AU 159, zone for a sale": (SALE, "a_nail_hole_outside_the_zone_of_minor_repairs_is_held_for_a_sale"),
    "BS AU 159, six millimetres": (STANDARD, "a_minor_repair_ends_at_six_millimetres"),
    "BS AU 159, rubber only": (STANDARD, "rubber_alone_is_repaired_anywhere_outside"),
    "BS AU 159, sidewall": (STANDARD, "a_hole_in_the_sidewall_is_no_minor_repair"),
    "BS AU 159, tube": (STANDARD, "a_tube_is_not_a_repair"),
    "BS AU 159, minor and major": (STANDARD, "minor_and_major_repairs_are_limited_in_place_size_and_number"),
    "BS AU 159, seven grounds": (STANDARD, "what_is_not_repairable_is_never_released_for_the_road"),
    "TM 9-2610-200-14, its limit table": (ARMY, "its_table_of_repair_limits_is_cited_nowhere"),
    "TM 9-2610-200-14, section patches": (ARMY, "every_reinforcement_is_within_the_sizes_of_section_patches"),
    "TM 9-2610-200-14, hot spot minutes": (ARMY, "its_minutes_by_thickness_are_a_straight_line_and_ours_are_not"),
    "TM 9-2610-200-14, bead tears": (
        "test_guidance", "a_bead_torn_deeper_than_two_thirty_seconds_is_rejected_for_the_road",
    ),
    "TM 9-2610-200-14, bead wire": (ARMY, "a_bead_that_shows_or_kinks_its_wire_is_condemned"),
    "TM 9-2610-200-14, sidewalls": (ARMY, "what_condemns_a_sidewall"),
    "TM 9-2610-200-14, gouges": (ARMY, "a_gouge_of_two_thirty_seconds_is_judged_by_what_is_left"),
    "TM 9-2610-200-14, stood flat": (ARMY, "a_casing_that_stood_flat_until_its_cords_bent_is_condemned"),
    "TM 9-2610-200-14, least tread": (ARMY, "the_least_tread_is_a_share_and_not_a_depth"),
    "OST 38-47-171-95, radial and bias sizes": (
        CLASSES, "no_radial_may_be_hurt_longer_or_over_more_area_than_a_bias_tyre",
    ),
    "OST 38-47-171-95, cuts": (CLASSES, "a_cut_that_spares_the_cords_is_never_milder_on_a_radial"),
    "OST 38-47-171-95, tread": (CLASSES, "the_tread_of_its_first_class_is_that_of_british_law"),
    "OST 38-47-171-95, separation": (
        CLASSES, "separation_is_never_milder_as_it_grows_and_always_stricter_than_its_first_class",
    ),
    "FAA AC 43.13-1B, both conditions": (CLASSES, "two_conditions_of_one_limit_must_hold_together"),
    "NAVEDTRA 14018, both faces": (CLASSES, "a_hole_is_as_large_as_its_larger_face"),
}  # fmt: skip

KNOWN = re.compile(r"\b[Rr]ead\b|[Ff]rom memory|[Rr]eported by|[Ww]orked out")


@pytest.mark.parametrize("clause", HELD)
def test_a_clause_is_held_by_a_test_that_says_how_its_text_is_known(clause: str) -> None:
    module_name, name = HELD[clause]
    module = import_module(f"tests.conformance.{module_name}")
    held: Callable[..., None] = getattr(module, f"test_{name}")
    assert KNOWN.search(f"{module.__doc__} {held.__doc__}")


def test_no_conformance_test_to_a_law_or_standard_stands_outside_the_register() -> None:
    named = {f"{module}.test_{name}" for module, name in HELD.values()}
    ours = {
        f"{module}.{name}"
        for module in (RETREADING, STANDARD, ARMY, CLASSES, SALE)
        for name in vars(import_module(f"tests.conformance.{module}"))
        if name.startswith("test_")
    }
    about_reports = {
        "test_retreading.test_the_report_says_beside_finding_and_answer_that_the_text_is_from_memory",
        "test_retreading.test_a_clause_that_was_read_does_not_say_from_memory_and_one_beside_it_that_was_not_does",
    }
    assert ours - named == about_reports
