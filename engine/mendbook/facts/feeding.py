"""Which numbers of the limit tables each derived fact is worked out from.

A verdict reached so far (repair class, tyre class) hangs on everything, and is left out: what led to it is told where
it was found.
"""

from collections.abc import Mapping

from mendbook.facts.section import OUTLINE_NUMBERS

_CLASS = ("class from",)
_FACTORS = ("duty factor", "age factor", "ambient factor", "tkph factor", "factor floor")
_ZONE = (*_CLASS, *OUTLINE_NUMBERS)
_RELIEVED = (*_FACTORS, "casing factor", "few plies factor", "relief factor", "round down")
_LENGTH = ("table length", *_RELIEVED, *_ZONE)
_WIDTH = ("table width", *_RELIEVED, *_ZONE)
_AREA = ("area share", *_LENGTH, "table width")
_CORDS = ("table cords", *_FACTORS, *_ZONE)
_REACH = ("extra share", "extra floor", *_ZONE)
_WALL = (
    "sidewall low", "sidewall high", "shoulder low", "shoulder high", "crown low", "crown high", *_ZONE,
)  # fmt: skip

FED_BY: Mapping[str, tuple[str, ...]] = {
    "width class": _CLASS,
    "class edge": (*_CLASS, "class edge share"),
    "severity factor": _FACTORS,
    "severity floor": _FACTORS,
    "zone": OUTLINE_NUMBERS,
    "bead clearance": OUTLINE_NUMBERS,
    "belt edge clearance": OUTLINE_NUMBERS,
    "reinforcement clearance": _REACH,
    "length limit": _LENGTH,
    "width limit": _WIDTH,
    "cord limit": _CORDS,
    "cords cut counted": ("cord pitch", *_CLASS),
    "share of length limit": _LENGTH,
    "share of width limit": _WIDTH,
    "share of area limit": _AREA,
    "share of cord limit": ("cord pitch", *_CORDS),
    "share of length limit, rubber": ("table length", "rubber box", *_RELIEVED, *_ZONE),
    "joint share of length limit": _LENGTH,
    "joint share of width limit": _WIDTH,
    "joint share of area limit": _AREA,
    "path share of length limit": _LENGTH,
    "share of section repairs": ("section repairs allowed", *_CLASS),
    "share of sidewall repairs": ("sidewall repairs allowed", *_ZONE),
    "share of all repairs": ("all repairs allowed", *_CLASS),
    "minor zone width": ("minor zone share",),
    "minor zone margin": ("minor zone share", *OUTLINE_NUMBERS),
    "share of dual difference": ("dual difference permitted",),
    "girth share": OUTLINE_NUMBERS,
    "facing angle": OUTLINE_NUMBERS,
    "punctures in sector": OUTLINE_NUMBERS,
    "gap": _REACH,
    "gap share": ("least gap", *_REACH),
    "angle share": ("least angle", *_ZONE),
    "cavity depth": _WALL,
    "thickness": ("reinforcement low", "reinforcement high", *_WALL),
    "shoe sag": _WALL,
}
