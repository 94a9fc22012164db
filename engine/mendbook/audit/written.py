"""What a case can say, as unknowns: every fact that a person writes, and the markings that others follow from."""

from collections.abc import Mapping
from datetime import date

import z3

from mendbook.audit.relations import Maker, Relations
from mendbook.audit.sizes import all_sizes
from mendbook.facts.case_reading import SIZE_NUMBERS
from mendbook.proof.functions import ExactFunctions
from mendbook.proof.operations import choose, compare
from mendbook.proof.symbols import (
    Finite,
    Number,
    Plain,
    Symbol,
    Truth,
    any_of,
    collect,
    constant,
    exact,
    number,
    opposite,
)
from mendbook.proof.unknowns import any_number, one_of
from mendbook.terms.date_code import DAYS_A_YEAR
from mendbook.terms.load_index import read_load_index
from mendbook.terms.vocabulary import Fact

# Measures of which these values are enough to reach every limit; what follows from them stays simple to solve.
FEW: Mapping[str, tuple[float, ...]] = {
    "path angle": (0.0, 30.0, 60.0),
    "temperature at removal": (20.0, 45.0),
    "pressure specified": (5.0, 7.0),
    "tread new": (20.0, 60.0, 97.0),
    "plies": (1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 8.0, 10.0, 14.0, 20.0, 26.0),
    "plies damaged": tuple(map(float, range(27))),
    "belts": (2.0, 3.0, 4.0, 5.0, 6.0),
    "belts damaged": tuple(map(float, range(7))),
    "cords cut": tuple(map(float, range(61))),
    "shop temperature": tuple(map(float, range(-10, 46))),
    "shop humidity": tuple(map(float, range(0, 101, 5))),
    "tread readings": (0.0, 1.0, 2.0, 3.0, 6.0),
}
JUDGED_ON = date(2026, 11, 25)
LAST_WEEK_BEGAN = 3  # days before that
OLDEST = 26.0  # years that a date code of four digits can tell
MOST_SPREAD = 60.0  # mm between two readings of one tread
LOAD_INDICES = ("130 B", "150 B", "193 B", "220 B")
TAPES = ("bead", "centreline", "zone")


def write_unknowns(found: Relations) -> None:
    """Lay out everything that a case can say."""
    for fact in found.book.vocabulary.given():
        found.put(fact.name, _few(fact))
    _write_size(found)
    _write_age(found)
    _write_tread(found)
    _write_counts(found)
    _write_place(found)
    found.put("law", listed(*found.book.vocabulary["law"].values))


def cases(symbol: Symbol) -> Mapping[Plain, z3.BoolRef]:
    """Return the values of a listed symbol with their guards."""
    assert isinstance(symbol, Finite)
    return symbol.cases


def listed(*values: Plain) -> Maker:
    """Return the maker of an unknown that is one of `values`."""
    return lambda name: one_of(name, values)


def measured(low: float, high: float) -> Maker:
    """Return the maker of an unknown number."""
    return lambda name: any_number(name, low, high)


def _few(fact: Fact) -> Maker:
    if fact.name in FEW:
        return listed(*FEW[fact.name])
    return listed(*fact.values) if fact.is_listed else measured(fact.low, fact.high)


def _known(found: Relations, name: str, flag: str, yes: str, no: str) -> None:
    """Let the fact `name` be known or not, as the fact `flag` tells; unknown, it is read at its bad end."""
    state = found.put(flag, listed(yes, no))
    found.row[name] = choose(cases(state)[yes], found.row[name], constant(_bad_end(found, name)))


def _bad_end(found: Relations, name: str) -> float:
    fact = found.book.vocabulary[name]
    return fact.ends(fact.low, fact.high)[1]


