"""The sentences of the rulebook: no digit stands in them; `<fact>` and `<limit>` print the numbers."""

import re
from collections.abc import Collection, Iterable, Mapping

from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.tree import Bound, Value
from mendbook.terms.vocabulary import Fact, Vocabulary

PLACEHOLDER = re.compile(r"<([^<>]+)>")
DIGIT = re.compile(r"\d")
LIMIT = "limit"
# What a measure is called when its number is not known, by its unit; counted units ("bolts") name themselves.
QUANTITY = {
    "mm": "size", "cm2": "area", "%": "share", "h": "number of hours", "bar": "pressure", "°C": "temperature",
    "km/h": "speed", "deg": "angle", "kg": "mass", "Shore A": "hardness",
}  # fmt: skip


def placeholders(sentence: str) -> tuple[str, ...]:
    """Return the names between < and > in reading order."""
    return tuple(PLACEHOLDER.findall(sentence))


def has_digit(sentence: str) -> bool:
    """Return whether a number is typed in the sentence itself."""
    return DIGIT.search(PLACEHOLDER.sub("", sentence)) is not None


def fill(
    sentence: str,
    facts: Mapping[str, Value],
    bounds: Iterable[Bound],
    vocabulary: Vocabulary,
    unknown: Collection[str] = (),
) -> str:
    """Return the sentence with every placeholder printed from `facts` and `<limit>` from `bounds`.

    Of a fact in `unknown` the number is only what stands in for it, so "an unknown size" or the like is printed.
    """

    def printed(match: re.Match[str]) -> str:
        name = match[1]
        if name == LIMIT:
            return spell_bounds(bounds)
        fact = vocabulary[name]
        return spell_unknown(fact) if name in unknown else spell_value(fact, facts[name])

    filled = PLACEHOLDER.sub(printed, sentence)
    return filled[:1].upper() + filled[1:]


def spell_unknown(fact: Fact) -> str:
    """Return what stands where the value of a fact is not known: `an unknown size`, `an unknown number of years`."""
    if fact.unit in QUANTITY:
        return f"an unknown {QUANTITY[fact.unit]}"
    return f"an unknown number of {fact.unit}" if _is_counted(fact.unit) else "an unknown value"


def spell_value(fact: Fact, value: Value) -> str:
    """Return a value as people write it: `48 mm`, `C3`, `13 years`, `1 year`."""
    if isinstance(value, str):
        return value
    figure = f"{value:.{fact.decimals}f}"
    if "." in figure:
        figure = figure.rstrip("0").rstrip(".")
    figure = "0" if figure == "-0" else figure
    unit = fact.unit[:-1] if figure == "1" and _is_counted(fact.unit) else fact.unit
    return f"{figure} {unit}".strip()


def _is_counted(unit: str) -> bool:
    """Return whether the unit is a word in the plural."""
    return unit.endswith("s")
