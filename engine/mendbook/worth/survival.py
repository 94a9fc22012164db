"""How long repairs hold, by class, zone and construction: read from knowledge/survival."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from importlib.resources.abc import Traversable
from math import prod
from operator import attrgetter

from mendbook.rulebook.errors import refuse, refuse_unknown_keys
from mendbook.terms.document import Document, Tree, read_document
from mendbook.terms.quantity import QuantityError, read_quantity
from mendbook.terms.units import Dimension
from mendbook.worth.spread import Spread

_KEYS = (
    "zone", "construction", "early loss", "early loss range", "mean life", "mean life range", "source", "note",
)  # fmt: skip
_ALSO = " (also touches "


@dataclass(frozen=True)
class Held:
    """How long a kind of repair holds.

    verdict, zones, constructions : of which it is said; no zone or construction stands for all
    early_loss : chance that it fails at once
    mean_life : of those that do not, were the tread without end [h]
    basis : where the figures are from
    """

    verdict: str
    zones: tuple[str, ...]
    constructions: tuple[str, ...]
    early_loss: Spread
    mean_life: Spread
    basis: str

    def fits(self, verdict: str, zone: str, construction: str) -> bool:
        """Return whether it says something of such a repair."""
        return (
            verdict == self.verdict
            and zone in (self.zones or (zone,))
            and construction in (self.constructions or (construction,))
        )


@dataclass(frozen=True)
class Survival:
    """All that is known of how long repairs hold; the first that fits a repair counts."""

    items: tuple[Held, ...]
    constructions: tuple[str, ...] = ("radial", "bias", "bias-belted")

    def of(self, verdict: str, zone: str, construction: str) -> Held | None:
        """Return how long a repair holds, None when nothing is known of its class.

        zone : as a docket names it, with the zones that the edge touches; the worst of them counts
        construction : unknown counts as the worst there is
        """
        zones = zone.removesuffix(")").replace(_ALSO, ", ").split(", ")
        built = (construction,) if construction in self.constructions else self.constructions
        found = [one for z in zones for c in built if (one := self._first(verdict, z, c)) is not None]
        return min(found, key=lambda held: held.mean_life.value, default=None)

    def _first(self, verdict: str, zone: str, construction: str) -> Held | None:
        return next((held for held in self.items if held.fits(verdict, zone, construction)), None)


def together(repairs: Sequence[Held]) -> tuple[Spread, Spread]:
    """Return early loss and mean life [h] of a tyre with all of `repairs`, at least one; it fails with its first.

    Repairs are taken to fail independently of each other: chances to hold multiply, rates of failure add up.
    """
    ends = [attrgetter(end) for end in ("value", "low", "high")]
    holds = [prod(1.0 - end(held.early_loss) for held in repairs) for end in ends]
    lives = [1.0 / sum(1.0 / end(held.mean_life) for held in repairs) for end in ends]
    value, low, high = (1.0 - hold for hold in holds)
    return Spread(value, low, high, "peaked"), Spread(lives[0], lives[1], lives[2], "peaked")


def open_survival(knowledge: Traversable, own: Traversable | None = None) -> Survival:
    """Return what stands in the folder `survival` of `knowledge`; what a shop's `own` folder tells comes first.

    Raises RulebookError or DocumentError with file and line, OSError for a folder that cannot be read.
    """
    folders = [knowledge / "survival"] if own is None else [own, knowledge / "survival"]
    files = [file for folder in folders for file in sorted(folder.iterdir(), key=lambda file: file.name)]
    return Survival(tuple(held for file in files if file.name.endswith(".yaml") for held in _read(read_document(file))))


def _read(document: Document) -> Iterable[Held]:
    verdict, items = document.tree.get("survival"), document.tree.get("items")
    if not isinstance(verdict, str) or not isinstance(items, list):
        raise refuse(document, (), "this file lists no survival", "Write 'survival: section' and 'items:' below it.")
    for place, item in enumerate(items):
        if not isinstance(item, dict):
            raise refuse(document, ("items", place), "this item is no map", "Write 'name: value' lines.")
        yield _held(document, verdict, place, item)


def _held(document: Document, verdict: str, place: int, item: dict[str, Tree]) -> Held:
    path = ("items", place)
    refuse_unknown_keys(document, path, item, _KEYS, "a survival")

    def words(key: str) -> tuple[str, ...]:
        found = item.get(key, [])
        return (found,) if isinstance(found, str) else tuple(str(word) for word in found)

    def spread(key: str, dimension: Dimension) -> Spread:
        value, (low, high) = (_bounds(document, (*path, name), item, dimension) for name in (key, f"{key} range"))
        if not low <= value[0] <= high:
            raise refuse(document, (*path, f"{key} range"), f"'{key}' lies outside its range", "Widen the range.")
        return Spread(value[0], low, high, "peaked")

    return Held(
        verdict=verdict,
        zones=words("zone"),
        constructions=words("construction"),
        early_loss=spread("early loss", Dimension.SHARE),
        mean_life=spread("mean life", Dimension.DURATION),
        basis=_basis(document, path, item),
    )


def _bounds(
    document: Document, path: tuple[str | int, ...], item: dict[str, Tree], dimension: Dimension
) -> tuple[float, float]:
    written = item.get(str(path[-1]))
    if not isinstance(written, str):
        raise refuse(document, path, f"'{path[-1]}' is missing", f"Write '{path[-1]}: ...'.")
    try:
        bounds = read_quantity(written, dimension).bounds
    except QuantityError as problem:
        raise refuse(document, path, str(problem)) from None
    if bounds is None:
        raise refuse(document, path, f"'{path[-1]}' is unknown", "Write the figure.")
    return bounds


def _basis(document: Document, path: tuple[str | int, ...], item: dict[str, Tree]) -> str:
    source = item.get("source")
    if not isinstance(source, str):
        raise refuse(document, path, "a survival names its source", "Write 'source: house, survival of repairs'.")
    named, _, _ = source.partition(",")
    return {"house": "house default", "common practice": "common practice, no source"}.get(named, source)
