"""Strategies that draw whole cases over the vocabulary, sensible and otherwise."""

from typing import Any

from hypothesis import strategies as st

from mendbook.terms.vocabulary import Fact, Subject, Vocabulary
from tests.triage.cases import Tree

SIZES = (
    "26.5R25", "23.5-25", "18.00-25", "24.00R35", "315/80R22.5", "12.00R20", "875/65R29", "10.00B20", "45/65R45",
    "unknown",
)  # fmt: skip
DATES = ("3123", "4220", "1016", "0312", "unknown")
# Drawn by hand below, because they hang together.
BY_HAND = {"zone", "distance from bead", "distance from centreline", "construction", "casing", "reaches"}
# What a yard sees nearly always; other values are drawn one time in sixteen, for with them nothing else is decided.
USUAL = {
    "valve core": "out", "heat event": "none", "hot work": "none", "signs on inflation": "none", "chocked": "yes",
    "inflate before look": "no", "flammable smell": "none", "filled with": "air", "bead wire": "sound",
    "bead rubber": "sound", "turn-up": "sound", "zipper signs": "none", "sat flat": "no", "worn to cord": "no",
    "loose cords": "none", "kinked cords": "none", "heat signs inside": "none", "cords stained": "no",
    "wheel": "off the machine",
}  # fmt: skip
# The most that is worth drawing of a measure; the whole range would be far over every limit nearly always.
MOST = {
    "length": 160, "width": 200, "depth": 90, "inside length": 120, "inside width": 120, "outside length": 250,
    "separation halo": 40, "rust": 60, "path angle": 60, "plies damaged": 12, "cords cut": 22,
    "pressure at removal": 7, "pressure specified": 9, "pressure outside restraint": 2, "hours since heat": 60,
    "rubber left": 15, "liner damage": 350, "tread left": 60, "speed": 100, "belt edge distance": 90,
    "chafer tear depth": 4, "chafer tear length": 90, "chafer fabric bare": 40, "liner split": 400,
    "liner splits": 5, "sidewall separation": 40, "oil wicking": 80, "oil swell": 4, "rim groove": 8,
    "tread separation": 3,
}  # fmt: skip
MUST = {
    "valve core", "heat event", "use", "duty", "position", "inside inspected", "pressure at removal",
    "pressure specified", "length", "width", "tread new", "tread left", "kind", "skived", "speed",
}  # fmt: skip
OPEN = {"kind": 12, "duty": 14, "contamination": 5, "filled with": 5}  # unknown multiplies the ways to read a case


def spelled(fact: Fact, number: float) -> str:
    """Return `number` [the unit of `fact`] as a shop writes it."""
    text = f"{number:.10f}".rstrip("0").rstrip(".") if number % 1 else str(int(number))
    counted = fact.unit in ("", "plies", "belts", "cords", "splits", "readings", "repairs", "years")
    return text if counted else f"{text} {fact.unit}"


@st.composite
def values(draw: st.DrawFn, fact: Fact) -> str:
    """A value of one fact."""
    if fact.is_listed:
        if fact.name in USUAL and draw(st.integers(0, 15)):
            return USUAL[fact.name]
        return draw(st.sampled_from((*fact.values, *(() if fact.name in OPEN else ("unknown",)))))
    most = min(fact.high, MOST.get(fact.name, fact.high))
    return spelled(fact, draw(st.integers(int(fact.low) + (fact.low % 1 > 0), int(most))))


@st.composite
def sections(draw: st.DrawFn, vocabulary: Vocabulary, subject: Subject, name: str) -> Tree:
    """What is written in one section of a case."""
    section: Tree = {}
    facts = [f for f in vocabulary.given(subject) if f.section == name and f.name not in BY_HAND]
    rare = draw(st.sets(st.sampled_from([f.name for f in facts if f.name not in MUST]), max_size=3))
    for fact in facts:
        wanted = fact.name in rare if fact.name not in MUST else fact.name in USUAL or draw(st.integers(0, 19)) > 0
        if wanted:
            section[fact.name] = draw(values(fact))
    return section


@st.composite
def injuries(draw: st.DrawFn, vocabulary: Vocabulary, name: str) -> Tree:
    """One injury."""
    injury: Tree = {"name": name, **draw(sections(vocabulary, Subject.INJURY, "injuries"))}
    injury["reaches"] = draw(st.sampled_from(("rubber", "cord", "plies", "plies", "through", "through", "unknown")))
    injury["side"] = draw(st.sampled_from(("serial side", "opposite side", "crown")))
    if draw(st.booleans()):
        injury["clock"] = f"{draw(st.integers(0, 359))} deg"
    placed = draw(st.sampled_from(("bead", "bead", "bead", "centreline", "zone", "nowhere")))
    if placed == "bead":
        injury["distance from bead"] = f"{draw(st.integers(0, 700))} mm"
    elif placed == "centreline":
        injury["distance from centreline"] = f"{draw(st.integers(0, 300))} mm"
    elif placed == "zone":
        injury["zone"] = draw(st.sampled_from(vocabulary["zone"].values))
    if injury["reaches"] in ("rubber", "cord"):
        for counted in ("plies damaged", "belts damaged", "cords cut", "inside length", "inside width"):
            injury.pop(counted, None)
    return injury


@st.composite
def repairs(draw: st.DrawFn) -> Any:
    """What is written of earlier repairs."""
    number = draw(st.sampled_from((-2, -1, 0, 0, 0, 0, 1, 2)))
    if number <= 0:
        return {-2: "unknown", -1: "not mapped", 0: "none"}[number]
    return [
        {
            "name": f"old {place}",
            "class": draw(st.sampled_from(("spot", "reinforce", "section"))),
            "side": draw(st.sampled_from(("serial side", "opposite side", "crown"))),
            "zone": draw(st.sampled_from(("crown centre", "shoulder", "upper sidewall", "lower sidewall"))),
            "clock": f"{draw(st.integers(0, 359))} deg",
            "length": f"{draw(st.integers(50, 400))} mm",
            "width": f"{draw(st.integers(50, 400))} mm",
            "state": draw(st.sampled_from(("sound", "loose"))),
        }
        for place in range(number)
    ]


@st.composite
def cases(draw: st.DrawFn, vocabulary: Vocabulary, most_injuries: int = 2) -> Tree:
    """A whole case."""
    tyre = draw(sections(vocabulary, Subject.TYRE, "tyre"))
    tyre["designation"] = size = draw(st.sampled_from(SIZES))
    textile = ("nylon", "polyester", "rayon", "aramid")
    casings = ("steel", "steel", "unknown", *textile) if "R" in size else ("unknown", *textile)
    tyre["casing"] = draw(st.sampled_from(casings))
    tyre["date code"] = draw(st.sampled_from(DATES))
    if "tread new" in tyre:
        tyre["tread new"] = f"{draw(st.integers(60, 100))} mm"
    if draw(st.integers(0, 4)) == 0:
        tyre["ply rating"] = draw(st.sampled_from(("14 PR", "28 PR", "40 PR")))
    return {
        "case": "drawn",
        "judged on": "2026-11-25",
        "tyre": tyre,
        **{
            name: draw(sections(vocabulary, Subject.TYRE, name)) | extra
            for name, extra in (
                ("service", {"country": draw(st.sampled_from(("us", "uk", "other")))}),
                ("found", {}),
                ("workshop", {}),
            )
        },
        "earlier repairs": draw(repairs()),
        "injuries": [draw(injuries(vocabulary, name)) for name in "AB"[: draw(st.integers(0, most_injuries))]],
    }
