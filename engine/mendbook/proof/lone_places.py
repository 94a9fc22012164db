"""The places cited in a source that lists none: one that is cited once, a letter beside another, is a slip."""

from collections import Counter, defaultdict
from collections.abc import Iterator
from itertools import takewhile

from mendbook.rulebook.book import Rulebook


def find_lone_places(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each place that is cited once and is another but for one letter.

    Where a source lists its places, the reader compares each citation with the list; here the citations are
    compared with each other.
    """
    cited: defaultdict[str, Counter[str]] = defaultdict(Counter)
    first: dict[tuple[str, str], str] = {}
    for where, source, place in _citations(book):
        if book.sources[source].places is None:
            cited[source][place] += 1
            first.setdefault((source, place), where)
    for source, places in cited.items():
        for place in (one for one, number in places.items() if number == 1):
            if near := next((other for other in places if is_one_slip(place, other)), None):
                yield (
                    f"{first[source, place]}: '{source}, {place}' is cited here alone, '{source}, {near}' elsewhere. "
                    "Write one place one way."
                )


def is_one_slip(one: str, other: str) -> bool:
    """Return whether two texts differ by one letter left out, put in or changed, or by two that changed places."""
    start = _shared(one, other)
    one, other = one[start:], other[start:]
    end = _shared(one[::-1], other[::-1])
    one, other = one[: len(one) - end], other[: len(other) - end]
    return one != other and (max(len(one), len(other)) == 1 or (len(one) == 2 and one == other[::-1]))


def _shared(one: str, other: str) -> int:
    """Return how many letters the beginnings of two texts share."""
    return sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], zip(one, other, strict=False)))


def _citations(book: Rulebook) -> Iterator[tuple[str, str, str]]:
    for rule in book.rules:
        for line in rule.lines:
            for citation in line.sources:
                yield f"{rule.file}:{line.at}", citation.source, citation.place
    for table in book.tables:
        yield f"{table.file}:1", table.source.source, table.source.place
