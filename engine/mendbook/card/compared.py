"""What changed from one rulebook to another, and which cases come out otherwise, in words that a foreman reads."""

import re
from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby

from rich.console import RenderableType

from mendbook.audit.changes import Changed, Item, Region, Way
from mendbook.card.flips import flipped_case
from mendbook.card.layout import STRONG, hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain, verbatim
from mendbook.triage.flips import Flip

FEW = 3  # regions of one rule, and findings of one case, that are shown; the data has all
NOTHING = "nothing"
_MEASURE = re.compile(r"\d (\D\S*)$")  # a number with its unit, which is said once
TITLES = {"cover page": "Cover page", "rule": "Rules", "table": "Limits", "fact": "Facts", "source": "Sources"}
MOVED = {Way.STRICTER: "It now says", Way.LOOSER: "It no longer says"}


def compared(
    books: tuple[str, str],
    changes: Sequence[Changed],
    width: int,
    *,
    flips: Sequence[Flip] | None = None,
    unanswered: Sequence[str] = (),
) -> RenderableType:
    """Return what changed between two books, for `width` [columns].

    `flips` are the cases that were judged by both, None when none was asked for; `unanswered` is what keeps the new
    book from being judged by yet.
    """
    parts: list[RenderableType] = [labelled([("Old", line(books[0])), ("New", line(books[1]))], width, indent=0)]
    if not changes:
        parts += [line("No change: the two books decide and read alike.")]
    for kind, group in groupby(changes, key=lambda changed: changed.kind):
        parts += [heading(TITLES[kind]), hanging([("-", _changed(changed)) for changed in group])]
    if unanswered:
        parts += [
            heading("Not to be judged by until this is settled"),
            hanging([("-", line(fault)) for fault in unanswered]),
        ]
    if flips is not None:
        parts.append(_cases(flips))
    return stack(*parts)


def _changed(changed: Changed) -> RenderableType:
    name = f" ({plain(changed.name)})" if changed.name not in ("", changed.place) else ""
    parts: list[RenderableType] = [line(f"{plain(changed.place)}{name}", STRONG)]
    parts += [line(item_words(item)) for item in changed.items]
    for way in MOVED:
        regions = [region for region in changed.regions if region.way is way]
        parts += [*_regions(way, regions)]
    parts += [part for region in changed.regions if region.way is Way.NEITHER for part in _flipping(region)]
    return stack(*parts)


def item_words(item: Item) -> str:
    """Return one item as a line: `upper sidewall, W6: table width 150 -> 140 mm, stricter`."""
    about = f"{plain(item.about)}: " if item.about else ""
    way = "" if item.way is Way.NEITHER else f", {item.way}"
    if item.what in ("added", "withdrawn"):
        return f"{about}{item.what}{way}: {plain(item.now or item.then)}"
    then, now = plain(item.then) or NOTHING, plain(item.now) or NOTHING
    units = [_MEASURE.search(said) for said in (then, now)]
    if units[0] and units[1] and units[0][1] == units[1][1]:
        then = then.removesuffix(f" {units[0][1]}")
    return f"{about}{plain(item.what)} {then} -> {now}{way or _reworded(item)}"


def _reworded(item: Item) -> str:
    return " (reworded)" if item.then.endswith(".") and item.now.endswith(".") else ""


def _flipping(region: Region) -> Iterator[RenderableType]:
    yield line(f"A case that comes out otherwise at {plain(region.where)}:")
    yield verbatim(region.case)


def _regions(way: Way, regions: Sequence[Region]) -> Iterator[RenderableType]:
    for region in regions[:FEW]:
        yield line(f"{MOVED[way]} {' and '.join(map(plain, region.says))} for {plain(region.where)}.")
        if region.case:
            yield line("A case there that comes out otherwise:")
            yield verbatim(region.case)
    if len(regions) > FEW:
        yield line(f"And in {len(regions) - FEW} more regions.")


def _cases(flips: Sequence[Flip]) -> RenderableType:
    flipped = [flip for flip in flips if flip.is_flipped]
    others = [flip for flip in flips if not flip.is_flipped]
    quiet = sum(bool(flip.gone or flip.come) for flip in others)
    said = f"{len(flips)} judged by both, {len(flipped)} with another answer"
    said += f", {quiet} with the same answer for other reasons." if quiet else "."
    return stack(heading("Cases"), line(said), hanging([("-", flipped_case(flip)) for flip in flipped]))


def unanswered_words(faults: Iterable[str]) -> list[str]:
    """Return faults of an own book on one line each."""
    return [" ".join(fault.split()) for fault in faults]
