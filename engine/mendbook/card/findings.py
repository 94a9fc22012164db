"""What the rules said, with their sources; what was assumed; cautions."""

from collections.abc import Iterable, Sequence

from rich.console import RenderableType

from mendbook.card.layout import QUIET, STRONG, hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.card.wording import STANDING, VERDICTS, listed, saying_words, sources_words
from mendbook.terms.docket import BookNote, Docket, Finding

_WEIGHT = ("stop", "hold", *reversed(tuple(VERDICTS)), "rule out", "cap", "do", "caution")
_READINGS = {"good": "good", "as read": "middle", "bad": "bad"}


def findings(docket: Docket) -> RenderableType | None:
    """Return every finding, weightiest first; those that leave the tyre as it is share one line."""
    spoken = [finding for finding in docket.findings if not _is_mild(finding)]
    silent = [finding for finding in docket.findings if _is_mild(finding)]
    if not docket.findings:
        return None
    items = [("-", _finding(finding)) for finding in sorted(spoken, key=_weight)]
    if silent:
        items.append(("-", _passed(silent)))
    return stack(heading("Findings"), hanging(items))


def _is_mild(finding: Finding) -> bool:
    return finding.says == ("verdict",) and finding.verdict == "leave"


def _weight(finding: Finding) -> int:
    said = (*finding.says, finding.verdict)
    return min((_WEIGHT.index(word) for word in said if word in _WEIGHT), default=len(_WEIGHT))


def _finding(finding: Finding) -> RenderableType:
    about = "tyre" if finding.about == "tyre" else short(finding.about, 30)
    where = f", {plain(finding.zone)}" if finding.zone else ""
    only = _only(finding)
    parts = [line(f"{about}{where}: {saying_words(finding)}{only}", STRONG)]
    if finding.text:
        parts.append(line(sentence(finding.text)))
    parts.append(line(sentence(finding.because)))
    if room := _room(finding):
        parts.append(line(room))
    parts.append(
        line(
            f"{sources_words(finding.sources)} · {plain(finding.name)}, {plain(finding.rule)}:{finding.line}",
            QUIET,
        )
    )
    return stack(*parts)


def _only(finding: Finding) -> str:
    """Return which readings make it speak, when not all of them do."""
    speaking = [_READINGS.get(name, name) for name, speaks in finding.readings.items() if speaks]
    if not speaking or len(speaking) == len(finding.readings):
        return ""
    return f" (only at the {listed(speaking)} reading)"


def _room(finding: Finding) -> str:
    told = []
    for fact, bound in finding.limit.items():
        margin = finding.margin.get(fact)
        spare = "" if margin is None else f" ({abs(margin):.4g} {'past it' if margin < 0 else 'to spare'})"
        told.append(f"{plain(fact)} {plain(bound)}{spare}")
    return sentence(f"limit: {'; '.join(told)}") if told else ""


def _passed(silent: Sequence[Finding]) -> RenderableType:
    names = dict.fromkeys(plain(finding.name) for finding in silent)
    return line(f"Nothing to object: {', '.join(names)}.")


def assumed(docket: Docket) -> RenderableType | None:
    """Return what the case leaves out and how it was read, None when it leaves out nothing."""
    if not docket.assumed:
        return None
    facts: dict[str, list[str]] = {}
    for fact, value in docket.assumed.items():
        facts.setdefault(plain(value), []).append(plain(fact))
    rows = [("-", line(f"{value}: {', '.join(names)}")) for value, names in facts.items()]
    return stack(heading("Assumed, since the case does not say"), hanging(rows))


def cautions(told: Iterable[str]) -> RenderableType:
    """Return the cautions; the standing ones when none are given, so that no report goes without."""
    sentences = [sentence(caution) for caution in told] or list(STANDING)
    return stack(heading("Cautions"), hanging([("-", line(caution)) for caution in dict.fromkeys(sentences)]))


def imprint(docket: Docket, width: int) -> RenderableType:
    """Return which program and rulebook judged, and when."""
    book: BookNote = docket.rulebook
    rows = [
        ("Judged", f"{plain(docket.judged)} by mendbook {plain(docket.mendbook)}, {plain(docket.evaluator)}"),
        ("Rulebook", f"{plain(book.edition)}, {plain(book.date)}, {plain(book.digest)[:12]}"),
        ("Owner", plain(book.owner)),
        ("Road law", plain(docket.law)),
    ]
    return stack(heading("Record"), labelled(rows, width))
