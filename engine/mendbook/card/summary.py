"""The top of the report: the answer in one word, why, how sure, and what to do next. Read in ten seconds."""

from collections.abc import Iterator, Mapping

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.clearing import clearing_words
from mendbook.card.layout import STRONG, labelled, numbered, stack
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.card.wording import BASES, OUTCOME_STYLES, PUBLISHED, UNREAD_BASES, listed, overrule_words
from mendbook.terms.answers import answer_words, bracket_words, verdict_words
from mendbook.terms.docket import Docket, Look, Outcome, OverruledReject, TyreNote

_IDLE_NEXT: Mapping[Outcome, str] = {
    "stop": "Then look at the tyre and ask again.",
    "reject": "Mark the casing as rejected, so that nobody fits it.",
    "hold": "Settle the readings that leave it open, and ask again.",
    "repair": "No look is missing. Work to the plan below.",
    "serve": "No look is missing. Record it and watch it.",
}


def summary(docket: Docket, width: int) -> RenderableType:
    """Return the first block of the report."""
    tyre = tyre_line(docket.tyre)
    word = line(docket.outcome.upper(), OUTCOME_STYLES[docket.outcome])
    answer = [(word, line(answer_said(docket), STRONG))]
    return stack(
        line(short(docket.case), STRONG),
        line(tyre) if tyre else None,
        Text(),
        labelled(answer, width, indent=0),
        Text(),
        labelled(_reasons(docket), width, indent=0),
    )


def tyre_line(tyre: TyreNote) -> str:
    """Return the tyre in one line, without what is not known."""
    known = (
        tyre.tag and f"tyre {tyre.tag}", tyre.designation, tyre.construction, tyre.casing,
        tyre.age, tyre.duty, tyre.position, tyre.use,
    )  # fmt: skip
    return ", ".join(short(text, 60) for text in known if text and text != "unknown")


def answer_said(docket: Docket) -> str:
    """Return what the outcome means for the tyre."""
    said = answer_words(docket.outcome, docket.verdict, docket.bracket)
    if docket.outcome == "reject":
        return _rejection(docket.uses) or said
    return said


def _one_or_more(steps: list[Text]) -> RenderableType:
    return steps[0] if len(steps) == 1 else numbered(steps, indent=0)


def _rejection(uses: Mapping[str, str | None]) -> str:
    """Return for which use it is rejected, '' where it is for all."""
    rejected = [plain(use) for use, verdict in uses.items() if verdict == "reject"]
    if rejected and len(rejected) < len(uses):
        return f"Not for {listed(rejected)} use."
    return ""


def _reasons(docket: Docket) -> Iterator[tuple[str, RenderableType]]:
    yield "Why", sentence(why_words(docket))
    yield "Overruled", _overruled(docket)
    yield "Basis", basis_words(docket)
    yield "Own book", own_book_words(docket)
    if docket.outcome != "stop":
        yield "How sure", certainty_words(docket)
        yield "By use", use_words(docket.uses)
    yield "What next", _one_or_more([line(told) for told in next_step_words(docket)])


def why_words(docket: Docket) -> str:
    """Return the sentence that decided; on a stop, why it stops, for the stop itself stands under what next."""
    stopping = [finding.because for finding in docket.findings if "stop" in finding.says]
    return stopping[0] if docket.outcome == "stop" and stopping else docket.reason


def basis_words(docket: Docket) -> str:
    """Return what kind of source decided, and who may overrule it."""
    said = " ".join([BASES.get(docket.basis, sentence(docket.basis)), *_unread(docket)])
    if docket.outcome == "reject" and docket.basis not in ("", "law"):
        may_be = "Only a named person may overrule it, with a written reason."
        return f"{said} {may_be if docket.may_be_overruled else 'It cannot be overruled.'}"
    if docket.outcome == "stop" and docket.basis != "law":
        return f"{said} A stop cannot be waived."
    return said


def _overruled(docket: Docket) -> RenderableType:
    """Return each reject that was overruled in a line; '' without one."""
    return stack(*(line(told, STRONG) for told in overruled_words(docket))) if docket.overruled else ""


