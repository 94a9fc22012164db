"""What a record holds, in words: entries in short, one in full, and whether the chain is whole."""

from collections.abc import Iterator, Sequence
from typing import Any

from rich.console import RenderableType

from mendbook.card.layout import STRONG, heading, labelled, stack, table
from mendbook.card.lettering import line, plain, sentence
from mendbook.record import Attachment, CureLog, Decision, FollowUp, Head, Line, Link, Verified

DIGITS = 12  # of a hash; the data has all


def listed(lines: Sequence[Line], width: int) -> RenderableType:
    """Return a row for each entry, for `width` [columns]."""
    if not lines:
        return line("Nothing of the kind is kept.")
    heads = ("No.", "Kept", "What", "Tyre", "Answer", "By")
    return table(heads, [_row(one) for one in lines], width)


def _row(one: Line) -> Sequence[str]:
    about = "" if one.about is None else f" on {one.about}"
    ended = "" if one.corrected_by is None else f", no longer counts: see {one.corrected_by}"
    stands = "" if one.corrects is None else f", for {one.corrects}"
    answer = ", ".join(dict.fromkeys(part for part in (one.outcome, one.verdict) if part))
    return (str(one.sequence), one.recorded[:10], f"{one.kind}{about}{stands}{ended}", one.tag, answer, one.person)


def shown(link: Link, short: Line, about: Sequence[Line], width: int) -> RenderableType:
    """Return one entry in full, and what is about it, for `width` [columns]."""
    entry = link.entry
    head = [
        ("Kept", line(f"{entry.recorded} by {plain(entry.by)}, mendbook {plain(entry.program)}")),
        ("Hash", line(link.hash)),
        ("Stands for", line("" if entry.corrects is None else f"entry {entry.corrects}")),
        ("Counts", line("" if short.corrected_by is None else f"no longer: see entry {short.corrected_by}")),
        *_said(entry),
        ("Note", line(entry.note)),
    ]
    parts = [line(f"Entry {link.sequence}: {entry.kind}", STRONG), labelled(_told(head), width)]
    if about:
        parts += [heading("About it"), listed(about, width)]
    return stack(*parts)


def _told(rows: Sequence[tuple[str, RenderableType]]) -> Iterator[tuple[str, RenderableType]]:
    return ((label, said) for label, said in rows if str(said))


def _said(entry: object) -> Iterator[tuple[str, RenderableType]]:
    if isinstance(entry, FollowUp):
        repair = f", repair {plain(entry.injury)}" if entry.injury else ""
        yield "Repair by", line(f"entry {entry.about}{repair}")
        yield "Seen", line(f"{entry.on}, after {entry.ran:g} {entry.unit}: {entry.state}")
        yield "Cause", line(entry.cause)
    elif isinstance(entry, Attachment | CureLog):
        yield "Belongs to", line(f"entry {entry.about}")
        yield "File", line(f"{entry.file.name}, {entry.file.size:,} bytes")
        yield "Its SHA-256", line(entry.file.sha256)
        if isinstance(entry, CureLog):
            yield "Cure", line(_cured(entry.state))
    elif isinstance(entry, Decision):
        docket = entry.docket
        tyre, book = docket.get("tyre") or {}, docket.get("rulebook") or {}
        yield "Case", line(str(docket.get("case", "")))
        yield "Tyre", line(", ".join(str(tyre[name]) for name in ("tag", "designation") if tyre.get(name)))
        yield "Answer", line(", ".join(str(docket[name]) for name in ("outcome", "verdict") if docket.get(name)))
        for one in docket.get("overruled") or ():
            yield "Overruled", line(f"{one.get('name')}, by {one.get('by')}, {one.get('on')}: {one.get('why')}", STRONG)
        yield "Why", line(sentence(str(docket.get("reason", ""))))
        yield "Judged", line(f"{docket.get('judged')} by mendbook {docket.get('mendbook')}, {docket.get('evaluator')}")
        yield "Rulebook", line(f"{book.get('edition')}, {book.get('date')}, {str(book.get('digest'))[:DIGITS]}")
        if own := book.get("own"):
            yield "Own book", line(f"{own.get('name')}, {own.get('edition')}, {str(own.get('digest'))[:DIGITS]}")
        yield "Skive", line(entry.stage + ("" if entry.about is None else f"; entry {entry.about} was before it"))
        yield "Case file", line("" if entry.case_file is None else f"{entry.case_file.name}, kept as it was written")


def _cured(state: dict[str, Any]) -> str:
    slowest = state.get("slowest") or {}
    faults = len(state.get("faults") or ())
    place = f"{slowest.get('depth_mm', 0):g} mm after {state.get('minutes_logged', 0):g} min"
    reached = f"{slowest.get('cure', 0):.2f} of t90 at {place}"
    return f"{state.get('phase')}: {reached}; {faults or 'no'} fault{'' if faults == 1 else 's'} found"


def told_verified(name: str, found: Verified, known: Head | None, width: int) -> RenderableType:
    """Return what the walk along the chain found, and what it cannot show, for `width` [columns]."""
    if found.broken is not None:
        whole = f"Entries 1 to {found.head.sequence} are whole." if found.entries else "No entry before it is whole."
        return stack(
            line(f"BROKEN at entry {found.broken.sequence}: {found.broken.says}.", STRONG),
            line(f"{whole} Compare with a copy made earlier; do not write to this one."),
        )
    if known is None:
        limit = (
            "A chain alone cannot show that entries are missing at its end, or that all of it was written anew. "
            "Write the head down elsewhere, and give it next time: --head."
        )
    else:
        limit = f"It goes on from the head written down: up to entry {known.sequence} nothing is missing or changed."
    rows = [("Record", line(name)), ("Entries", line(f"{found.entries}")), ("Head", line(str(found.head)))]
    return stack(line("Every entry is as it was kept.", STRONG), labelled(rows, width), line(limit))
