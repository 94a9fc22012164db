"""A question: what is asked, why it is asked, and how the answer is found."""

from dataclasses import dataclass
from enum import StrEnum

from mendbook.terms.document import Way
from mendbook.terms.units import Dimension
from mendbook.terms.vocabulary import Fact

TYRE = "tyre"

# Units of the vocabulary that are named differently in an answer need no example of their own.
EXAMPLES = {
    "mm": "48 mm", "bar": "4.9 bar", "°C": "20 °C", "h": "6 h", "km/h": "12 km/h", "%": "75 %", "deg": "214 deg",
    "cm2": "40 cm2", "Shore A": "65 Shore A",
}  # fmt: skip


class Kind(StrEnum):
    """What form an answer takes."""

    FIELD = "field"  # one value of one field
    INJURIES = "injuries"  # names
    PLACE = "place"  # a tape from the bead or the centreline, or a zone
    UNUSUAL = "unusual"  # names of facts that are not as usual
    REPAIRS = "repairs"  # what was done in each earlier repair


@dataclass(frozen=True)
class Question:
    """One question. `path` is its place in the case.

    `options` are names of facts, each with how it is spelt when it is as usual.
    """

    path: Way
    text: str
    how: str
    why: str
    about: str = TYRE
    kind: Kind = Kind.FIELD
    unit: str = ""
    values: tuple[str, ...] = ()
    example: str = ""
    options: tuple[tuple[str, str], ...] = ()

    @property
    def name(self) -> str:
        """The name of the field asked for."""
        return str(self.path[-1])


def ask_fact(fact: Fact, path: Way, about: str, why: str) -> Question:
    """Return the question for one fact of the vocabulary."""
    example = fact.values[0] if fact.is_listed else EXAMPLES.get(fact.unit, "3")
    return Question(path, fact.means, fact.measure, why, about, unit=_unit(fact), values=fact.values, example=example)


def _unit(fact: Fact) -> str:
    """Return the unit an answer needs; what is counted needs none."""
    return fact.unit if fact.unit in {dimension.unit for dimension in Dimension} else ""
