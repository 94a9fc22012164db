"""The case: one damaged tyre as a shop writes it down. Fields that rules look at come from the vocabulary."""

import re
from datetime import date
from functools import cache
from typing import Annotated, Any, Final, Literal, cast

from pydantic import (
    AfterValidator,
    BaseModel,
    BeforeValidator,
    ConfigDict,
    Field,
    field_validator,
    model_validator,
)
from pydantic_core import PydanticCustomError

from mendbook.terms.clock import Clock
from mendbook.terms.date_code import DateCode, read_date_code
from mendbook.terms.designation import Designation, read_designation
from mendbook.terms.load_index import LoadIndex, read_load_index
from mendbook.terms.money import Money
from mendbook.terms.number import NUMBER, read_number
from mendbook.terms.overrule import Overrule
from mendbook.terms.quantity import (
    Count,
    Distance,
    Duration,
    Length,
    Mass,
    Pressure,
    Quantity,
    Temperature,
)
from mendbook.terms.strength import read_ply_rating, read_star_rating
from mendbook.terms.tread_code import read_tread_code

UNKNOWN = "unknown"
SAME_NAME: Final = "same_name"  # the kind of the error; its context gives the place of the second injury


def _above_nothing(quantity: Quantity) -> Quantity:
    if quantity.bounds and quantity.bounds[0] <= 0.0:
        raise ValueError(f"'{quantity}' is not possible here. Write more than nothing.")
    return quantity


def _read_rating(written: object) -> object:
    if not isinstance(written, str):
        return written
    if written.strip().casefold() == UNKNOWN:
        return None
    plain = written.strip()
    figure = float(read_number(plain)) if re.fullmatch(NUMBER, plain) else 0.0
    if figure <= 0.0:
        raise ValueError(f"'{plain[:40]}' is no rating. Write the plain figure in t km/h, above 0, such as '250'.")
    return figure


