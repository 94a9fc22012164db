"""Hours at the bench by repair class and width of the tyre: read from knowledge/labour.yaml."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.rulebook.errors import refuse
from mendbook.terms.document import Document, Tree, Way, read_document
from mendbook.terms.quantity import QuantityError, read_quantity
from mendbook.terms.units import Dimension


@dataclass(frozen=True)
class Labour:
    """Hours of one person for each repair, and the share of the time under heat that he stands by.

    hours : by verdict and width class [h]
    """

    hours: Mapping[str, Mapping[str, float]]
    shoulder_classes: frozenset[str]
    shoulder_factor: float
    rust_factor: float
    watching: float
    spread: float

    def of(self, verdict: str, width_class: str, zone: str, *, has_rust: bool) -> float | None:
        """Return the hours [h] of one repair, none for an injury that is left; None where no figure is known."""
        if verdict == "leave":
            return 0.0
        plain = self.hours.get(verdict, {}).get(width_class)
        if plain is None:
            return None
        is_large_shoulder = zone.startswith("shoulder") and width_class in self.shoulder_classes
        shoulder = self.shoulder_factor if is_large_shoulder else 1.0
        return plain * shoulder * (self.rust_factor if has_rust else 1.0)

    @property
    def basis(self) -> tuple[str, ...]:
        """What the hours rest on, in sentences."""
        return (
            f"Bench hours are labour by repair class and width of tyre (house default, ± {100 * self.spread:.0f} %), "
            f"and {100 * self.watching:.0f} % of the time under heat and cooling: a cure is never left alone, and one "
            "person watches two at most (common practice, no source).",
            f"A shoulder of a large tyre takes {self.shoulder_factor:g} times as long, rust "
            f"{self.rust_factor:g} times (house default).",
            "Kit hours are the time under heat and cooling of the plan.",
        )


def read_labour(knowledge: Traversable) -> Labour:
    """Return what stands in `labour.yaml` of `knowledge`. Raises RulebookError or DocumentError with file and line."""
    document = read_document(knowledge / "labour.yaml")
    hours = _map(document, ("hours",))
    return Labour(
        hours={
            verdict: {
                name: _number(document, ("hours", verdict, name), Dimension.DURATION)
                for name in _map(document, ("hours", verdict))
            }
            for verdict in hours
        },
        shoulder_classes=frozenset(str(name) for name in _map(document, ("large shoulder",)).get("classes", ())),
        shoulder_factor=_number(document, ("large shoulder", "factor"), Dimension.SHARE),
        rust_factor=_number(document, ("rust", "factor"), Dimension.SHARE),
        watching=_number(document, ("watching", "share"), Dimension.SHARE),
        spread=_number(document, ("spread",), Dimension.SHARE),
    )


def _at(document: Document, way: Way) -> Tree | None:
    here: Tree | None = document.tree
    for step in way:
        here = here.get(str(step)) if isinstance(here, dict) else None
    return here


def _map(document: Document, way: Way) -> Mapping[str, Tree]:
    found = _at(document, way)
    if not isinstance(found, dict):
        raise refuse(document, way, f"'{way[-1]}' is missing or no map", f"Write '{way[-1]}:' and lines below it.")
    return found


def _number(document: Document, way: Way, dimension: Dimension) -> float:
    found = _at(document, way)
    try:
        value = read_quantity(found if isinstance(found, str) else "", dimension).value
    except QuantityError as problem:
        raise refuse(document, way, str(problem)) from None
    if value is None:
        raise refuse(document, way, f"'{way[-1]}' is no plain figure", "Write one figure.")
    return value
