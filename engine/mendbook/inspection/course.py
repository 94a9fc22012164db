"""The course of an inspection: what is asked next, what an answer changes, and what came out."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import UTC, datetime

from mendbook.facts.scenarios import TooManyChoices
from mendbook.inspection.answers import UnclearAnswer, read_answer
from mendbook.inspection.effort import check_effort
from mendbook.inspection.looks import open_questions
from mendbook.inspection.order import CORE, HEAT, HOURS, SAFE, fixed_questions
from mendbook.inspection.question import Question
from mendbook.inspection.state import Inspection
from mendbook.rulebook.book import Rulebook
from mendbook.terms.docket import Docket
from mendbook.terms.document import Tree, Way
from mendbook.triage import Shop, judge
from mendbook.triage.places import ImpossibleCase, check_dates

ENDING = ("stop", "reject")  # no further look can lift them


def begin(tree: Mapping[str, Tree], shop: Shop, *, law: str | None = None) -> Inspection:
    """Return the inspection that goes on from the case `tree`, a readable case as plain maps, lists and text.

    What it says is not asked again. Raises ImpossibleCase when its figures cannot all be true.
    """
    return _settle(Inspection(tree, law), None, shop)


def next_question(state: Inspection, shop: Shop) -> Question | None:
    """Return what to ask next, None when nothing that is left can change the answer."""
    docket = state.docket
    if docket is not None and docket.outcome in ENDING:
        return None
    return _fixed(state, shop.book) or next(open_questions(state, docket, shop.book), None)


def answer(state: Inspection, question: Question, text: str, shop: Shop) -> Inspection:
    """Return the inspection after the answer `text` to `question`.

    Raises UnclearAnswer, with one clear sentence, when the text cannot be read or cannot be true beside the rest.
    """
    after = read_answer(state, question, text, shop.book.vocabulary)
    try:
        case = after.case(shop.book.vocabulary)
        check_dates(case, case.judged_on or datetime.now(UTC).date())
        return _settle(after, question.path, shop)
    except ImpossibleCase as error:
        raise UnclearAnswer(f"{error.path[-1]}: {error}") from None


def outcome(state: Inspection, shop: Shop) -> Docket:
    """Return the docket of the case so far. Raises TooManyChoices when too little is known to judge."""
    return state.docket or _judge(state, shop)


def _judge(state: Inspection, shop: Shop) -> Docket:
    case = state.case(shop.book.vocabulary)
    now = datetime.now(UTC)
    check_dates(case, case.judged_on or now.date())
    check_effort(case, shop.book.vocabulary, case.judged_on or now.date())
    # What a person overrules is looked at by a triage: half a case may not meet its reject yet.
    return judge(case.without_overrules(), shop, law=state.law, now=now)


def _settle(state: Inspection, asked: Way | None, shop: Shop) -> Inspection:
    """Judge where the answer may end the inspection or choose the next question; a judgement costs time."""
    is_fixed = _fixed(state, shop.book) is not None
    if is_fixed and not _may_end(state, asked):
        return replace(state, docket=None)
    docket = _judged(state, shop)
    if is_fixed and (docket is None or docket.outcome not in ENDING):
        return replace(state, docket=docket if state.names else None)
    return replace(state, docket=docket)


def _may_end(state: Inspection, asked: Way | None) -> bool:
    """Return whether the answer just given, in the middle of the fixed order, may decide by itself."""
    if asked is None:
        return False
    if asked == HEAT:
        return False  # how long ago it was is asked first
    is_named = asked in state.opened and not any(
        path not in state.answered and path[:-1] == asked[:-1] for path in state.opened
    )
    is_unsafe = asked == HOURS or (asked == CORE and state.written(CORE) != SAFE[CORE])
    return is_unsafe or is_named or (asked[0] == "injuries" and asked[-1] == "unusual")


def _judged(state: Inspection, shop: Shop) -> Docket | None:
    """Return the docket; an unanswered valve core stops nothing while it is still to be asked."""
    is_open = not state.is_answered(CORE)
    tried = state.write(CORE, SAFE[CORE]) if is_open else state
    try:
        docket = _judge(tried, shop)
    except TooManyChoices:
        return None
    if is_open and docket.outcome == "stop":
        return _judge(state, shop)
    return docket


def _fixed(state: Inspection, book: Rulebook) -> Question | None:
    return next(fixed_questions(state, book), None)
