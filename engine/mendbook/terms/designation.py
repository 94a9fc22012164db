"""The size moulded on a tyre, such as '24.00R35', '23.5-25' or '35/65R33', and what it says of its shape.

Forms after ISO 4250-1 (title read, forms from memory) and common trade writing. A size in whole inches
('24.00', a narrow base) does not state its height, nor does one in half inches ('23.5', a wide base): their
ratios of height to width are house defaults fitted to dimension tables quoted from memory, good to about 3 %
of the diameter. A measured outside diameter is always better.
"""

import re
from dataclasses import dataclass
from enum import StrEnum

from mendbook.terms.marking import find_markings
from mendbook.terms.spelling import suggest

MM_PER_INCH = 25.4
NARROW_BASE_WIDTH = 1.08  # section width over the width in the size, narrow base (house default)
RIMS_IN = (15.0, 63.0)
WIDTHS_MM = (140.0, 1600.0)
ROAD_NARROW_WIDTH_IN = 12.0  # and less: truck sizes, on rims up to 24 in
ASPECTS_WRITTEN_FIRST = range(60, 95, 5)


class DesignationError(ValueError):
    """A text that is no tyre size, or one that can be read two ways."""


class Construction(StrEnum):
    """How the casing plies run."""

    RADIAL = "radial"
    BIAS = "bias"
    BIAS_BELTED = "bias-belted"


class Form(StrEnum):
    """The way a size is written."""

    NARROW_BASE = "narrow base, inch"  # 18.00-25
    SMALL = "narrow base, inch, below 10"  # 8.25-20
    WIDE_BASE = "wide base, inch"  # 23.5R25
    LOW_SECTION = "low section, inch"  # 17.5L-24
    TRUCK_TUBELESS = "truck tubeless, inch"  # 11R22.5
    INCH_RATIO = "inch with ratio"  # 35/65R33
    METRIC = "metric"  # 875/65R29


# Height over the width in the size where the size does not state it. House defaults, see above.
_RATIOS = {
    Form.NARROW_BASE: 1.06,
    Form.SMALL: 1.09,
    Form.WIDE_BASE: 0.82,
    Form.LOW_SECTION: 0.71,
    Form.TRUCK_TUBELESS: 0.86,
}
_ROAD_RATIO_TO_10_IN, _ROAD_RATIO_TO_12_IN = 1.07, 1.02  # narrow base, truck

_PATTERNS = {
    form: re.compile(pattern.replace("{build}", " ?(?P<build>[RDB-]) ?") + r"(?= |$)")
    for form, pattern in {
        Form.NARROW_BASE: r"(?P<width>[0-9]{2}\.00){build}(?P<rim>[0-9]{2})",
        Form.SMALL: r"(?P<width>[0-9]\.(?:00|25|50)){build}(?P<rim>[0-9]{2})",
        Form.WIDE_BASE: r"(?P<width>[0-9]{2}\.(?:25|5|50|75)){build}(?P<rim>[0-9]{2})",
        Form.LOW_SECTION: r"(?P<width>[0-9]{2}(?:\.[0-9])?) ?L{build}(?P<rim>[0-9]{2})",
        Form.TRUCK_TUBELESS: r"(?P<width>[0-9]{1,2}){build}(?P<rim>(?:17|19|22|24)\.5)",
        Form.INCH_RATIO: r"(?P<width>[0-9]{2})/(?P<ratio>[0-9]{2}){build}(?P<rim>[0-9]{2})",
        Form.METRIC: r"(?P<width>[0-9]{3})/(?P<ratio>[0-9]{2,3}){build}(?P<rim>[0-9]{2}(?:\.5)?)",
    }.items()
}
_BUILDS = {
    "R": Construction.RADIAL,
    "-": Construction.BIAS,
    "D": Construction.BIAS,
    "B": Construction.BIAS_BELTED,
}
_SHORTHAND = re.compile(r"(?P<inch>[0-9]{1,2})00 ?(?P<build>[RDB-]) ?(?P<rim>[0-9]{2})(?: .*)?")
_EXAMPLES = ("18.00-25", "24.00R35", "23.5R25", "17.5L-24", "11R22.5", "35/65R33", "875/65R29", "8.25-20")


