"""The questions that come first and always in one order: people, identity, what is not as usual, each injury."""

from collections.abc import Iterator

from mendbook.inspection.question import Kind, Question, ask_fact
from mendbook.inspection.state import TAPES, Inspection
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import spell_value
from mendbook.terms.document import Way
from mendbook.terms.vocabulary import Fact, Vocabulary

PEOPLE = "people"
HEAT: Way = ("found", "heat event")
HOURS: Way = ("found", "hours since heat")
CORE: Way = ("found", "valve core")
SAFE = {HEAT: "none", CORE: "out"}
WHICH = "which are not as usual? Names with commas between, or 'none'"
RETREAD: Way = ("tyre", "retread date code")
OTHERS = {"service": "the service"}  # what facts of no group of their own are asked with

_PEOPLE_FIRST = "people first: nothing else is asked until this is clear"
_IDENTITY = "size, age, cord and work set every limit"


def fixed_questions(state: Inspection, book: Rulebook) -> Iterator[Question]:
    """Yield the questions of the fixed order that are not answered yet."""
    for question in _all(state, book):
        if not state.is_answered(question.path):
            yield question


def _all(state: Inspection, book: Rulebook) -> Iterator[Question]:
    vocabulary = book.vocabulary
    yield from _people(state, book)
    yield from _identity(state, vocabulary)
    yield from _usual(state, book)
    yield Question(
        ("injuries",),
        "which injuries there are",
        "look all round, outside and inside; mark each and give it a letter",
        "every injury is judged by itself and with its neighbours",
        kind=Kind.INJURIES,
        example="A, B; or a number; or none",
    )
    for number, name in enumerate(state.names):
        yield from _injury(state, number, name, vocabulary)


def _people(state: Inspection, book: Rulebook) -> Iterator[Question]:
    """Heat comes before the valve: nobody goes to the valve of a tyre that is hot."""
    vocabulary = book.vocabulary
    yield _fact(vocabulary, HEAT, _PEOPLE_FIRST)
    if state.written(HEAT) != SAFE[HEAT]:
        yield _fact(vocabulary, HOURS, _PEOPLE_FIRST)
    yield _fact(vocabulary, CORE, _PEOPLE_FIRST)
    yield from _opened(state, vocabulary)
    names = people_facts(book)
    yield _unusual(
        ("unusual", PEOPLE), "safety at the tyre", _PEOPLE_FIRST, [f for f in usual(vocabulary) if f in names]
    )


def _identity(state: Inspection, vocabulary: Vocabulary) -> Iterator[Question]:
    yield Question(
        ("tyre", "designation"), "size designation as moulded", "read it on both sidewalls", _IDENTITY,
        example="26.5R25",
    )  # fmt: skip
    yield Question(
        ("tyre", "date code"), "week and year of making", "read the last four figures of the serial", _IDENTITY,
        example="3123",
    )  # fmt: skip
    yield _fact(vocabulary, ("tyre", "casing"), _IDENTITY)
    yield _fact(vocabulary, ("service", "use"), _IDENTITY)
    if state.law is None and state.written(("service", "use")) != "off-road":
        countries = ("us", "uk", "other")
        yield Question(
            ("service", "country"), "country of road use", "ask the fleet", "it decides which road law holds",
            values=countries, example=countries[0],
        )  # fmt: skip
    if _may_hold(state):
        yield Question(
            RETREAD, "week and year of retreading, 'none' where it is no retread", "read the retreader's mark, low on "
            "the sidewall", "road law counts age and bars positions by it", example="1425",
        )  # fmt: skip
    yield _fact(vocabulary, ("service", "duty"), _IDENTITY)
    yield _fact(vocabulary, ("service", "position"), _IDENTITY)


def _may_hold(state: Inspection) -> bool:
    """Return whether a road law may hold."""
    if state.written(("service", "use")) == "off-road" or state.law == "none":
        return False
    return state.law is not None or state.written(("service", "country")) != "other"


