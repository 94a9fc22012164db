"""A case that comes out otherwise: what changed in its answer, and the findings that turned it."""

from collections.abc import Iterator, Sequence

from rich.console import RenderableType

from mendbook.card.findings import decides
from mendbook.card.layout import STRONG, stack
from mendbook.card.lettering import line, plain, sentence
from mendbook.card.wording import sources_words
from mendbook.terms.docket import Finding
from mendbook.triage.flips import Flip

FEW = 3  # findings that are shown; the data has all


def flipped_case(flip: Flip) -> RenderableType:
    """Return what is otherwise in the answer of one case, and why."""
    parts: list[RenderableType] = [line(plain(flip.case), STRONG)]
    for what in ("outcome", "verdict", "bracket"):
        before, after = getattr(flip.then, what), getattr(flip.now, what)
        if before != after:
            parts.append(line(f"{what} {before or 'none'} -> {after or 'none'}"))
    for use in dict.fromkeys((*flip.then.uses, *flip.now.uses)):
        before, after = flip.then.uses.get(use, "none"), flip.now.uses.get(use, "none")
        if before != after:
            parts.append(line(f"{plain(use)}: {before} -> {after}"))
        parts += _coming(f"{plain(use)}: hold", flip.then.holds.get(use, ()), flip.now.holds.get(use, ()))
    parts += _coming("stop", flip.then.stops, flip.now.stops)
    gone, come = ([f for f in found if decides(f)][:FEW] for found in (flip.gone, flip.come))
    parts += [line(_why("no longer", finding)) for finding in gone]
    parts += [line(_why("now", finding)) for finding in come]
    more = len(flip.gone) + len(flip.come) - len(gone) - len(come)
    if more:
        parts.append(line(f"And {more} more finding{'' if more == 1 else 's'} that differ{'s' if more == 1 else ''}."))
    return stack(*parts)


def _coming(what: str, then: Sequence[str], now: Sequence[str]) -> Iterator[RenderableType]:
    yield from (line(f"{what} gone: {sentence(one)}") for one in then if one not in now)
    yield from (line(f"{what} new: {sentence(one)}") for one in now if one not in then)


def _why(when: str, finding: Finding) -> str:
    said = finding.verdict or ", ".join(finding.says)
    bounds = "; ".join(f"{plain(fact)} {plain(bound)}" for fact, bound in finding.limit.items())
    limit = f" Bounds: {bounds}." if bounds else ""
    rests = f"{sources_words(finding.sources)}, " if finding.sources else ""
    place = f"{rests}{plain(finding.rule)}:{finding.line}"
    return f"{when} {said}, {plain(finding.about)}: {sentence(finding.because)}{limit} ({place})"
