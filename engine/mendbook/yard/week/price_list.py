"""The price list of a yard: what holds for every tyre, what differs by size and by repair class."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, field
from pathlib import Path

from pydantic import ValidationError

from mendbook.terms.case import Case
from mendbook.terms.case_fault import find_faults
from mendbook.terms.document import Document, Tree, Way, read_document
from mendbook.terms.money import Money
from mendbook.terms.quantity import Quantity, format_quantity
from mendbook.terms.spelling import suggest
from mendbook.terms.units import Dimension
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.week.fault import WeekError

MONEY, BY_SIZE, BY_CLASS = "money", "by size", "by class"
CLASSES = ("dress", "spot", "reinforce", "section")
REPAIR_PRICE = "repair price"

Cells = Mapping[str, str]


@dataclass(frozen=True)
class PriceList:
    """What is known of money before anything is written of a single tyre.

    general : for every tyre
    by_size : by designation, with blanks taken out and in capitals
    by_class : repair price of one repair, by its verdict
    """

    general: Cells = field(default_factory=dict)
    by_size: Mapping[str, Cells] = field(default_factory=dict)
    by_class: Mapping[str, Cells] = field(default_factory=dict)

    def money(self, designation: str, verdicts: Sequence[str], own: Cells, vocabulary: Vocabulary) -> Money:
        """Return the money of a tyre: what is written of it, then by class, by size, and for every tyre.

        The repair prices of its classes are added up. Raises WeekError where they cannot be read together.
        """
        cells = {**self.general, **self.by_size.get(spelt(designation), {})}
        if REPAIR_PRICE not in own and self.by_class:
            cells.pop(REPAIR_PRICE, None)
        money = read_money({**cells, **own}, vocabulary)
        if REPAIR_PRICE in own or not self.by_class:
            return money
        prices = [self._price(verdict, vocabulary) for verdict in verdicts if verdict != "leave"]
        known = [price for price in prices if price is not None]
        return money.model_copy(update={"repair_price": _sum(known)}) if len(known) == len(prices) else money

    def _price(self, verdict: str, vocabulary: Vocabulary) -> Quantity | None:
        cells = self.by_class.get(verdict)
        return None if cells is None else read_money({"currency": "XXX", **cells}, vocabulary).repair_price


def spelt(designation: str) -> str:
    """Return a designation as two spellings of it are compared."""
    return "".join(designation.split()).upper()


def read_money(cells: Cells, vocabulary: Vocabulary) -> Money:
    """Return the money in `cells`. Raises WeekError with the first fault."""
    document = Document("", {MONEY: dict(cells)}, {(): 0})
    return _checked(document, vocabulary)


def read_price_list(path: Path, vocabulary: Vocabulary) -> PriceList:
    """Return the price list in the file `path`. Raises WeekError or DocumentError with file and line."""
    document = read_document(path)
    for key in document.tree:
        if key not in (MONEY, BY_SIZE, BY_CLASS):
            near = suggest(key, (MONEY, BY_SIZE, BY_CLASS))
            hint = f"Did you mean '{near}'?" if near else f"Write '{MONEY}:', '{BY_SIZE}:' or '{BY_CLASS}:'."
            raise _refuse(document, (key,), f"'{key}' is no part of a price list. {hint}")
    general = _cells(document, (MONEY,))
    currency = {"currency": general["currency"]} if "currency" in general else {}
    found = PriceList(
        general,
        {spelt(name): cells for name, cells in _groups(document, BY_SIZE)},
        dict(_groups(document, BY_CLASS)),
    )
    _check(document, (MONEY,), general, vocabulary)
    for part in (BY_SIZE, BY_CLASS):
        for name, cells in _groups(document, part):
            _check(document, (part, name), {**currency, **cells}, vocabulary)
    for name, cells in found.by_class.items():
        if name not in CLASSES:
            raise _refuse(document, (BY_CLASS, name), f"'{name}' is no repair class. Write {', '.join(CLASSES)}.")
        if set(cells) != {REPAIR_PRICE}:
            raise _refuse(document, (BY_CLASS, name), f"by class there is a '{REPAIR_PRICE}' and nothing else.")
    return found


def _check(document: Document, way: Way, cells: Cells, vocabulary: Vocabulary) -> None:
    """Check one group of cells, its faults with their lines in the file."""
    lines: dict[Way, int] = {(): document.line(way)}
    lines |= {(MONEY, key): document.line((*way, key)) for key in cells}
    _checked(Document(document.name, {MONEY: dict(cells)}, lines), vocabulary)


def _checked(document: Document, vocabulary: Vocabulary) -> Money:
    try:
        case = Case.model_validate({"case": "week", **document.tree})
    except ValidationError as error:
        first = next(find_faults(error, document, Case, vocabulary))
        place = f"{document.name}:{first.line}: " if document.name else ""
        raise WeekError(f"{place}{first.field.removeprefix('money.')}: {first.words}") from None
    return case.money or Money()


def _groups(document: Document, part: str) -> Iterator[tuple[str, Cells]]:
    groups = document.tree.get(part, {})
    if not isinstance(groups, dict):
        raise _refuse(document, (part,), f"'{part}' is no map. Write names, and lines below each.")
    for name in groups:
        yield name, _cells(document, (part, name))


def _cells(document: Document, way: Way) -> Cells:
    here: Tree = document.tree
    for step in way:
        here = here.get(str(step), {}) if isinstance(here, dict) else here
    if not isinstance(here, dict) or not all(isinstance(cell, str) for cell in here.values()):
        raise _refuse(document, way, f"'{way[-1]}' is no list of figures. Write lines such as 'new price: 14800'.")
    return {name: str(cell) for name, cell in here.items() if str(cell).strip() or name.isdecimal()}


def _refuse(document: Document, way: Way, words: str) -> WeekError:
    return WeekError(f"{document.name}:{document.line(way)}: {words}")


def _sum(prices: Sequence[Quantity]) -> Quantity:
    """Return the sum of `prices`, its ends those of all at once."""
    ends = [price.bounds or (0.0, 0.0) for price in prices]
    low, high = sum(end[0] for end in ends), sum(end[1] for end in ends)
    values = [price.value if price.value is not None else sum(end) / 2 for price, end in zip(prices, ends, strict=True)]
    value = sum(values)
    text = format_quantity(value, Dimension.MONEY)
    return Quantity(Dimension.MONEY, value, low, high, text) if low < high else Quantity.of(value, Dimension.MONEY)
