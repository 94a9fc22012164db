"""Short marks for injuries on a drawing: the name itself where it is short, else its number in the list."""

from collections.abc import Mapping, Sequence

from mendbook.card.lettering import plain
from mendbook.terms.tyre_map import Site

LONGEST = 3  # letters that fit beside a clock map


def marks_of(names: Sequence[str]) -> list[str]:
    """Return a mark for each of `names`, no two alike."""
    marks: list[str] = []
    for number, name in enumerate(names, 1):
        said = plain(name)
        fits = 0 < len(said) <= LONGEST and said not in marks and not said.startswith("#")
        marks.append(said if fits else f"#{number}")
    return marks


def site_marks(sites: Sequence[Site]) -> Mapping[str, str]:
    """Return the mark of each site by its key."""
    return dict(zip((site.key for site in sites), marks_of([site.name for site in sites]), strict=True))
