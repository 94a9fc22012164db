"""The list of sources: what each line of the rulebook rests on."""

from collections.abc import Sequence

from rich.console import RenderableType

from mendbook.card.layout import hanging, heading, stack
from mendbook.card.lettering import line
from mendbook.card.wording import KINDS
from mendbook.rulebook.cite import Cited, count_kinds


def citations(cited: Sequence[Cited], kinds: Sequence[str]) -> RenderableType:
    """Return the citations of some kinds, kind after kind, with the number of lines that each carries."""
    counts = count_kinds(tuple(cited))
    total = ", ".join(f"{KINDS[kind]} {number}" for kind, number in counts.items())
    parts: list[RenderableType] = [line(f"Lines and tables by the source that carries them: {total}.")]
    for kind in kinds:
        of_kind = [one for one in cited if one.kind == kind]
        if of_kind:
            parts += [heading(f"{KINDS[kind]}: {len(of_kind)}"), hanging([("-", _cited(one)) for one in of_kind])]
    return stack(*parts)


def _cited(one: Cited) -> RenderableType:
    beside = "" if one.is_first else " (beside another)"
    limit = f" where {one.limit}" if one.limit and one.limit != "otherwise" else " otherwise" if one.limit else ""
    return stack(
        line(f"{one.place}:{one.line}: {one.says}{limit}"),
        line(f"{one.source}, {one.passage}; {one.known}{beside}"),
        line("The shop's own.") if one.is_own and not one.looser else None,
        line(f"The shop's own, and looser than the shipped book. Approved by {one.looser}") if one.looser else None,
    )
