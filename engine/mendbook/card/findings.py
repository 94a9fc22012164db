"""What the rules said, with their sources: first what decided, then what stands behind the plan."""

from collections.abc import Iterable, Sequence

from rich.console import RenderableType

from mendbook.card.layout import QUIET, STRONG, hanging, heading, stack
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.card.wording import approval_words, listed, overrule_words, saying_words, sources_words
from mendbook.terms.answers import VERDICTS, verdict_words
from mendbook.terms.docket import Docket, Finding

DECIDING = ("stop", "hold", "verdict")
BEHIND_THE_PLAN = {
    "rule out": "Why a method is ruled out",
    "cap": "Why a limit is set",
    "do": "Why a step is added",
    "caution": "What to mind",
}

_WEIGHT = ("stop", "hold", *reversed(tuple(VERDICTS)))
_READINGS = {"good": "good", "as read": "middle", "bad": "bad"}


def findings(docket: Docket) -> RenderableType | None:
    """Return the findings that decide, weightiest first; those that object to nothing share one line."""
    spoken, silent = weigh(docket.findings)
    items: list[tuple[str, RenderableType]] = [("-", _finding(finding)) for finding in spoken]
    if silent:
        names = dict.fromkeys(plain(finding.name) for finding in silent)
        items.append(("-", line(f"Nothing to object: {', '.join(names)}.")))
    return stack(heading("Findings"), hanging(items)) if items else None


def reasons_of_the_plan(docket: Docket) -> RenderableType | None:
    """Return why methods are ruled out, limits set and steps added; each reason once for all injuries."""
    others = [finding for finding in docket.findings if not decides(finding)]
    is_one = len(docket.injuries) == 1
    parts: list[RenderableType] = []
    for saying, title in BEHIND_THE_PLAN.items():
        alike: dict[tuple[str, int, str], list[Finding]] = {}
        for finding in others:
            if next((word for word in BEHIND_THE_PLAN if word in finding.says), "caution") == saying:
                alike.setdefault((finding.rule, finding.line, finding.because), []).append(finding)
        if alike:
            parts += [heading(title), hanging([("-", _reason(group, is_one)) for group in alike.values()])]
    return stack(*parts) if parts else None


def weigh(findings: Iterable[Finding]) -> tuple[list[Finding], list[Finding]]:
    """Return the findings that decide, weightiest first, and those that could have decided and object to nothing."""
    deciding = [finding for finding in findings if decides(finding)]
    silent = [finding for finding in deciding if _objects_to_nothing(finding)]
    return sorted((finding for finding in deciding if finding not in silent), key=_weight), silent


def decides(finding: Finding) -> bool:
    """Return whether a finding can decide, rather than stand behind the plan."""
    return any(word in finding.says for word in DECIDING)


def _objects_to_nothing(finding: Finding) -> bool:
    return finding.says == ("verdict",) and finding.verdict == "leave"


def _weight(finding: Finding) -> int:
    said = (*finding.says, finding.verdict)
    return min((_WEIGHT.index(word) for word in said if word in _WEIGHT), default=len(_WEIGHT))


def _finding(finding: Finding) -> RenderableType:
    where = f", {plain(finding.zone)}" if finding.zone else ""
    parts = [line(f"{about_words(finding)}{where}: {saying_words(finding)}{reading_words(finding)}", STRONG)]
    if finding.overruled is not None:
        counts = f"It counts as {verdict_words(finding.overruled.counts_as)}"
        parts.append(line(f"{sentence(overrule_words(finding.overruled))} {counts}.", STRONG))
    parts += [line(sentence(text)) for text in (finding.text, finding.because) if text]
    if bounds := bound_words(finding):
        parts.append(line(bounds))
    return stack(*parts, _origin(finding))


def _reason(alike: Sequence[Finding], is_one: bool) -> RenderableType:
    """Return a reason, with the injuries it is about where there are several."""
    names = "" if is_one else listed(about_words(finding) for finding in alike if finding.about != "tyre")
    return stack(line(f"{f'{names}: ' if names else ''}{sentence(alike[0].because)}"), _origin(alike[0]))


def about_words(finding: Finding) -> str:
    """Return what a finding is about: the tyre, or an injury by its name."""
    return "tyre" if finding.about == "tyre" else short(finding.about, 30)


def _origin(finding: Finding) -> RenderableType:
    """Return the sources, and the place in the rulebook.

    A shop's own rule says so, a reject whether it may be overruled, and what is looser who answers.
    """
    whose = ", the shop's own" if finding.own else ""
    is_open = finding.may_be_overruled and finding.overruled is None and finding.readings.get("good", False)
    place = f"{plain(finding.rule)}:{finding.line}{whose}{' (may be overruled)' if is_open else ''}"
    told = line(f"{sources_words(finding.sources)} · {place}" if finding.sources else place, QUIET)
    looser = (f"Looser than the shipped book, {plain(one.place)}: {approval_words(one)}" for one in finding.looser)
    return stack(told, *map(line, looser))


def reading_words(finding: Finding) -> str:
    """Return at which readings it speaks, when not at all of them."""
    speaking = [_READINGS.get(name, name) for name, speaks in finding.readings.items() if speaks]
    if not speaking or len(speaking) == len(finding.readings):
        return ""
    return f" (at the {listed(speaking)} reading{'s' if len(speaking) > 1 else ''})"


def bound_words(finding: Finding) -> str:
    """Return the bounds of the line, and how far inside or outside each the reading lies."""
    told = []
    for fact, bound in finding.limit.items():
        margin = finding.margin.get(fact)
        room = "" if margin is None else f" ({abs(margin):.3g} {'outside' if margin < 0 else 'inside'})"
        told.append(f"{plain(fact)} {plain(bound)}{room}")
    return f"Bounds: {'; '.join(told)}." if told else ""


def cautions(told: Iterable[str]) -> RenderableType:
    """Return the cautions, each once."""
    sentences = dict.fromkeys(sentence(caution) for caution in told)
    return stack(heading("Cautions"), hanging([("-", line(caution)) for caution in sentences]))