@dataclass(frozen=True)
class Designation:
    """A tyre size: widths, heights and diameters new, inflated and unloaded.

    `separator` is how the construction was written: 'R', 'D', 'B' or '-'. In a hand-written note a '-' often
    stands before radial sizes too, so the moulded word is to be read. `size` is the size alone, without blanks, and
    `markings` are what followed it.
    """

    text: str
    size: str
    form: Form
    construction: Construction
    separator: str
    nominal_width_mm: float
    rim_in: float
    ratio: float
    ratio_is_stated: bool
    markings: tuple[str, ...] = ()

    @property
    def nominal_width_in(self) -> float:
        """Width in the size [in]; 18.0 for 18.00-25."""
        return self.nominal_width_mm / MM_PER_INCH

    @property
    def rim_diameter_mm(self) -> float:
        """Nominal rim diameter [mm]."""
        return self.rim_in * MM_PER_INCH

    @property
    def section_width_mm(self) -> float:
        """Width of the section [mm]; a narrow base tyre is wider than its size says."""
        return self.nominal_width_mm * (NARROW_BASE_WIDTH if self.form in (Form.NARROW_BASE, Form.SMALL) else 1.0)

    @property
    def section_height_mm(self) -> float:
        """Height of the section above the rim diameter [mm] = ratio x width in the size (UN R54, 6.1.2)."""
        return self.nominal_width_mm * self.ratio

    @property
    def outside_diameter_mm(self) -> float:
        """Outside diameter [mm] = rim diameter + 2 x section height (UN R54, 6.1.2)."""
        return self.rim_diameter_mm + 2 * self.section_height_mm

    @property
    def is_road_size(self) -> bool:
        """True for a size made for road trucks and buses, whose tread is narrower for its section."""
        return _is_road_size(self.form, self.nominal_width_mm, self.rim_in)


def read_designation(text: str) -> Designation:
    """Return the size in `text`, with or without markings behind it: '14.00-24 TG', '24.00 R 35 ** TL E-4'.

    Raises DesignationError for a form nobody knows, a width or rim no heavy tyre has, an aspect ratio written
    before the width, and words behind the size that are no marking.
    """
    plain = _tidy(text)
    for form, pattern in _PATTERNS.items():
        if match := pattern.match(plain):
            return _build(text, form, match, plain[match.end() :])
    if short := _SHORTHAND.fullmatch(plain):
        full = f"{short['inch']}.00{short['build']}{short['rim']}"
        raise DesignationError(f"'{text[:40]}' has no decimal point. Write '{full}' if that is the size moulded.")
    nearest = suggest(plain, _EXAMPLES) or _EXAMPLES[0]
    raise DesignationError(f"'{text[:40]}' is not a tyre size I know. Write it as moulded, such as '{nearest}'.")


def _build(text: str, form: Form, match: re.Match[str], rest: str) -> Designation:
    parts = match.groupdict()
    width, rim, stated = float(parts["width"]), float(parts["rim"]), parts.get("ratio")
    if form is Form.INCH_RATIO and int(parts["width"]) in ASPECTS_WRITTEN_FIRST and int(parts["ratio"]) <= 50:
        turned = f"{parts['ratio']}/{parts['width']}{parts['build']}{parts['rim']}"
        raise DesignationError(
            f"'{text[:40]}' has the aspect ratio first, an older form. Write the width first: '{turned}', "
            "if the tyre is that wide in inches."
        )
    width_mm = width if form is Form.METRIC else width * MM_PER_INCH
    for what, value, unit, (least, most) in (
        ("rim", rim, "in", RIMS_IN),
        ("width", width_mm, "mm", WIDTHS_MM),
    ):
        if not least <= value <= most:
            raise DesignationError(
                f"'{text[:40]}': no heavy tyre has a {what} of {value:g} {unit}; "
                f"they run from {least:g} to {most:g}. Read the size again."
            )
    markings, unread = find_markings(rest)
    if unread:
        raise DesignationError(
            f"'{text[:40]}': '{unread[:20]}' after the size is no marking I know. Write the size alone: '{match[0]}'."
        )
    ratio = int(stated) / 100 if stated else _usual_ratio(form, width_mm, rim)
    build = parts["build"]
    size = match[0].replace(" ", "")
    return Designation(text, size, form, _BUILDS[build], build, width_mm, rim, ratio, stated is not None, markings)


def _usual_ratio(form: Form, width_mm: float, rim_in: float) -> float:
    if form is Form.NARROW_BASE and _is_road_size(form, width_mm, rim_in):
        return _ROAD_RATIO_TO_10_IN if width_mm <= 10 * MM_PER_INCH else _ROAD_RATIO_TO_12_IN
    return _RATIOS[form]


def _is_road_size(form: Form, width_mm: float, rim_in: float) -> bool:
    if form is Form.NARROW_BASE:
        return width_mm <= ROAD_NARROW_WIDTH_IN * MM_PER_INCH and rim_in <= 24
    return form in (Form.SMALL, Form.TRUCK_TUBELESS) or rim_in % 1 == 0.5


def _tidy(text: str) -> str:
    plain = " ".join(re.sub(r"[‐‑–—−]", "-", text.upper()).split())
    plain = re.sub(r"(?<=[0-9]),(?=[0-9]{1,2}\b)", ".", plain)
    return re.sub(r"(?<=[0-9L]) ?([/-]) ?(?=[0-9])", r"\1", plain)
