"""What to write instead: examples of every kind of quantity, and an answer to what people often write."""

import re
from collections.abc import Mapping

from mendbook.terms.units import Dimension

UNKNOWN = "unknown"

# The plain reading, and one in another unit or form.
EXAMPLES: Mapping[Dimension, tuple[str, str]] = {
    Dimension.LENGTH: ("48 mm", "1 7/8 in"),
    Dimension.DISTANCE: ("4 km", "2.5 mi"),
    Dimension.PRESSURE: ("2.2 bar", "32 psi"),
    Dimension.TEMPERATURE: ("140 °C", "284 °F"),
    Dimension.ANGLE: ("45 deg", "45°"),
    Dimension.DURATION: ("4 h", "6 years"),
    Dimension.SPEED: ("30 km/h", "20 mph"),
    Dimension.MASS: ("900 kg", "12 t"),
    Dimension.AREA: ("80 cm2", "12 in2"),
    Dimension.POWER: ("800 W", "1.2 kW"),
    Dimension.FORCE: ("500 N", "12 kN"),
    Dimension.SHARE: ("65 %", "0.65"),
    Dimension.HARDNESS: ("65", "65 Shore A"),
    Dimension.COUNT: ("3", "2 to 4"),
    Dimension.MONEY: ("1960.50", "14800 ± 10 %"),
}

_HINTS = tuple(
    (re.compile(pattern, re.IGNORECASE), hint)
    for pattern, hint in (
        (
            r"^(about|approx|around|ca\b|circa|roughly|~|≈)",
            "Say how far off it may be, such as '{number} ± 5{unit}'.",
        ),
        (r"^(less than|under|below|at most|max|<|≤)", "Write 'up to {number}{unit}'."),
        (
            r"^(more than|over|above|at least|min|>|≥)",
            "Write the largest it can be too: '{number} to ...{unit}'.",
        ),
        (r"[0-9].*?[-–—] ?[0-9]", "A dash may be a minus. Write a range as '45 to 60{unit}'."),
        (r"[0-9][ _'’][0-9]{3}\b", "Write the number without a gap, such as '1250{unit}'."),
        (r"[0-9][.,][0-9]+[.,][0-9]", "Write one decimal point and no other mark, such as '1250.5{unit}'."),
        (r"[½¼¾⅛⅜⅝⅞]", "Write the fraction out, such as '1 7/8 in'."),
        (r"^[+-]?(nan|inf)", f"It is not a measurement. Write the reading, or '{UNKNOWN}'."),
        (r"^(\?+|-+|n/?a|none|null|tbd|not .*)$", f"Write '{UNKNOWN}' when it was not measured."),
        (r"[0-9]e[+-]?[0-9]", "Write the number out, without an exponent."),
    )
)


def a(dimension: Dimension) -> str:
    """Return the name of `dimension` with its article: 'an angle'."""
    return f"{'an' if dimension.value[0] in 'aeiou' else 'a'} {dimension}"


def what_to_write(dimension: Dimension) -> str:
    """Return the sentence that shows how a quantity of `dimension` is written."""
    plain, other = EXAMPLES[dimension]
    return f"Write {a(dimension)} such as '{plain}' or '{other}'."


def why_unclear(text: str, dimension: Dimension) -> str:
    """Return why `text`, which no form fits, is not read as a quantity of `dimension`, and what to write."""
    digits = re.search(r"[0-9]+(?:[.,][0-9]+)?", text)
    number = digits[0] if digits else EXAMPLES[dimension][0].split()[0]
    unit = f" {dimension.unit}".rstrip()
    for pattern, hint in _HINTS:
        if pattern.search(text):
            return f"'{text}' is not clear. {hint.format(number=number, unit=unit)}"
    return f"'{text}' is not {a(dimension)} I can read. {what_to_write(dimension)}"