def _write_size(found: Relations) -> None:
    size = found.put("size", listed("read", "unread"))
    read = cases(size)["read"]
    sizes = all_sizes()
    chosen = cases(found.put("designation", listed(*(one.text for one in sizes))))
    for name in (*SIZE_NUMBERS, "size family"):
        value = collect((one.facts[name], chosen[one.text]) for one in sizes)
        found.row[name] = value if name == "size family" else choose(read, value, constant(None))
    found.row["outside diameter"] = constant(None)
    found.row["rim diameter"] = choose(read, found.row["rim"], constant(_bad_end(found, "rim diameter")))
    mark = cases(found.put("load index", listed(None, *LOAD_INDICES)))
    loads = ((read_load_index(text).single_kg, mark[text]) for text in LOAD_INDICES)
    found.row["load capacity"] = collect(((_bad_end(found, "load capacity"), mark[None]), *loads))
    radial = any_of(chosen[one.text] for one in sizes if one.designation.construction == "radial")
    found.require(
        found.equals("construction", "radial") == radial,
        z3.Implies(found.equals("casing", "steel"), radial),
    )


def _write_age(found: Relations) -> None:
    serial = found.put("serial", listed("read", "unread"))
    retreaded = found.put("retreaded", listed("no", "yes"))
    age, later = (_weekly(found, name) for name in ("casing age", "retread age"))
    oldest = constant(found.book.vocabulary["age"].high)
    found.row["age"] = choose(cases(serial)["read"], age, oldest)
    found.row["age by law"] = choose(cases(retreaded)["yes"], later, found.row["age"])
    found.require(later.term <= age.term)


def _weekly(found: Relations, name: str) -> Number:
    """Return an age [years] that a date code can tell: counted from the first day of a week."""
    age = found.put(name, measured(LAST_WEEK_BEGAN / DAYS_A_YEAR, OLDEST))
    assert isinstance(age, Number)
    if not isinstance(found.functions, ExactFunctions):
        return age  # an order is kept between the weeks as well
    weeks = z3.FreshInt(f"weeks of {name}")
    found.require(age.term * exact(DAYS_A_YEAR) == 7 * z3.ToReal(weeks) + LAST_WEEK_BEGAN)
    return age


def _write_tread(found: Relations) -> None:
    readings = found.put("tread readings", listed(*FEW["tread readings"]))
    spread = found.put("tread depth spread", measured(0.0, MOST_SPREAD))
    count = cases(readings)
    assert isinstance(spread, Number)
    found.require(z3.Implies(any_of((count[0.0], count[1.0])), spread.term == 0))
    found.row["tread depth spread"] = choose(opposite(count[0.0]), spread, constant(None))
    left, new = number(_plain(found.row["tread left"])), number(_plain(found.row["tread new"]))
    found.require(left.term + spread.term <= new.term)


def _write_counts(found: Relations) -> None:
    _known(found, "plies", "ply count", "counted", "unknown")
    _known(found, "pressure at removal", "pressure record", "known", "unknown")
    shallow = any_of(found.equals("reaches", value) for value in ("rubber", "cord"))
    for name in ("cords cut", "plies damaged", "belts damaged", "inside length", "inside width"):
        found.require(z3.Implies(shallow, found.equals(name, 0.0)))
    for damaged, whole in (("plies damaged", "plies"), ("belts damaged", "belts")):
        there = compare("LtEq", _plain(found.row[damaged]), _plain(found.row[whole]))
        counted = found.equals("ply count", "counted") if whole == "plies" else z3.BoolVal(val=True)
        found.require(z3.Implies(counted, there.guard))
    _known(found, "cords cut", "cords are counted", "yes", "no")
    _known(found, "depth", "depth is known", "yes", "no")
    loose = found.put("earlier repair loose", listed("no", "yes"))
    earlier = found.put("earlier repairs", listed(*found.book.vocabulary["earlier repairs"].values))
    found.require(cases(loose)["yes"] == cases(earlier)["mapped"])


def _write_place(found: Relations) -> None:
    placed = cases(found.put("placed from", listed(*TAPES)))
    found.require(z3.Implies(found.equals("size", "unread"), placed["zone"]))
    found.row["named zone"] = found.row["zone"]
    nearest = choose(placed["bead"], found.row["distance from bead"], constant(0.0))
    beside = choose(placed["centreline"], found.row["distance from centreline"], constant(None))
    found.row |= {
        "distance from bead": nearest, "opposite distance": nearest,
        "distance from centreline": beside, "opposite centreline distance": beside,
    }  # fmt: skip
    for name in ("length", "width"):
        found.require(number(_plain(found.row[name])).term >= 1)


def _plain(symbol: Symbol) -> Finite | Number:
    assert not isinstance(symbol, Truth)
    return symbol
