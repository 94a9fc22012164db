"""Short marks for injuries on a drawing: the name itself where it is short, else its number in the list."""

from collections.abc import Mapping, Sequence

from mendbook.card.lettering import plain

LONGEST = 3  # letters that fit beside a clock map


def marks_of(names: Sequence[str]) -> Mapping[str, str]:
    """Return a mark for each of `names`, no two alike."""
    marks: dict[str, str] = {}
    for number, name in enumerate(names, 1):
        said = plain(name)
        fits = 0 < len(said) <= LONGEST and said not in marks.values() and not said.startswith("#")
        marks[name] = said if fits else f"#{number}"
    return marks
