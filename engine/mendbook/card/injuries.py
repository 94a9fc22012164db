"""The injuries with their sizes beside what is allowed, and what would change the answer."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.layout import hanging, heading, stack, table
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.terms.answers import bracket_words, verdict_words
from mendbook.terms.docket import Change, Docket, InjuryVerdict

HEADS = ("Injury", "Zone", "Size", "Box allowed", "Of its limit", "Verdict")


def injuries(docket: Docket, width: int) -> RenderableType | None:
    """Return the table of injuries, None when there are none."""
    if not docket.injuries:
        return None
    return stack(heading("Injuries"), table(HEADS, [_row(injury) for injury in docket.injuries], width))


def _row(injury: InjuryVerdict) -> tuple[str | Text, ...]:
    return (
        short(injury.name, 20),
        plain(injury.zone),
        size_words(injury) or "not measured",
        plain(injury.box) or "none",
        Text("\n".join(share_words(injury)), overflow="fold"),
        injury_verdict_words(injury),
    )


def size_words(injury: InjuryVerdict) -> str:
    """Return length by width, with the unit once when both share it: '48 x 118 mm'."""
    length, width = plain(injury.length), plain(injury.width)
    number, _, unit = length.rpartition(" ")
    if unit and width.endswith(f" {unit}"):
        return f"{number} x {width}"
    return " x ".join(part for part in (length, width) if part)


def injury_verdict_words(injury: InjuryVerdict) -> str:
    """Return the verdict on an injury, or between which it lies, and from what it was overruled."""
    said = verdict_words(injury.verdict) if is_settled(injury) else bracket_words(injury.bracket or ("", ""))
    return f"{said}, overruled from {verdict_words(injury.overruled_from)}" if injury.overruled_from else said


def is_settled(injury: InjuryVerdict) -> bool:
    """Return whether its readings leave one verdict."""
    return injury.bracket is None or injury.bracket[0] == injury.bracket[1]


def share_words(injury: InjuryVerdict) -> Iterator[str]:
    """Yield each size and count as a share of its limit."""
    for name, share in injury.shares.items():
        measure = plain(name).removeprefix("share of ").removesuffix(" limit").removesuffix(" share")
        yield f"{measure} {plain(share)}"


def changes(docket: Docket) -> RenderableType | None:
    """Return what would give a milder verdict, None when nothing was asked."""
    told = [line(change_words(change)) for change in docket.would_change]
    if docket.nothing_to_change:
        told.append(line(sentence(docket.nothing_to_change)))
    if not told:
        return None
    return stack(heading("What would change it"), hanging([("-", text) for text in told]))


def change_words(change: Change) -> str:
    """Return a change that would give a milder verdict."""
    if change.says:
        return sentence(change.says)
    about = "" if change.about == "tyre" else f"{short(change.about, 30)}: "
    then, now = plain(change.then), plain(change.now)
    return f"{about}{plain(change.fact)} {then} instead of {now} gives {verdict_words(change.verdict)}."
