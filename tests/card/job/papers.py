"""Papers for the tests: of the shipped examples, and of a case that a stranger wrote to do harm."""

import json
from datetime import UTC, datetime
from functools import cache
from pathlib import Path

from mendbook.terms.case_file import check_case, read_case
from mendbook.terms.docket import Docket
from mendbook.terms.document import parse_document
from mendbook.triage import Shop, judge

EXAMPLES = Path(__file__).resolve().parents[3] / "examples"
STAMP = datetime(2026, 11, 25, 12, tzinfo=UTC)
BY_OUTCOME = {
    "repair": "quarry/loader_sidewall_cut.yaml",
    "reject": "quarry/haul_truck_crown_edge.yaml",
    "hold": "quarry/loader_before_skive.yaml",
    "stop": "quarry/loader_lightning.yaml",
    "serve": "quarry/grader_scuff.yaml",
}
RUDE = "</p><script>alert(1)</script> #panic() $x$ \\ \"'&<style>*/ "


@cache
def docket(name: str, shop: Shop) -> Docket:
    """Return the docket of an example."""
    return judge(read_case(EXAMPLES / name, shop.book.vocabulary, name=name), shop, now=STAMP)


@cache
def rude(shop: Shop) -> Docket:
    """Return the docket of a case with hostile words, twelve injuries and long names."""
    case = {
        "case": RUDE,
        "judged on": "2026-11-25",
        "tyre": {
            "tag": RUDE, "designation": "26.5R25", "casing": "steel", "date code": "3123", "tread new": "97 mm",
            "tread depths": ["60 mm", "57 mm", "61 mm", "62 mm"],
        },
        "service": {
            "use": "off-road", "duty": "loader v-cycle", "position": "not steered", "speed": "12 km/h",
            "pressure specified": "5.0 bar",
        },
        "found": {
            "valve core": "out", "heat event": "none", "inside inspected": "yes", "pressure at removal": "4.9 bar",
        },
        "earlier repairs": "none",
        "injuries": [_rude_injury(number) for number in range(12)],
    }  # fmt: skip
    document = parse_document(json.dumps(case).encode(), "rude.json")
    return judge(check_case(document, shop.book.vocabulary), shop, now=STAMP)


def _rude_injury(number: int) -> dict[str, str]:
    place = ("distance from bead", "distance from bead", "distance from centreline")[number % 3]
    injury = {
        "name": f"{RUDE if number == 0 else 'a long name of an injury, number'} {number} {'x' * 60 * (number % 2)}",
        "kind": "cut",
        "side": ("serial side", "opposite side", "crown")[number % 3],
        "clock": f"{30 * number} deg",
        place: f"{(200, 320, 40)[number % 3]} mm",
        "reaches": "rubber",
        "length": f"{20 + number} mm",
        "width": f"{15 + number} mm",
        "depth": "5 mm",
        "rubber left": "9 mm",
    }
    return {name: value for name, value in injury.items() if number != 7 or name not in (place, "clock")}
