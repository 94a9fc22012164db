"""What a case says, as three readings of every measure and the values still possible of every listed fact."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass, field
from datetime import date

from mendbook.terms.case import UNKNOWN, Case, Section
from mendbook.terms.quantity import Quantity
from mendbook.terms.strength import assumed_plies, read_ply_rating
from mendbook.terms.vocabulary import Fact, Subject, Vocabulary, Worse

GOOD, READ, BAD = 0, 1, 2
Triple = tuple[float | None, float | None, float | None]


@dataclass(frozen=True)
class Reading:
    """Everything known about one subject, the tyre or an injury.

    `measures` holds (good end, as read, bad end); what is unknown is read at its bad end. `listed` holds the
    values still possible, from good to bad where the list has an order. `uncertain` names the facts of which
    another look could tell more; `assumed` those that the case leaves out and the vocabulary fills in.
    """

    measures: Mapping[str, Triple]
    listed: Mapping[str, tuple[str, ...]]
    uncertain: tuple[str, ...] = ()
    assumed: Mapping[str, str] = field(default_factory=dict)
    missing: frozenset[str] = frozenset()

    def alternatives(self, vocabulary: Vocabulary) -> dict[str, tuple[str, ...]]:
        """Return the unordered listed facts of which more than one value is still possible."""
        return {n: v for n, v in self.listed.items() if len(v) > 1 and vocabulary[n].worse is Worse.NEITHER}


@dataclass(frozen=True)
class Readings:
    """A whole case, read."""

    tyre: Reading
    injuries: tuple[Reading, ...]
    names: tuple[str, ...]
    uses: tuple[str, ...]


def read_readings(case: Case, vocabulary: Vocabulary, on: date, law: str) -> Readings:
    """Return the readings of `case` on the day `on`, under the road law `law`."""
    tyre = _tyre(case, vocabulary, on, law)
    injuries = tuple(_injury(injury, vocabulary, case.tyre.size is not None) for injury in case.injuries)
    use = case.service.written("use")
    uses = (use,) if isinstance(use, str) and use != UNKNOWN else vocabulary["use"].values
    return Readings(tyre, injuries, tuple(i.name for i in case.injuries), uses)


def read_facts(facts: Iterable[Fact], section_of: Callable[[Fact], Section]) -> Reading:
    """Read every fact of `facts` from the section that `section_of` gives."""
    measures: dict[str, Triple] = {}
    listed: dict[str, tuple[str, ...]] = {}
    uncertain: list[str] = []
    assumed: dict[str, str] = {}
    missing: set[str] = set()
    for fact in facts:
        section = section_of(fact)
        written = section.written(fact.name)
        if written is None:
            missing.add(fact.name)
            if fact.missing is not None:
                assumed[fact.name] = fact.missing
        if fact.is_listed:
            listed[fact.name] = values = _possible(fact, written)
            if len(values) > 1:
                uncertain.append(fact.name)
        else:
            measures[fact.name] = triple = _triple(fact, written, section)
            if triple[GOOD] != triple[BAD]:
                uncertain.append(fact.name)
    return Reading(measures, listed, tuple(uncertain), assumed, frozenset(missing))


def _possible(fact: Fact, written: Quantity | str | None) -> tuple[str, ...]:
    if written is None and fact.missing is not None:
        return (fact.missing,)
    if written is None or written == UNKNOWN:
        return fact.values
    return (str(written),)


def _triple(fact: Fact, written: Quantity | str | None, section: Section) -> Triple:
    scale = 100.0 if fact.unit == "%" else 1.0
    if not isinstance(written, Quantity):
        if fact.missing is not None:
            number = float(fact.missing)
            return number, number, number
        return _unknown(fact)
    if written.is_unknown:
        return _unknown(fact)
    if written.low is not None and written.high is not None:
        good, bad = fact.ends(written.low * scale, written.high * scale)
        return good, bad if written.value is None else written.value * scale, bad
    value = (written.value or 0.0) * scale
    error = reading_error(fact, value, section)
    low, high = max(fact.low, value - error), min(fact.high, value + error)
    good, bad = fact.ends(low, high)
    return (value, value, value) if fact.worse is Worse.NEITHER else (good, value, bad)


def _unknown(fact: Fact) -> Triple:
    if fact.worse is Worse.NEITHER:
        return None, None, None
    good, bad = fact.ends(fact.low, fact.high)
    return good, bad, bad


def reading_error(fact: Fact, value: float, section: Section) -> float:
    """Return the reading error (~95 %) of `value` [the unit of `fact`]."""
    for other, answer, error in fact.error_if:
        if section.written(other) == answer:
            return error
    return max(fact.error, abs(value) * fact.error_share)


def _tyre(case: Case, vocabulary: Vocabulary, on: date, law: str) -> Reading:
    given = [f for f in vocabulary.given(Subject.TYRE) if f.name != "use"]
    base = read_facts(given, lambda fact: case.section(fact.section))
    measures, listed = dict(base.measures), dict(base.listed)
    assumed, uncertain = dict(base.assumed), list(base.uncertain)
    listed["law"] = (law,)
    _size(case, listed, measures, uncertain)
    _age(case, on, listed, measures, uncertain, vocabulary)
    _tread(case, listed, measures, uncertain, vocabulary)
    _plies(case, listed, measures, assumed, vocabulary)
    listed["pressure record"] = ("unknown" if measures["pressure at removal"][GOOD] == vocabulary[
        "pressure at removal"].high else "known",)  # fmt: skip
    repairs = case.earlier_repairs
    listed["earlier repairs"] = {
        "none": ("none",), "not mapped": ("present but not mapped",),
        "unknown": vocabulary["earlier repairs"].values,
    }.get(repairs, ("none",)) if isinstance(repairs, str) else ("mapped" if repairs else "none",)  # fmt: skip
    if len(listed["earlier repairs"]) > 1:
        uncertain.append("earlier repairs")
    states = {repair.state for repair in case.mapped_repairs}
    listed["earlier repair loose"] = ("yes",) if states & {"loose", UNKNOWN} else ("no",)
    return Reading(measures, listed, tuple(dict.fromkeys(uncertain)), assumed, base.missing)


def _size(case: Case, listed: dict[str, tuple[str, ...]], measures: dict[str, Triple], uncertain: list[str]) -> None:
    size = case.tyre.size
    listed["size"] = ("unread" if size is None else "read",)
    if size is None:
        for name in ("nominal width", "section height", "rim", "inflated width", "outside diameter"):
            measures[name] = (None, None, None)
        listed["size family"] = ("road", "off-road")
        return
    if len(listed["construction"]) > 1:
        listed["construction"] = (size.construction,)
        if "construction" in uncertain:
            uncertain.remove("construction")
    if "radial" not in listed["construction"] and len(listed["casing"]) > 1:
        listed["casing"] = tuple(v for v in listed["casing"] if v != "steel")
    listed["size family"] = ("road" if size.is_road_size else "off-road",)
    measured = case.tyre.outside_diameter
    outside = measured.value if measured is not None else None
    for name, number in (
        ("nominal width", size.nominal_width_mm), ("section height", size.section_height_mm),
        ("rim", size.rim_in * 25.4), ("inflated width", size.section_width_mm), ("outside diameter", outside),
    ):  # fmt: skip
        measures[name] = (number, number, number)


def _age(
    case: Case, on: date, listed: dict[str, tuple[str, ...]], measures: dict[str, Triple], uncertain: list[str],
    vocabulary: Vocabulary,
) -> None:  # fmt: skip
    built, retreaded = case.tyre.built(on), case.tyre.retreaded(on)
    listed["serial"] = ("unread" if built is None else "read",)
    listed["retreaded"] = ("yes" if case.tyre.retread_date_code else "no",)
    young, old = (vocabulary["age"].low, vocabulary["age"].high) if built is None else built.age_years(on)
    measures["age"] = (young, old, old)
    if old - young > 1.0:
        uncertain.append("age")
    law_young, law_old = (young, old) if retreaded is None else retreaded.age_years(on)
    measures["age by law"] = (law_young, law_old, law_old)


def _tread(
    case: Case, listed: dict[str, tuple[str, ...]], measures: dict[str, Triple], uncertain: list[str],
    vocabulary: Vocabulary,
) -> None:  # fmt: skip
    depths = [q.value for q in case.tyre.tread_depths if q.value is not None]
    measures["tread readings"] = (float(len(depths)),) * 3
    spread = (max(depths) - min(depths)) if depths else None
    measures["tread depth spread"] = (spread,) * 3
    if (depths and "tread left" not in measures) or (depths and case.tyre.written("tread left") is None):
        fact = vocabulary["tread left"]
        error = reading_error(fact, min(depths), case.tyre)
        measures["tread left"] = (min(depths) + error, min(depths), max(0.0, min(depths) - error))


def _plies(
    case: Case, listed: dict[str, tuple[str, ...]], measures: dict[str, Triple], assumed: dict[str, str],
    vocabulary: Vocabulary,
) -> None:  # fmt: skip
    written = case.tyre.written("plies")
    if isinstance(written, Quantity) and not written.is_unknown:
        listed["ply count"] = ("counted",)
        return
    rating = case.tyre.ply_rating
    if rating in (None, UNKNOWN):
        listed["ply count"] = ("unknown",)
        return
    plies = float(assumed_plies(read_ply_rating(str(rating))))
    error = 2.0 * vocabulary["plies"].error
    measures["plies"] = (plies + error, plies, max(1.0, plies - error))
    listed["ply count"] = ("assumed",)
    assumed["plies"] = f"{plies:g} (from {rating}; a ply rating is not a count)"


def _injury(injury: Section, vocabulary: Vocabulary, size_is_read: bool) -> Reading:
    base = read_facts(vocabulary.given(Subject.INJURY), lambda _: injury)
    listed, measures = dict(base.listed), dict(base.measures)
    uncertain = list(base.uncertain)
    damaged = any(
        isinstance(q := injury.written(name), Quantity) and (q.value or q.low or 0.0) > 0.0
        for name in ("plies damaged", "cords cut", "belts damaged")
    )
    if damaged and len(listed["reaches"]) > 1:
        listed["reaches"] = tuple(v for v in listed["reaches"] if v in ("plies", "through"))
    listed["depth is known"] = ("no" if "depth" in base.missing else "yes",)
    listed["side"] = (str(injury.written("side") or "serial side"),)
    clock = injury.written("clock")
    turned = clock.value if isinstance(clock, Quantity) else None
    measures["clock"] = (turned, turned, turned)
    listed["cords are counted"] = ("no" if "cords cut" in base.missing else "yes",)
    placed = _placed_from(injury) if size_is_read else "zone"
    listed["placed from"] = (placed,)
    read = measures["distance from bead"][READ]
    measures["distance as read"] = (read, read, read)
    if placed != "zone":
        listed["zone"] = listed["zone"][:1]  # the tape decides; the name is not needed
        uncertain = [name for name in uncertain if name != "zone"]
    if placed != "bead":
        uncertain = [name for name in uncertain if name != "distance from bead"]
    return Reading(measures, listed, tuple(uncertain), base.assumed, base.missing)


def _placed_from(injury: Section) -> str:
    """Return where the place of an injury was measured from, or 'zone' when its zone is all there is."""
    for fact, name in (("distance from bead", "bead"), ("distance from centreline", "centreline")):
        written = injury.written(fact)
        if isinstance(written, Quantity) and not written.is_unknown:
            return name
    return "zone"
