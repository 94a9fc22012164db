"""A case read: what its tyre and its injuries say, and what follows from markings and dates."""

from datetime import date

from mendbook.facts.haulage import tkph
from mendbook.facts.readings import Draft, Reading, Readings, Triple, read_facts, reading_error
from mendbook.terms.case import UNKNOWN, Case, Section
from mendbook.terms.designation import Designation
from mendbook.terms.quantity import Quantity
from mendbook.terms.strength import assumed_plies, read_ply_rating
from mendbook.terms.vocabulary import Fact, Subject, Vocabulary

SIZE_NUMBERS = ("nominal width", "section height", "rim", "inflated width")
DEEPEST_TREAD = "deepest tread"  # mm, of the readings round the tyre; no rule looks at it, it tells a slip


def read_readings(case: Case, vocabulary: Vocabulary, on: date, law: str) -> Readings:
    """Return the readings of `case` on the day `on`, under the road law `law`.

    Raises ValueError when a date code lies after that day.
    """
    is_sized = case.tyre.size is not None
    use = case.service.written("use")
    return Readings(
        tyre=_read_tyre(case, vocabulary, on, law),
        injuries=tuple(read_injury(injury, vocabulary, is_sized=is_sized) for injury in case.injuries),
        names=tuple(injury.name for injury in case.injuries),
        uses=(use,) if isinstance(use, str) and use != UNKNOWN else vocabulary["use"].values,
    )


def _read_tyre(case: Case, vocabulary: Vocabulary, on: date, law: str) -> Reading:
    given = (fact for fact in vocabulary.given(Subject.TYRE) if fact.name != "use")
    draft = read_facts(given, lambda fact: case.section(fact.section))
    draft.settle("law", law)
    _read_size(case, draft)
    size, load = case.tyre.size, case.tyre.load_mark
    draft.put_or_leave_open(vocabulary["rim diameter"], None if size is None else size.rim_diameter_mm)
    draft.put_or_leave_open(vocabulary["load capacity"], None if load is None else load.single_kg)
    _read_age(case, draft, vocabulary, on)
    _read_tread(case, draft, vocabulary)
    _read_plies(case, draft, vocabulary)
    _read_earlier_repairs(case, draft, vocabulary)
    _read_haulage(case, draft, vocabulary)
    is_on_record = _is_known(case.found.written("pressure at removal"))
    draft.settle("pressure record", "known" if is_on_record else "unknown")
    return draft.finish()


def _read_size(case: Case, draft: Draft) -> None:
    size = case.tyre.size
    draft.settle("size", "unread" if size is None else "read")
    if size is None:
        for name in (*SIZE_NUMBERS, "outside diameter"):
            draft.put(name, None)
        draft.settle("size family", "road", "off-road")
        return
    draft.settle("size family", size_family(size))
    if len(draft.listed["construction"]) > 1:
        draft.settle("construction", size.construction)
    if "radial" not in draft.listed["construction"] and len(draft.listed["casing"]) > 1:
        draft.settle("casing", *(cord for cord in draft.listed["casing"] if cord != "steel"))
    measured = case.tyre.outside_diameter
    draft.put("outside diameter", None if measured is None else measured.value)
    for name, number in size_numbers(size).items():
        draft.put(name, number)


def size_numbers(size: Designation) -> dict[str, float]:
    """Return the numbers [mm] that follow from a designation alone."""
    numbers = (size.nominal_width_mm, size.section_height_mm, size.rim_diameter_mm, size.section_width_mm)
    return dict(zip(SIZE_NUMBERS, numbers, strict=True))


def size_family(size: Designation) -> str:
    """Return whether a size is one of road trucks and buses, or one of off-road machines."""
    return "road" if size.is_road_size else "off-road"


def _read_age(case: Case, draft: Draft, vocabulary: Vocabulary, on: date) -> None:
    built, retreaded = case.tyre.built(on), case.tyre.retreaded(on)
    draft.settle("serial", "unread" if built is None else "read")
    draft.settle("retreaded", "yes" if case.tyre.retread_date_code else "no")
    young, old = (vocabulary["age"].low, vocabulary["age"].high) if built is None else built.age_years(on)
    draft.measures["age"] = (young, old, old)
    if old - young > 1.0:
        draft.uncertain["age"] = None
    by_law = (young, old) if retreaded is None else retreaded.age_years(on)
    draft.measures["age by law"] = (by_law[0], by_law[1], by_law[1])


def _read_tread(case: Case, draft: Draft, vocabulary: Vocabulary) -> None:
    depths = [depth.value for depth in case.tyre.tread_depths if depth.value is not None]
    draft.put("tread readings", float(len(depths)))
    draft.put("tread depth spread", max(depths) - min(depths) if depths else None)
    draft.put(DEEPEST_TREAD, max((depth.bounds[0] for depth in case.tyre.tread_depths if depth.bounds), default=None))
    if depths and case.tyre.written("tread left") is None:
        least = min(depths)
        error = reading_error(vocabulary["tread left"], least, case.tyre)
        draft.measures["tread left"] = (least + error, least, max(0.0, least - error))