class Section(BaseModel):
    """A part of a case. Facts of the vocabulary are read by name, whatever their spelling in Python."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_by_name=True, validate_by_alias=True)

    def written(self, fact: str) -> Quantity | str | None:
        """Return what is written for `fact`: a quantity, a listed value, 'unknown', or None when absent."""
        return cast("Quantity | str | None", getattr(self, attribute(fact), None))


def _checked(text: str, reader: Any) -> str:
    reader(text)
    return text


class Tyre(Section):
    """Identity: what is moulded on the sidewall, and what was measured of the tyre as such."""

    tag: str = Field("", description="the shop's own number for this tyre")
    designation: str | None = Field(None, description="size designation as moulded, e.g. 26.5R25")
    date_code: str | None = Field(None, alias="date code", description="week and year, e.g. 3123")
    retread_date_code: str | None = Field(None, alias="retread date code", description="week and year of retreading")
    tread_depths: tuple[Length, ...] = Field((), alias="tread depths", description="readings round the tyre")
    outside_diameter: Length | None = Field(None, alias="outside diameter", description="measured, unloaded")
    tread_code: str | None = Field(None, alias="tread code", description="service letter and digit, e.g. L-5")
    load_index: str | None = Field(None, alias="load index", description="e.g. 193 B or 149/146 L")
    star_rating: str | None = Field(None, alias="star rating", description="one to three stars (radial)")
    ply_rating: str | None = Field(None, alias="ply rating", description="e.g. 40 PR; it is not a count of plies")

    @field_validator("designation")
    @classmethod
    def _known_form(cls, text: str | None) -> str | None:
        return text if text in (None, UNKNOWN) else _checked(text, read_designation)

    @field_validator("load_index")
    @classmethod
    def _known_load(cls, text: str | None) -> str | None:
        return text if text in (None, UNKNOWN) else _checked(text, read_load_index)

    @field_validator("star_rating")
    @classmethod
    def _known_star(cls, text: str | None) -> str | None:
        return text if text in (None, UNKNOWN) else _checked(text, read_star_rating)

    @field_validator("ply_rating")
    @classmethod
    def _known_ply_rating(cls, text: str | None) -> str | None:
        return text if text in (None, UNKNOWN) else _checked(text, read_ply_rating)

    @field_validator("tread_code")
    @classmethod
    def _known_tread(cls, text: str | None) -> str | None:
        return text if text in (None, UNKNOWN) else _checked(text, read_tread_code)

    @property
    def size(self) -> Designation | None:
        """The size designation, None when it could not be read."""
        return None if self.designation in (None, UNKNOWN) else read_designation(self.designation)

    @property
    def load_mark(self) -> LoadIndex | None:
        """The load index, None when it could not be read."""
        return None if self.load_index in (None, UNKNOWN) else read_load_index(self.load_index)

    def built(self, on: date) -> DateCode | None:
        """Return the date code of the casing as seen on the day `on`, None when it could not be read."""
        return None if self.date_code in (None, UNKNOWN) else read_date_code(self.date_code, on=on)

    def retreaded(self, on: date) -> DateCode | None:
        """Return the date code of the retread, None when there is none."""
        code = self.retread_date_code
        return None if code in (None, UNKNOWN) else read_date_code(code, on=on)


class Found(Section):
    """What was found on the tyre away from its injuries."""


class Service(Section):
    """What the tyre will do, and in which country."""

    country: Literal["us", "uk", "other", "unknown"] = Field("unknown", description="country of road use")
    tkph_rating: Annotated[Annotated[float, Field(gt=0, allow_inf_nan=False)] | None, BeforeValidator(_read_rating)] = (
        Field(None, alias="tkph rating", description="of the tyre [t km/h]")
    )
    load_empty: Mass | None = Field(None, alias="load empty", description="on this tyre, machine empty")
    load_loaded: Mass | None = Field(None, alias="load loaded", description="on this tyre, machine loaded")
    cycle_length: Distance | None = Field(None, alias="cycle length", description="round trip")
    cycles: Count | None = Field(None, description="round trips in a shift")
    shift: Annotated[Duration, AfterValidator(_above_nothing)] | None = Field(None, description="length of a shift")


class Injury(Section):
    """One injury."""

    name: str = Field(description="a letter or word that names it on the map")
    side: Literal["serial side", "opposite side", "crown"] | None = Field(None, description="where it lies")
    clock: Clock | None = Field(None, description="angle from the valve or serial mark, seen on the serial side")
    note: str = ""


class Repair(Section):
    """An earlier repair that is on the map."""

    name: str
    repair_class: Literal["dress", "spot", "reinforce", "section"] = Field(alias="class")
    side: Literal["serial side", "opposite side", "crown"] | None = None
    zone: Literal["crown centre", "crown edge", "shoulder", "upper sidewall", "lower sidewall", "bead"] | None = None
    clock: Clock | None = None
    distance_from_bead: Length | None = Field(None, alias="distance from bead")
    distance_from_centreline: Length | None = Field(None, alias="distance from centreline")
    length: Length | None = Field(None, description="of the reinforcement, around the tyre")
    width: Length | None = Field(None, description="of the reinforcement, across the section")
    state: Literal["sound", "loose", "unknown"] = "unknown"


class Workshop(Section):
    """The bench where the work would be done."""

    altitude: Length | None = Field(None, description="above sea level")
    tyre_temperature: Temperature | None = Field(None, alias="tyre temperature")
    working_pressure: Pressure | None = Field(None, alias="working pressure", description="in the bags, gauge")
    setpoint: Temperature | None = Field(None, description="pad temperature wished")
    compound: str | None = Field(None, description="repair compound, a name from knowledge/compounds")
    circuit: str | None = Field(None, description="supply circuit, a name from knowledge/kit")
    kit_on_hand: tuple[str, ...] | None = Field(None, alias="kit on hand", description="ids from knowledge/kit")


class Case(BaseModel):
    """One damaged tyre."""

    model_config = ConfigDict(extra="forbid", frozen=True, validate_by_name=True, validate_by_alias=True)

    case: str = Field("case", description="one line that names the case; left out, it is the name of the file")
    note: str = ""
    judged_on: date | None = Field(None, alias="judged on", description="the day that ages are counted to")
    tyre: Tyre = Field(default_factory=Tyre)
    found: Found = Field(default_factory=Found)
    service: Service = Field(default_factory=Service)
    injuries: tuple[Injury, ...] = ()
    earlier_repairs: tuple[Repair, ...] | Literal["none", "not mapped", "unknown"] = Field(
        "unknown", alias="earlier repairs"
    )
    workshop: Workshop = Field(default_factory=Workshop)
    money: Money | None = Field(None, description=Money.__doc__)
    overrule: tuple[Overrule, ...] = Field((), description="one entry for each house reject that a person overrules")

    @model_validator(mode="after")
    def _names_differ(self) -> "Case":
        seen: set[str] = set()
        for place, injury in enumerate(self.injuries):
            if injury.name in seen:
                raise PydanticCustomError(
                    SAME_NAME,
                    "two injuries are called '{name}': give each its own name.",
                    {"name": injury.name, "place": place},
                )
            seen.add(injury.name)
        return self

    def section(self, name: str) -> Section:
        """Return the section of tyre facts called `name`: tyre, found, service or workshop."""
        return cast("Section", getattr(self, name))

    def without_overrules(self) -> "Case":
        """Return the case as if nobody had overruled anything."""
        plain = self.model_copy(update={"overrule": ()})
        plain.model_fields_set.discard("overrule")
        return plain

    @property
    def mapped_repairs(self) -> tuple[Repair, ...]:
        """Earlier repairs that are on the map."""
        return self.earlier_repairs if isinstance(self.earlier_repairs, tuple) else ()


@cache
def attribute(fact: str) -> str:
    """Return the Python name of a fact: 'run flat' -> 'run_flat'."""
    return fact.replace(" ", "_").replace("-", "_").replace(",", "")
