"""The invented figures that the tests reckon with, and cases made of them."""

from typing import Any

from mendbook.terms.case import Case
from mendbook.terms.case_file import check_case
from mendbook.terms.document import Document
from mendbook.terms.vocabulary import Vocabulary
from mendbook.worth.figures import Figures

AMOUNTS = {
    "new_price": 14800.0, "fitting": 420.0, "disposal": 310.0, "casing_value": 900.0, "casing_sold_new": 0.40,
    "casing_sold_repaired": 0.15, "casing_sold_now": 0.0, "new_life": 6200.0, "tread_ratio": 0.58, "usable_tread": 0.95,
    "repair_price": 1960.0, "early_loss": 0.04, "mean_life": 9000.0, "failure_cost": 2750.0, "repair_time": 0.0,
    "lead_time": 0.0, "retread_time": 0.0, "standing_cost": 0.0, "retread_price": 6900.0, "retread_life": 5270.0,
    "retread_early_loss": 0.08, "retread_mean_life": 8000.0, "discount_rate": 0.0, "use_a_year": 5000.0,
}  # fmt: skip

WRITTEN = {
    "currency": "EUR", "new price": "14800", "fitting": "420", "disposal": "310", "casing value": "900",
    "new casing sold": "40 %", "repaired casing sold": "15 %", "new life": "6200 h", "tread ratio": "58 %",
    "usable tread": "95 %", "repair price": "1960", "early loss": "4 %", "mean life": "9000 h", "failure cost": "2750",
    "retread price": "6900", "retread life": "5270 h", "retread early loss": "8 %", "retread mean life": "8000 h",
    "spare": "yes",
}  # fmt: skip

SIDEWALL_CUT: dict[str, Any] = {
    "case": "an invented loader tyre",
    "judged on": "2026-11-25",
    "tyre": {
        "designation": "26.5R25", "casing": "steel", "date code": "3123", "tread code": "L-5", "star rating": "**",
        "tread new": "97 mm", "tread depths": ["60 mm", "57 mm", "61 mm", "62 mm"],
    },
    "service": {
        "use": "off-road", "duty": "loader v-cycle", "position": "not steered", "speed": "12 km/h",
        "pressure specified": "5.0 bar",
    },
    "found": {
        "valve core": "out", "heat event": "none", "inside inspected": "yes", "pressure at removal": "4.9 bar",
    },
    "earlier repairs": "none",
    "injuries": [
        {
            "name": "A", "kind": "cut", "side": "opposite side", "clock": "214 deg", "distance from bead": "330 mm",
            "reaches": "through", "length": "48 mm", "width": "118 mm", "depth": "46 mm", "outside length": "90 mm",
            "cords cut": "13", "skived": "yes",
        }
    ],
    "workshop": {"shop temperature": "18 °C", "shop humidity": "50 %"},
}  # fmt: skip


def figures(**changed: float) -> Figures:
    """Return the figures of the worked example, some of them changed."""
    return Figures.of(AMOUNTS, has_spare=True, is_discounted=False).changed(**changed)


def case(vocabulary: Vocabulary, money: dict[str, str] | None, **sections: Any) -> Case:
    """Return the invented loader tyre with `money` and other `sections` in it."""
    tree = SIDEWALL_CUT | sections | ({} if money is None else {"money": money})
    return check_case(Document("invented", tree, {(): 1}), vocabulary)