def _read_plies(case: Case, draft: Draft, vocabulary: Vocabulary) -> None:
    written = case.tyre.written("plies")
    if isinstance(written, Quantity) and not written.is_unknown:
        draft.settle("ply count", "counted")
        return
    rating = case.tyre.ply_rating
    if rating is None or rating == UNKNOWN:
        draft.settle("ply count", "unknown")
        return
    # A ply rating is a label of strength; a guess from it is taken twice as wide as a count.
    plies, error = float(assumed_plies(read_ply_rating(rating))), 2.0 * vocabulary["plies"].error
    draft.measures["plies"] = (plies + error, plies, max(1.0, plies - error))
    draft.settle("ply count", "assumed")
    draft.assumed["plies"] = f"{plies:g}, from {rating}; a ply rating is not a count"


def _read_earlier_repairs(case: Case, draft: Draft, vocabulary: Vocabulary) -> None:
    repairs = case.earlier_repairs
    if isinstance(repairs, tuple):
        draft.settle("earlier repairs", "mapped" if repairs else "none")
    elif repairs == UNKNOWN:
        draft.settle("earlier repairs", *vocabulary["earlier repairs"].values)
    else:
        draft.settle("earlier repairs", "none" if repairs == "none" else "present but not mapped")
    states = {repair.state for repair in case.mapped_repairs}
    draft.settle("earlier repair loose", "yes" if states & {"loose", UNKNOWN} else "no")


def _read_haulage(case: Case, draft: Draft, vocabulary: Vocabulary) -> None:
    """Work out the use of the heat rating when the case gives what it follows from instead of the figure."""
    service = case.service
    given = (service.load_empty, service.load_loaded, service.cycle_length, service.cycles, service.shift)
    numbers = [quantity.value for quantity in given if quantity is not None and quantity.value is not None]
    if "tkph use" not in draft.missing or service.tkph_rating is None or len(numbers) < len(given):
        return
    empty_kg, loaded_kg, cycle_km, cycles, shift_h = numbers
    fact = vocabulary["tkph use"]
    use = 100.0 * tkph(empty_kg / 1000.0, loaded_kg / 1000.0, cycle_km, cycles, shift_h) / service.tkph_rating
    error = reading_error(fact, use, service)
    draft.measures["tkph use"] = (max(fact.low, use - error), min(use, fact.high), min(use + error, fact.high))
    draft.uncertain["tkph use"] = None
    draft.assumed.pop("tkph use", None)


def read_injury(injury: Section, vocabulary: Vocabulary, *, is_sized: bool) -> Reading:
    """Return the reading of one injury, of a tyre whose size could be read or not."""
    draft = read_facts(vocabulary.given(Subject.INJURY), lambda _: injury)
    counted = ("plies damaged", "cords cut", "belts damaged")
    if len(draft.listed["reaches"]) > 1 and any(_is_some(injury.written(name)) for name in counted):
        draft.settle("reaches", "plies", "through")
    draft.settle("depth is known", "yes" if _is_known(injury.written("depth")) else "no")
    draft.settle("cords are counted", "yes" if _is_known(injury.written("cords cut")) else "no")
    draft.settle("side", str(injury.written("side") or "serial side"))
    clock = injury.written("clock")
    draft.put("clock", clock.value if isinstance(clock, Quantity) else None)
    _place(injury, draft, vocabulary, is_sized=is_sized)
    return draft.finish()


def _place(injury: Section, draft: Draft, vocabulary: Vocabulary, *, is_sized: bool) -> None:
    """Settle where the place of an injury was measured from; its zone is all there is when no tape was laid."""
    placed = "zone"
    for fact, name in (("distance from centreline", "centreline"), ("distance from bead", "bead")):
        if is_sized and _is_known(injury.written(fact)):
            placed = name
    draft.settle("placed from", placed)
    # One edge of the injury is counted from one end of the reading, and its other edge from the other end.
    good, read, bad = draft.measures["distance from bead"]
    draft.measures["opposite distance"] = (bad, good if _is_range(injury, "distance from bead") else read, good)
    least, read, most = _centreline_ends(injury, vocabulary["distance from centreline"])
    far = most if _is_range(injury, "distance from centreline") else read
    draft.measures["distance from centreline"] = (most, read, least)
    draft.measures["opposite centreline distance"] = (least, far, most)
    if placed != "zone":
        draft.settle("zone", draft.listed["zone"][0])  # the tape decides; the name is not needed
    if placed != "bead":
        draft.uncertain.pop("distance from bead", None)


def _centreline_ends(injury: Section, fact: Fact) -> Triple:
    """Return the least, the distance as read and the most; of a range, the least stands for what was read."""
    written = injury.written(fact.name)
    if not isinstance(written, Quantity) or written.is_unknown:
        return None, None, None
    if written.low is not None and written.high is not None:
        return written.low, written.low if written.value is None else written.value, written.high
    value = written.value or 0.0
    error = reading_error(fact, value, injury)
    return max(fact.low, value - error), value, value + error


def _is_known(written: Quantity | str | None) -> bool:
    return isinstance(written, Quantity) and not written.is_unknown


def _is_range(injury: Section, fact: str) -> bool:
    written = injury.written(fact)
    return isinstance(written, Quantity) and written.value is None and written.low is not None


def _is_some(written: Quantity | str | None) -> bool:
    return isinstance(written, Quantity) and (written.value or written.low or 0.0) > 0.0
