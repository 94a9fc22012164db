"""The numbers that derivations read from limit tables, each with the unit it is taken in."""

from collections.abc import Iterator, Mapping

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import LimitTable

_BY_UNIT: Mapping[str, tuple[str, ...]] = {
    "": (
        "age factor", "ambient factor", "area share", "bead share", "belt edge share", "casing factor",
        "crown edge share", "duty factor", "extra share", "factor floor", "few plies factor", "flange per height",
        "lower sidewall share", "relief factor", "rubber box", "shoulder share", "side per height", "side per width",
        "tkph factor", "tread width share", "upper sidewall share",
    ),
    "mm": (
        "bead beyond flange", "bead floor", "belt edge floor", "class from", "cord pitch", "crown high", "crown low",
        "dual difference permitted", "extra floor", "flange least", "flange plus", "least gap", "reinforcement high",
        "reinforcement low", "round down", "shoulder high", "shoulder low", "sidewall high", "sidewall low",
        "table length", "table width",
    ),
    "%": ("class edge share", "minor zone share"),
    "deg": ("least angle",),
    "cords": ("table cords",),
    "repairs": ("all repairs allowed", "section repairs allowed", "sidewall repairs allowed"),
}  # fmt: skip
NUMBERS: Mapping[str, str] = {name: unit for unit, names in _BY_UNIT.items() for name in names}


def find_foreign_units(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each table in another unit than it is read in.

    A table whose numbers are read in several units names none.
    """
    for table in book.tables:
        units = {NUMBERS[name] for name in table.gives if name in NUMBERS}
        wanted = units.pop() if len(units) == 1 else ""
        if any(name in NUMBERS for name in table.gives) and table.unit != wanted:
            yield f"{table.file}:1: {_fault(table, wanted)}"


def _fault(table: LimitTable, wanted: str) -> str:
    given = f"its unit is '{table.unit}'" if table.unit else "it names no unit"
    names = ", ".join(table.gives)
    if not wanted:
        return f"the numbers ({names}) are read as plain figures, or each in its own unit, and {given}. Leave it out."
    return f"the numbers ({names}) are read in {wanted}, and {given}. Write 'unit: {wanted}', and the numbers in it."
