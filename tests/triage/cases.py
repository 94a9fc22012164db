"""Invented cases as a shop writes them, for the tests: maps that are written out as YAML and read back."""

from collections.abc import Mapping
from copy import deepcopy
from typing import Any

import yaml

from mendbook.terms.case import Case
from mendbook.terms.case_file import check_case
from mendbook.terms.docket import Docket
from mendbook.terms.document import parse_document
from mendbook.terms.vocabulary import Vocabulary
from mendbook.triage import Shop, judge

Tree = dict[str, Any]

LOADER: Tree = {
    "case": "invented loader",
    "judged on": "2026-11-25",
    "tyre": {
        "designation": "26.5R25",
        "casing": "steel",
        "date code": "3123",
        "tread new": "97 mm",
        "tread depths": ["60 mm", "57 mm", "61 mm", "62 mm"],
    },
    "service": {
        "use": "off-road",
        "duty": "loader v-cycle",
        "position": "not steered",
        "speed": "12 km/h",
        "pressure specified": "5.0 bar",
    },
    "found": {"valve core": "out", "heat event": "none", "inside inspected": "yes", "pressure at removal": "4.9 bar"},
    "earlier repairs": "none",
    "injuries": [],
}

TRUCK: Tree = {
    "case": "invented truck",
    "judged on": "2026-11-25",
    "tyre": {
        "designation": "315/80R22.5",
        "casing": "steel",
        "date code": "2722",
        "belts": "4",
        "tread new": "18 mm",
        "tread depths": ["9 mm", "9.5 mm", "9 mm", "10 mm"],
    },
    "service": {
        "use": "road",
        "duty": "truck",
        "position": "not steered",
        "speed": "80 km/h",
        "pressure specified": "8.3 bar",
    },
    "found": {"valve core": "out", "heat event": "none", "inside inspected": "yes", "pressure at removal": "8.2 bar"},
    "earlier repairs": "none",
    "injuries": [],
}

CUT: Tree = {
    "name": "A",
    "kind": "cut",
    "side": "serial side",
    "clock": "214 deg",
    "distance from bead": "330 mm",
    "reaches": "through",
    "length": "48 mm",
    "width": "118 mm",
    "depth": "46 mm",
    "cords cut": "13",
    "skived": "yes",
}

NAIL: Tree = {
    "name": "A",
    "kind": "puncture",
    "side": "crown",
    "clock": "300 deg",
    "distance from centreline": "20 mm",
    "reaches": "through",
    "length": "4 mm",
    "width": "4 mm",
    "belts damaged": "2",
    "belt edge distance": "80 mm",
    "skived": "yes",
}


def but(tree: Mapping[str, Any], **changes: Any) -> Tree:
    """Return `tree` with changes; underscores stand for spaces, a map is merged, None takes a key out."""
    changed = deepcopy(dict(tree))
    for name, value in changes.items():
        key = name.replace("_", " ")
        if value is None:
            changed.pop(key, None)
        elif isinstance(value, Mapping) and isinstance(changed.get(key), dict):
            changed[key] = but(changed[key], **value)
        else:
            changed[key] = deepcopy(value)
    return changed


def write(tree: Mapping[str, Any]) -> str:
    """Return `tree` as the text of a case file."""
    return yaml.safe_dump(dict(tree), sort_keys=False, allow_unicode=True)


def read(case: str | Mapping[str, Any], vocabulary: Vocabulary) -> Case:
    """Return the case in a text or map, read as the case file reader does. Raises CaseError or DocumentError."""
    text = case if isinstance(case, str) else write(case)
    return check_case(parse_document(text, "case.yaml"), vocabulary)


def triage(case: str | Mapping[str, Any], shop: Shop, *, law: str | None = None) -> Docket:
    """Return the docket of a text or map."""
    return judge(read(case, shop.book.vocabulary), shop, law=law)
