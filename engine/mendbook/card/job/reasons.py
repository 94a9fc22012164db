"""Why it was decided so, and by which book: the part of a paper that an auditor reads."""

from collections.abc import Iterator

from mendbook.card.findings import about_words, bound_words, reading_words, weigh
from mendbook.card.job.blocks import Block, Pairs, Part, Points, Text
from mendbook.card.lettering import plain, sentence, short
from mendbook.card.summary import basis_words, certainty_words, overruled_words, own_book_words, use_words, why_words
from mendbook.card.wording import approval_words, saying_words, sources_words
from mendbook.terms.docket import Docket, Finding

DIGITS = 16  # of the rulebook's digest
MOST = 8  # findings that are told in full


def reasons(docket: Docket) -> Part:
    """Return what decided, with its sources, and how sure it is."""
    blocks: list[Block] = [Text(sentence(why_words(docket)), strong=True)]
    rows = [("Basis", basis_words(docket)), *(("Overruled", told) for told in overruled_words(docket))]
    if docket.outcome != "stop":
        rows += [("How sure", certainty_words(docket)), ("By use", use_words(docket.uses)), ("Worth", _worth(docket))]
    blocks.append(Pairs(tuple((label, said) for label, said in rows if said)))
    spoken, silent = weigh(docket.findings)
    spoken = spoken or silent
    if docket.outcome == "reject":
        spoken = [finding for finding in spoken if finding.verdict == "reject"]
    told = [said for finding in spoken[:MOST] if (said := _finding(finding, why_words(docket)))]
    if len(spoken) > MOST:
        told.append(f"{len(spoken) - MOST} further findings stand in the report.")
    if told:
        blocks.append(Points(tuple(told)))
    return Part("Why", tuple(blocks))


def _finding(finding: Finding, told: str) -> str:
    """Return a finding in a paragraph; the sentence that is `told` already is not told again."""
    where = f", {plain(finding.zone)}" if finding.zone else ""
    head = f"{about_words(finding)}{where}: {saying_words(finding)}{reading_words(finding)}."
    # What a stop or a hold asks for stands under what to do.
    because = "" if finding.because.rstrip(".") in told else sentence(finding.because)
    return " ".join(filter(None, (head, because, bound_words(finding), f"Source: {sources_words(finding.sources)}.")))


def _worth(docket: Docket) -> str:
    """Return what the repair is worth in the first sentence of the sum, and why it does not count, when so."""
    worth = docket.worth
    if worth is None:
        return ""
    return " ".join(sentence(said) for said in (worth.answer.partition(". ")[0], worth.held, worth.struck) if said)


def book(docket: Docket) -> Part:
    """Return which rulebook and program judged, and when."""
    return Part("Record", (Pairs(tuple(_book(docket))),))


def _book(docket: Docket) -> Iterator[tuple[str, str]]:
    used = docket.rulebook
    yield "Judged", f"{plain(docket.judged)} by mendbook {plain(docket.mendbook)}, {plain(docket.evaluator)}"
    yield "Rulebook", f"{plain(used.edition)}, {plain(used.date)}, digest {plain(used.digest)[:DIGITS]}"
    yield "Owner", plain(used.owner)
    if used.own is not None:
        own = used.own
        yield "Own book", f"{own_book_words(docket)} Digest {plain(own.digest)[:DIGITS]}. Owner: {short(own.owner)}."
        yield from (("Looser", f"{plain(one.place)}: {approval_words(one)}") for one in own.looser)
    yield "Road law", plain(docket.law)
    if docket.assumed:
        yield "Assumed", f"{len(docket.assumed)} facts that the case leaves out; the report lists them."
