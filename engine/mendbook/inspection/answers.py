"""Read an answer: from what a person types to a case with one more field, or one clear sentence why not."""

import re
from collections.abc import Sequence
from dataclasses import replace

from pydantic import ValidationError

from mendbook.inspection.order import RETREAD
from mendbook.inspection.question import Kind, Question
from mendbook.inspection.repairs import REPAIR_CLASSES, REPAIRS, UNNAMED
from mendbook.inspection.state import TAPES, Inspection
from mendbook.terms.case import UNKNOWN
from mendbook.terms.case_fault import find_faults
from mendbook.terms.case_model import case_model
from mendbook.terms.document import Document, Tree, Way
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Vocabulary

MOST_INJURIES = 26  # one for each letter
LONGEST = 200  # characters of an answer
_NOT_KNOWN = frozenset({UNKNOWN, "don't know", "dont know", "do not know", "not known"})
_NONE = frozenset({"none", "no", "nothing", "0"})
_FROM = re.compile(r"(?P<tape>.+?)\s+from\s+(?:the\s+)?(?P<mark>bead|centreline)", re.IGNORECASE)


class UnclearAnswer(ValueError):
    """An answer that cannot be taken. The message says why and what to write, in a sentence or two."""


def read_answer(state: Inspection, question: Question, text: str, vocabulary: Vocabulary) -> Inspection:
    """Return `state` with the answer `text` to `question` written into its case. Raises UnclearAnswer."""
    plain = " ".join(text.replace("’", "'").split())
    if not plain:
        raise UnclearAnswer("Nothing was written. Write an answer, or 'unknown'.")
    if len(plain) > LONGEST or not plain.isprintable():
        raise UnclearAnswer(f"That is no answer that can be read. Write one such as '{question.example}'.")
    is_unknown = plain.casefold() in _NOT_KNOWN
    match question.kind:
        case Kind.INJURIES:
            after = _name_injuries(state, plain, is_unknown=is_unknown)
        case Kind.UNUSUAL:
            after = state if is_unknown else _open(state, question, plain, vocabulary)
        case Kind.PLACE:
            after = _place(state, question, UNKNOWN if is_unknown else plain)
            after = state if is_unknown and not after.is_readable(vocabulary) else after
        case Kind.REPAIRS if not is_unknown:
            after = _name_repairs(state, question, plain)
        case _ if question.path == RETREAD and plain.casefold() in _NONE:
            after = state  # a field left out says that there is none
        case _ if is_unknown:
            after = state.write(question.path, UNKNOWN)
            after = after if after.is_readable(vocabulary) else state
        case _:
            after = state.write(question.path, _value(plain, question.values))
    _check(after, vocabulary)
    return replace(after, answered=after.answered | {question.path}, count=state.count + 1)


def _value(plain: str, values: Sequence[str]) -> str:
    return next((value for value in values if value.casefold() == plain.casefold()), plain)


def _name_injuries(state: Inspection, plain: str, *, is_unknown: bool) -> Inspection:
    if is_unknown:
        raise UnclearAnswer("Look and count first: a tyre whose injuries nobody counted cannot be judged.")
    if plain.casefold() in _NONE:
        return state.write(("injuries",), [])
    names = [name.strip() for name in plain.split(",") if name.strip()]
    if plain.isascii() and plain.isdigit():
        if int(plain) > MOST_INJURIES:
            raise UnclearAnswer(f"More than {MOST_INJURIES} injuries cannot be asked for here. Write a case file.")
        names = [chr(ord("A") + number) for number in range(int(plain))]
    if not 1 <= len(names) <= MOST_INJURIES:
        raise UnclearAnswer("Write a name for each, with commas between, such as 'A, B'; or 'none'.")
    injuries: list[Tree] = [{"name": name} for name in names]
    return state.write(("injuries",), injuries)


def _name_repairs(state: Inspection, question: Question, plain: str) -> Inspection:
    """Write the earlier repairs: none, not mapped, or what was done in each; they are called P1, P2 and so on."""
    said = "none" if plain.casefold() in _NONE else plain.casefold()
    if said in UNNAMED:
        return state.write(REPAIRS, said)
    done = [name.strip().casefold() for name in plain.split(",") if name.strip()]
    for word in done:
        if word not in REPAIR_CLASSES:
            near = suggest(word, REPAIR_CLASSES)
            advice = f"Did you mean '{near}'?" if near else f"Write one of {', '.join(REPAIR_CLASSES)} for each."
            raise UnclearAnswer(f"'{word[:40]}' is no repair. {advice}")
    if not 1 <= len(done) <= MOST_INJURIES:
        raise UnclearAnswer(f"Write what was done in each, such as '{question.example}'; or 'none', or 'not mapped'.")
    repairs: list[Tree] = [{"name": f"P{number}", "class": word} for number, word in enumerate(done, 1)]
    return state.write(REPAIRS, repairs)


def _open(state: Inspection, question: Question, plain: str, vocabulary: Vocabulary) -> Inspection:
    if plain.casefold() in _NONE:
        return state
    known = {name.casefold(): name for name, _ in question.options}
    opened: list[Way] = []
    for written in (part.strip() for part in plain.split(",") if part.strip()):
        if written.casefold() not in known:
            near = suggest(written, list(known.values()))
            advice = f"Did you mean '{near}'?" if near else "Write names from the list, or 'none'."
            raise UnclearAnswer(f"'{written[:40]}' is not in the list. {advice}")
        name = known[written.casefold()]
        is_injury = question.path[0] == "injuries"
        opened.append((*question.path[:-1], name) if is_injury else (vocabulary[name].section, name))
    return replace(state, opened=(*state.opened, *(path for path in opened if path not in state.opened)))


def _place(state: Inspection, question: Question, plain: str) -> Inspection:
    here = question.path[:-1]
    zone = _value(plain, (*question.values, UNKNOWN))
    if zone in (*question.values, UNKNOWN):
        return state.write((*here, "zone"), zone)
    found = _FROM.fullmatch(plain)
    if not found:
        raise UnclearAnswer(
            f"'{plain[:40]}' is no place. Write '330 mm from bead', '190 mm from centreline', or a zone: "
            f"{', '.join(question.values)}."
        )
    bead, centreline, _ = TAPES
    return state.write((*here, bead if found["mark"].casefold() == "bead" else centreline), found["tape"])


def _check(state: Inspection, vocabulary: Vocabulary) -> None:
    """Raise UnclearAnswer for the first fault that the case form finds."""
    try:
        state.case(vocabulary)
    except ValidationError as error:
        document = Document("", dict(state.tree), {(): 1})
        fault = next(find_faults(error, document, case_model(vocabulary), vocabulary))
        words = fault.words[:1].upper() + fault.words[1:]
        raise UnclearAnswer(words) from None
