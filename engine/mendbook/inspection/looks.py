"""The questions that are left once the case can be judged: what the docket says to look at next."""

from collections.abc import Iterator
from itertools import chain

from mendbook.facts.origins import ORIGINS
from mendbook.inspection.question import TYRE, Question, ask_fact
from mendbook.inspection.repairs import REPAIRS, ask_repairs, repair_questions
from mendbook.inspection.state import Inspection
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case import UNKNOWN
from mendbook.terms.docket import Docket, Finding
from mendbook.terms.document import Way
from mendbook.terms.vocabulary import Fact, Vocabulary

# Facts that are made of fields which are no facts themselves.
_FIELDS: dict[str, Way] = {"earlier repairs": REPAIRS, "pressure record": ("found", "pressure at removal")}
# A share needs both of its figures; the origins name the one that is measured on the tyre.
_WHOLES = {"pressure at removal": "pressure specified", "tread left": "tread new"}
_NARROWING = ("length", "width", "depth", "plies damaged", "cords cut", "belts damaged")
_SIZES = ("length", "width", "depth")
_LOOKED_AT = ("skived", "inside inspected")  # asked, although the case form has a default for them
_HOLDING = "a hold depends on it"


def open_questions(state: Inspection, docket: Docket | None, book: Rulebook) -> Iterator[Question]:
    """Yield what can still change the answer and was not asked, the most decisive first.

    Without a docket, because too much is unknown to judge at all: whatever stands open.
    """
    if docket is None:
        yield from _everything_open(state, book.vocabulary)
        return
    yield from repair_questions(state, docket, book.vocabulary)
    holds = list(_behind_holds(docket, book))
    # What is costly to look at comes last: a reading may clear the hold before.
    readings = [one for one in holds if not _is_look(one[1], book.vocabulary)]
    looks = [one for one in holds if _is_look(one[1], book.vocabulary)]
    sources = (_looks(docket), readings, _behind_verdicts(docket, book), _behind_plan(docket), looks)
    for about, name, why in chain(*sources):
        for fact in _written_for(name, book.vocabulary):
            yield from _ask(state, fact, about, why, book.vocabulary)


def _looks(docket: Docket) -> Iterator[tuple[str, str, str]]:
    """Yield the looks that move the verdict; what moves a hold is found behind the holds themselves."""
    mild, severe = docket.bracket or ("", "")
    why = f"it helps to decide between {mild} and {severe}"
    looks = (look for look in docket.measure_next if look.why != _HOLDING)
    yield from ((look.about, look.fact, why if mild != severe else look.why) for look in looks)


def _behind_holds(docket: Docket, book: Rulebook) -> Iterator[tuple[str, str, str]]:
    for finding in docket.findings:
        if "hold" in finding.says and finding.text in docket.holds:
            yield from _seen_by(finding, f"{_HOLDING} ({finding.name})", book)


def _is_look(name: str, vocabulary: Vocabulary) -> bool:
    return name in vocabulary and vocabulary[name].is_look


def _behind_verdicts(docket: Docket, book: Rulebook) -> Iterator[tuple[str, str, str]]:
    """Yield the facts of the rules that speak at the bad readings only, the most severe rule first."""
    if docket.bracket is None or docket.decided:
        return
    speaking = [f for f in docket.findings if f.verdict and f.readings["bad"] and not f.readings["good"]]
    above = [f for f in speaking if book.rank(str(f.verdict)) > book.rank(docket.bracket[0])]
    for finding in sorted(above, key=lambda f: -book.rank(str(f.verdict))):
        yield from _seen_by(finding, f"'{finding.verdict}' depends on it ({finding.name})", book)


def _behind_plan(docket: Docket) -> Iterator[tuple[str, str, str]]:
    """Yield the sizes that kit, materials and cure are chosen by."""
    for repair in docket.plan.repairs if docket.plan else ():
        yield from ((repair.injury, name, "the plan and the cure are made to it") for name in _SIZES)


def _seen_by(finding: Finding, why: str, book: Rulebook) -> Iterator[tuple[str, str, str]]:
    rule = book.by_id()[finding.rule]
    yield from ((finding.about, name, why) for name in sorted(rule.facts()))


def _written_for(name: str, vocabulary: Vocabulary) -> Iterator[str]:
    """Yield what a person writes for a fact."""
    is_written = name in _FIELDS or (name in vocabulary and vocabulary[name].is_given)
    for origin in (name,) if is_written else ORIGINS.get(name, ()):
        if origin in _WHOLES:
            yield _WHOLES[origin]
        yield origin


def _ask(state: Inspection, name: str, about: str, why: str, vocabulary: Vocabulary) -> Iterator[Question]:
    if name in _FIELDS:
        question = _field(name, why, vocabulary)
        if not state.is_answered(question.path):
            yield question
        return
    if name not in vocabulary or vocabulary[name].section in ("", "workshop"):
        return
    path = _path(vocabulary[name], about, state)
    if path and not _is_asked_singly(vocabulary[name], path, state):
        return
    if path and not state.is_answered(path) and not _is_told_otherwise(state, path):
        yield ask_fact(vocabulary[name], path, about if path[0] == "injuries" else TYRE, why)
    elif path and path[0] == "injuries" and name in _NARROWING and state.written(path) != UNKNOWN:
        skived: Way = (*path[:-1], "skived")
        if not state.is_answered(skived):
            yield ask_fact(vocabulary["skived"], skived, about, f"a reading after the trial skive is closer, and {why}")


def _is_asked_singly(fact: Fact, path: Way, state: Inspection) -> bool:
    """Return whether nothing else asks for a fact: what counts as usual was asked for in a group."""
    return fact.missing is None or fact.is_look or fact.name in _LOOKED_AT or state.written(path) == UNKNOWN


def _field(name: str, why: str, vocabulary: Vocabulary) -> Question:
    path = _FIELDS[name]
    if path != REPAIRS:
        fact = vocabulary[str(path[-1])]
        return ask_fact(fact, path, TYRE, why)
    return ask_repairs(why)


def _path(fact: Fact, about: str, state: Inspection) -> Way | None:
    if fact.section != "injuries":
        return (fact.section, fact.name)
    return ("injuries", state.names.index(about), fact.name) if about in state.names else None


def _is_told_otherwise(state: Inspection, path: Way) -> bool:
    """Return whether another field, or the question for the place, has said it already."""
    if path == ("tyre", "tread left"):
        return state.written(("tyre", "tread depths")) is not None
    if path == ("tyre", "construction"):
        return state.written(("tyre", "designation")) not in (None, UNKNOWN)
    if path == ("found", "hours since heat"):
        return state.written(("found", "heat event")) == "none"
    if path == ("found", "rubber under groove"):
        return state.written(("found", "regrooved")) != "yes"
    is_place = path[-1] in ("zone", "distance from bead", "distance from centreline")
    return is_place and (*path[:-1], "place") in state.answered


def _everything_open(state: Inspection, vocabulary: Vocabulary) -> Iterator[Question]:
    why = "too much is unknown to judge at all"
    for fact in vocabulary.given():
        if fact.missing is None and fact.is_listed:
            for about in state.names if fact.section == "injuries" else (TYRE,):
                yield from _ask(state, fact.name, about, why, vocabulary)
