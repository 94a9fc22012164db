"""The workshop as the plan meets it: what the case says of it, and a default for what it does not say."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from mendbook.facts.caps import CAPPED
from mendbook.plan.catalogue import Circuit, Kit
from mendbook.plan.stock import Stock
from mendbook.terms.case import Section
from mendbook.terms.cure_wall import Compound
from mendbook.terms.quantity import Quantity, read_quantity

WARM = 20.0  # °C, where the case says nothing
PRESSURE = 2.0  # bar gauge; 1.8 to 2.5 is usual: common practice, no source
STRONGEST = 2.5  # bar gauge, where no rule caps it; common practice, no source
SETPOINT = 140.0  # °C; common practice, no source


@dataclass(frozen=True)
class Bench:
    """Temperatures [°C], pressure [bar gauge], altitude [m], and the kit that may be used.

    `hottest` is the cap that rules set on the setpoint. `remarks` says what was asked for and could not be had.
    """

    shop: float
    tyre: float | None
    altitude: float
    pressure: float
    setpoint: float
    hottest: float | None
    compound: Compound
    circuit: Circuit | None
    kit: Kit
    is_limited: bool
    remarks: tuple[str, ...]


def read_bench(
    workshop: Section | Mapping[str, object], stock: Stock, least: Mapping[str, float] = MappingProxyType({})
) -> Bench:
    """Return the bench that `workshop` describes, within the `least` caps that rules set [bar, °C]."""
    get = workshop.written if isinstance(workshop, Section) else workshop.get
    shop, altitude = _number(get("shop temperature")), _number(get("altitude"))
    asked, setpoint = _number(get("working pressure")), _number(get("setpoint"))
    strongest = least.get("bag pressure", STRONGEST)
    remarks: list[str] = []
    if asked is not None and asked > strongest:
        remarks.append(
            f"A working pressure of {asked:g} bar was asked for; the plan takes {strongest:g} bar, for more "
            "strains straps and bags"
        )
    held = get("kit on hand")
    kit = stock.kit
    if isinstance(held, tuple):
        known = {name.casefold() for name in kit.ids()}
        remarks += [
            f"'{name}' is on hand but not in the catalogue: describe it in knowledge/kit, or it is not counted"
            for name in map(str, held)
            if name.casefold() not in known
        ]
        kit = kit.only(map(str, held))
    return Bench(
        shop=WARM if shop is None else shop,
        tyre=_number(get("tyre temperature")),
        altitude=(altitude or 0.0) / 1000,  # a length is kept in mm
        pressure=min(PRESSURE if asked is None else asked, strongest),
        setpoint=SETPOINT if setpoint is None else setpoint,
        hottest=least.get("setpoint"),
        compound=_compound(get("compound"), stock, remarks),
        circuit=_circuit(get("circuit"), stock, remarks),
        kit=kit,
        is_limited=isinstance(held, tuple),
        remarks=tuple(remarks),
    )


def _number(written: object) -> float | None:
    """Return a reading: of a range its middle, None when it is unknown or not written."""
    if not isinstance(written, Quantity) or written.bounds is None:
        return None
    return sum(written.bounds) / 2 if written.value is None else written.value


def least_caps(caps: Iterable[tuple[str, str]]) -> dict[str, float]:
    """Return the smallest of `caps` (what, limit) on pressure [bar] and on the setpoint [°C], where there is one."""
    least: dict[str, float] = {}
    for what, limit in caps:
        if what in CAPPED and (value := read_quantity(limit, CAPPED[what]).value) is not None:
            least[what] = min(value, least.get(what, value))
    return least


def _compound(name: object, stock: Stock, remarks: list[str]) -> Compound:
    if isinstance(name, str) and name not in stock.compounds:
        listed = ", ".join(stock.compounds)
        remarks.append(f"no compound is called '{name}'; the cure is that of '{stock.fill.name}'. Known: {listed}")
    return stock.compounds.get(str(name), stock.fill)


def _circuit(name: object, stock: Stock, remarks: list[str]) -> Circuit | None:
    found = next((circuit for circuit in stock.kit.circuits if circuit.id == name), None)
    if isinstance(name, str) and found is None:
        listed = ", ".join(circuit.id for circuit in stock.kit.circuits)
        remarks.append(f"no circuit is called '{name}'; power was not checked. Known: {listed}")
    return found