def overruled_words(docket: Docket) -> Iterator[str]:
    """Yield of each reject that was overruled where it stood, by whom, when and why."""
    was = verdict_words(docket.overruled_from)
    yield from (f"From {was}, {_of(one)} {overrule_words(one)}" for one in docket.overruled)


def _of(reject: OverruledReject) -> str:
    about = "" if reject.about == "tyre" else f"{short(reject.about, 30)}, "
    return f"{about}{plain(reject.name)} ({plain(reject.rule)}),"


def _unread(docket: Docket) -> Iterator[str]:
    """Yield that the text that decided was not read here, where it is a published one."""
    if docket.basis in PUBLISHED:
        yield from (said for mark, said in UNREAD_BASES.items() if mark in docket.basis_known)


def own_book_words(docket: Docket) -> str:
    """Return by whose own book it was judged and in how many places that one is looser; '' without one."""
    own = docket.rulebook.own
    if own is None:
        return ""
    looser = len(own.looser)
    said = "nowhere looser" if not looser else f"looser in {looser} place{'' if looser == 1 else 's'}; see Record"
    return f"{short(own.name, 60)}, {short(own.edition, 30)}, laid over the shipped book: {said}."


def certainty_words(docket: Docket) -> str:
    """Return whether the readings leave the answer open."""
    if docket.decided:
        return "Decided: the good and the bad end of every reading give the same answer."
    if docket.bracket is None or docket.bracket[0] == docket.bracket[1]:
        return "Open."
    return sentence(bracket_words(docket.bracket))


def use_words(uses: Mapping[str, str | None]) -> str:
    """Return the verdict for each use, '' where they are alike."""
    judged = {plain(use): verdict_words(verdict) for use, verdict in uses.items() if verdict is not None}
    if len(set(judged.values())) < 2:
        return ""
    return sentence("; ".join(f"{use}: {verdict}" for use, verdict in judged.items()))


def next_step_words(docket: Docket) -> Iterator[str]:
    """Yield what to do next, people first."""
    yield from (f"Stop. {sentence(stop)}" for stop in docket.stops)
    lacks = lack_words(docket)
    yield from (sentence(f"The plan is not complete: {lack}") for lack in lacks)
    if lacks:
        yield "Do not begin the work. Get what 'Missing' in the plan names, write it into the case, and ask again."
    kept = () if docket.outcome == "reject" else docket.holds
    holds = [hold for hold in kept if not hold.endswith(lacks)]  # a lack holds the tyre too, and is told already
    yield from (f"Hold. {sentence(hold)} {clearing_words(docket.findings, hold)}".strip() for hold in holds)
    yield from (look_words(look) for look in docket.measure_next)
    if not (lacks or holds or docket.measure_next):
        yield _IDLE_NEXT[docket.outcome]
    yield from _before_work(docket)


def lack_words(docket: Docket) -> tuple[str, ...]:
    """Return what the plan lacks, each once, as it stands under 'Missing'."""
    repairs = docket.plan.repairs if docket.plan else ()
    return tuple(dict.fromkeys(lack for repair in repairs for lack in repair.not_served))


def _before_work(docket: Docket) -> Iterator[str]:
    """Yield what the plan itself says against starting."""
    repairs = docket.plan.repairs if docket.plan else ()
    if any(repair.method is None and repair.verdict in ("reinforce", "section") for repair in repairs):
        yield "Stop before the work: every process is ruled out for one of the repairs. See its plan."
    sheets = (docket.cure, *(sheet for repair in repairs for sheet in (repair.cure, repair.second_cure)))
    if any(sheet.warnings for sheet in sheets if sheet):
        yield "Read the warnings of the cure before switching on."


def look_words(look: Look) -> str:
    """Return what to settle, how, and why it matters."""
    what = plain(look.fact) if look.about == "tyre" else f"{plain(look.fact)} of {short(look.about, 30)}"
    how = f": {plain(look.how)}" if look.how else ""
    return f"Settle {what}{how}. {sentence(look.why)}".strip()