def _usual(state: Inspection, book: Rulebook) -> Iterator[Question]:
    """Ask in groups, the parts of the tyre one after the other as a person walks round it, the service last."""
    people = people_facts(book)
    groups: dict[str, list[Fact]] = {}
    for fact in usual(book.vocabulary):
        if fact not in people:
            groups.setdefault(fact.group or OTHERS.get(fact.section, "the tyre"), []).append(fact)
    for group in sorted(groups, key=lambda name: name in OTHERS.values()):
        yield _unusual(("unusual", group), group, "what is not named counts as usual", groups[group])
        yield from _opened(state, book.vocabulary)


def _injury(state: Inspection, number: int, name: str, vocabulary: Vocabulary) -> Iterator[Question]:
    here: Way = ("injuries", number)
    why = "kind, depth and place choose the rules"
    yield _fact(vocabulary, (*here, "kind"), why, name)
    yield _fact(vocabulary, (*here, "reaches"), why, name)
    if not any(state.is_answered((*here, tape)) for tape in TAPES):
        yield Question(
            (*here, "place"),
            "where its nearest edge lies, along the surface",
            "tape from the bead toe, or from the crown centreline, to the nearest edge; or name the zone",
            why, name, Kind.PLACE, values=vocabulary["zone"].values, example="330 mm from bead",
        )  # fmt: skip
    if len(state.names) > 1 or isinstance(state.tree.get("earlier repairs"), list):
        near = "how far it lies from the others decides whether they count as one"
        sides = ("serial side", "opposite side", "crown")
        yield Question((*here, "side"), "side it lies on", "look", near, name, values=sides, example=sides[0])
        yield Question(
            (*here, "clock"), "angle from the valve or serial mark, seen on the serial side",
            "stand on the serial side and count round from the mark", near, name, unit="deg", example="214 deg",
        )  # fmt: skip
    own = [
        fact for fact in _defaulted(vocabulary) if fact.section == "injuries" and fact.name not in ("kind", "skived")
    ]
    yield _unusual((*here, "unusual"), f"injury {name}", "what is not named counts as usual", own, name)
    yield from _opened(state, vocabulary)


def people_facts(book: Rulebook) -> frozenset[Fact]:
    """Return the facts that the rules for people's safety look at."""
    names = {name for rule in book.rules if rule.stage == PEOPLE for name in rule.facts()}
    return frozenset(book.vocabulary[name] for name in names)


def usual(vocabulary: Vocabulary) -> Iterator[Fact]:
    """Yield the facts of the tyre that count as usual when nobody writes them."""
    sections = ("tyre", "found", "service")
    return (fact for fact in _defaulted(vocabulary) if fact.section in sections and fact.name != "inside inspected")


def _defaulted(vocabulary: Vocabulary) -> Iterator[Fact]:
    return (fact for fact in vocabulary.given() if fact.missing is not None and not fact.is_look)


def _unusual(path: Way, what: str, why: str, facts: list[Fact], about: str = "tyre") -> Question:
    return Question(
        path,
        f"{what}: {WHICH}",
        "\n".join(f"{fact.name}: {fact.means} ({fact.measure})" for fact in facts),
        why,
        about,
        Kind.UNUSUAL,
        example="none",
        options=tuple((fact.name, _spelled(fact)) for fact in facts),
    )


def _spelled(fact: Fact) -> str:
    """Return a fact as it is usual, so that it can be read aloud: 'no run flat', 'rim parts sound'."""
    missing = str(fact.missing)
    if missing == "none":
        return f"no {fact.name}"
    return f"{fact.name} {missing if fact.is_listed else spell_value(fact, float(missing))}"


def _opened(state: Inspection, vocabulary: Vocabulary) -> Iterator[Question]:
    """Yield what an answer named as unusual: how bad it is."""
    for path in state.opened:
        about = state.names[int(path[1])] if path[0] == "injuries" else "tyre"
        yield _fact(vocabulary, path, "it was named as not usual", about)


def _fact(vocabulary: Vocabulary, path: Way, why: str, about: str = "tyre") -> Question:
    return ask_fact(vocabulary[str(path[-1])], path, about, why)
