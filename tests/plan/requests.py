"""Invented repairs as the plan is asked for them, with the few facts it looks at."""

from collections.abc import Mapping
from dataclasses import replace

from mendbook.plan.request import Release, Said, Wanted
from mendbook.rulebook.tree import Value

METHODS: Mapping[str, tuple[str, ...]] = {
    "heat": ("hot", "cold"),
    "stages": ("one stage", "two stages"),
    "reinforcement": ("uncured reinforcement", "precured reinforcement"),
    "heating": ("heat from both faces", "heat from one face"),
    "kit": ("flexible pads", "sectional mould", "arm press", "spot press"),
}

_LOADER: dict[str, Value] = {
    "casing": "steel", "moisture": "dry", "reaches": "through", "use": "off-road", "width class": "W6",
    "deciding length": 48.0, "deciding width": 118.0, "length": 48.0, "width": 118.0, "outside length": 90.0,
    "inside length": 0.0, "inside width": 0.0, "cavity depth": 46.0, "sidewall high": 52.0, "shoulder high": 130.0,
    "crown high": 160.0, "height": 552.0, "rim": 635.0, "half girth": 895.0, "bead ends": 138.0, "lower edge": 330.0,
    "upper edge": 448.0, "section width": 673.1, "inflated width": 673.1, "reinforcement extra": 121.158,
    "reinforcement thickness": 16.0, "reinforcement clearance": 70.857, "pressure specified": 5.0,
}  # fmt: skip

_TRUCK: dict[str, Value] = {
    **_LOADER, "reaches": "plies", "use": "road", "width class": "W2",
    "deciding length": 30.0, "deciding width": 25.0, "length": 30.0, "width": 25.0, "outside length": 0.0,
    "cavity depth": 10.0, "sidewall high": 18.0, "shoulder high": 42.0, "crown high": 44.0, "height": 252.0,
    "rim": 571.5, "half girth": 402.0, "bead ends": 75.0, "lower edge": 360.0, "upper edge": 385.0,
    "section width": 315.0, "inflated width": 315.0, "reinforcement extra": 60.0, "reinforcement thickness": 0.0,
    "pressure specified": 8.3,
}  # fmt: skip

LOADER = Wanted("A", "section", "upper sidewall", _LOADER)
TRUCK = Wanted("A", "spot", "crown centre", _TRUCK)
RELEASE = Release(verdict="section", facts={"width class": "W6", "pressure specified": 5.0, "use": "off-road"})


def but(wanted: Wanted, **facts: Value) -> Wanted:
    """Return `wanted` with other facts; underscores stand for spaces."""
    changed = {name.replace("_", " "): value for name, value in facts.items()}
    return replace(wanted, facts={**wanted.facts, **changed})


def without(wanted: Wanted, *methods: str) -> Wanted:
    """Return `wanted` with `methods` ruled out."""
    said = tuple(Said(method.capitalize(), f"No {method} here.", "house default") for method in methods)
    return replace(wanted, ruled_out=(*wanted.ruled_out, *said))
