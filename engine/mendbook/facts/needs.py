"""What the derivations ask of a rulebook: the facts that they read or write, each in the unit they work in."""

from collections.abc import Iterator

from mendbook.facts.derive import Derivation
from mendbook.facts.table_numbers import find_foreign_units
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.errors import RulebookError

LISTED = "a list"
NEEDED: dict[str, tuple[str, ...]] = {
    "mm": (
        "bead clearance", "belt edge clearance", "belt edge distance", "cavity depth", "deciding length",
        "deciding width", "depth", "distance from bead", "distance from centreline", "dual difference", "gap", "hole",
        "inside length", "inside width", "length", "length limit", "minor zone margin", "minor zone width", "outer cut",
        "outside length", "overall diameter", "reinforcement clearance", "rim diameter", "rust", "section width",
        "separation halo", "shoe sag", "splice gap", "thickness", "tread left", "tread new", "tread over breadth",
        "width", "width limit",
    ),
    "%": (
        "angle share", "belt share", "gap share", "girth share", "hole share", "joint share of area limit",
        "joint share of length limit", "joint share of width limit", "outer cut share", "path share of length limit",
        "path share of plies", "ply share", "pressure ratio", "share of all repairs", "share of area limit",
        "share of cord limit", "share of dual difference", "share of length limit", "share of length limit, rubber",
        "share of section repairs", "share of sidewall repairs", "share of width limit", "shop humidity",
        "splice share", "tkph use", "tread ratio", "tread spread",
    ),
    "bar": (
        "pressure at removal", "pressure specified",
    ),
    "°C": (
        "ambient", "dew point margin", "shop temperature", "temperature at removal",
    ),
    "deg": (
        "cord path offset", "facing angle", "path angle",
    ),
    "years": (
        "age", "age by law",
    ),
    "belts": (
        "belts", "belts damaged",
    ),
    "plies": (
        "plies", "plies damaged",
    ),
    "cords": (
        "cord limit", "cords cut", "cords cut counted",
    ),
    "kg": (
        "load capacity",
    ),
    "punctures": (
        "punctures in sector",
    ),
    "readings": (
        "tread readings",
    ),
    "": (
        "severity factor",
    ),
    LISTED: (
        "casing", "class edge", "construction", "cut cords", "duty", "earlier repair loose", "earlier repairs", "kind",
        "law", "moisture", "ply count", "position", "pressure record", "reaches", "repair class", "retreaded", "serial",
        "severity floor", "size", "size family", "skived", "tyre class", "use", "width class", "zone",
    ),
}  # fmt: skip


def find_unmet_needs(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each fact or table that is missing or in another unit."""
    for unit, names in NEEDED.items():
        for name in names:
            if name not in book.vocabulary:
                yield f"knowledge/vocabulary: no fact is called '{name}', which other facts follow from. Put it back."
                continue
            fact = book.vocabulary[name]
            found = LISTED if fact.is_listed else fact.unit
            if found != unit:
                yield (
                    f"{fact.file}:{fact.at}: '{name}' is given as {found or 'a plain number'}, and what follows "
                    f"from it takes {unit or 'a plain number'}. Write that."
                )
    yield from find_foreign_units(book)
    try:
        Derivation(book)
    except RulebookError as error:
        yield str(error)
