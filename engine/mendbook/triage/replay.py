"""A docket judged again: the case it holds, under the same law, on the same day, by the book at hand."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from mendbook.terms.case import Case
from mendbook.terms.case_file import check_case
from mendbook.terms.docket import Docket
from mendbook.terms.document import Document
from mendbook.triage.judgement import judge
from mendbook.triage.overruling import OverruleRefusedError
from mendbook.triage.ownership import book_note
from mendbook.triage.shop import Shop

PLACE = "the case in the docket"
NOTHING = "nothing"
# What is told in words when it differs; of the rest only that it does.
TOLD = ("mendbook", "evaluator", "outcome", "verdict", "bracket", "uses", "stops", "holds", "basis", "reason")


class UnreplayableError(ValueError):
    """A docket that holds no case, or does not say when and under which law it was judged."""


@dataclass(frozen=True)
class Difference:
    """One thing that came out otherwise. Both sides are empty where it is too long to tell."""

    what: str
    then: str = ""
    now: str = ""


@dataclass(frozen=True)
class Replay:
    """The docket judged anew, and what differs from the one that was given."""

    docket: Docket
    is_same_book: bool
    differences: tuple[Difference, ...]


def replay(docket: Docket, shop: Shop) -> Replay:
    """Judge the case that `docket` holds as it was judged then: same law, same day and hour, by the book of `shop`.

    By the same book and program the new docket is the old one, byte for byte. What a person overruled then and
    another book does not take is left out, and told among the differences.
    Raises UnreplayableError, CaseError when this book's vocabulary cannot read the case, and what `judge` raises.
    """
    try:
        stamp = datetime.fromisoformat(docket.judged)
    except ValueError:
        raise UnreplayableError(
            f"judged: '{docket.judged[:40]}' is no time. Replay the docket as it was printed."
        ) from None
    laws = shop.book.vocabulary["law"].values
    if docket.law not in laws:
        raise UnreplayableError(f"law: '{docket.law[:40]}' is not known here. The book knows {', '.join(laws)}.")
    case, refused = written_case(docket, shop), ""
    is_same_book = book_note(shop.book) == docket.rulebook
    try:
        anew = judge(case, shop, law=docket.law, now=stamp)
    except OverruleRefusedError as error:
        if is_same_book:
            raise
        # By another book the reject may be gone, or nobody's to let go: the answer is then that book's own.
        anew = judge(case.without_overrules(), shop, law=docket.law, now=stamp)
        refused = str(error)
    told = [Difference("overrule", "taken", f"not taken: {refused}")] if refused else []
    return Replay(anew, is_same_book, (*told, *differences(docket, anew)))


def written_case(docket: Docket, shop: Shop) -> Case:
    """Return the case that `docket` holds. Raises UnreplayableError or CaseError."""
    if not docket.written:
        raise UnreplayableError("written: the docket does not hold its case. Judge the case file again instead.")
    return check_case(Document(PLACE, _as_text(docket.written), {(): 1}), shop.book.vocabulary)


def deciding_rule(docket: Docket) -> str:
    """Return the id of the rule that decided, or of the first that says stop; '' when none did."""
    speaking = (f for f in docket.findings if docket.verdict is None or f.counts_as == docket.verdict)
    return next((f.rule for f in speaking if docket.reason.endswith(f.because)), "")


def differences(then: Docket, now: Docket) -> Iterator[Difference]:
    """Yield what differs between two dockets of one case, the answer first; the book's own name is not told."""
    for name in TOLD:
        before, after = getattr(then, name), getattr(now, name)
        if before == after:
            continue
        if name in ("stops", "holds"):
            before, after = _without(before, after), _without(after, before)
        yield Difference(name, _spell(before), _spell(after))
    if deciding_rule(then) != deciding_rule(now):
        yield Difference("deciding rule", deciding_rule(then) or NOTHING, deciding_rule(now) or NOTHING)
    for name in Docket.model_fields:
        if name not in (*TOLD, "rulebook", "judged") and getattr(then, name) != getattr(now, name):
            yield Difference(name.replace("_", " "))


def _without(some: Sequence[str], others: Sequence[str]) -> tuple[str, ...]:
    return tuple(one for one in some if one not in others)


def _spell(value: object) -> str:
    if isinstance(value, dict):
        return ", ".join(f"{name} {_spell(part)}" for name, part in value.items()) or NOTHING
    if isinstance(value, tuple):
        return " and ".join(map(str, dict.fromkeys(value))) or NOTHING
    return str(value or NOTHING)


def _as_text(part: Any) -> Any:
    """Return a part of the case as a file gives it, where every figure is text."""
    if isinstance(part, dict):
        return {name: _as_text(inner) for name, inner in part.items()}
    return [_as_text(inner) for inner in part] if isinstance(part, list | tuple) else str(part)
