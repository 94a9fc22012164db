"""What the numbers of the limit tables can mean at all: a factor that shrinks is at most one, zones follow each other.

The bounds follow from how the derivations use the numbers, not from anybody's choice of limits.
"""

from collections.abc import Iterator, Mapping
from itertools import pairwise

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import LimitTable

_SHRINKS, _GROWS, _SHARE = (0.0, 1.0), (1.0, 3.0), (0.0, 1.0)
RANGES: Mapping[str, tuple[float, float]] = {
    **dict.fromkeys(
        ("age factor", "ambient factor", "duty factor", "few plies factor", "tkph factor", "factor floor"), _SHRINKS
    ),
    **dict.fromkeys(("relief factor", "rubber box"), _GROWS),
    **dict.fromkeys(
        (
            "area share", "bead share", "belt edge share", "crown edge share", "extra share", "lower sidewall share",
            "shoulder share", "tread width share", "upper sidewall share",
        ),
        _SHARE,
    ),
}  # fmt: skip
# Of two numbers in one cell the first is never the larger.
RISING = (
    ("sidewall low", "sidewall high"), ("shoulder low", "shoulder high"), ("crown low", "crown high"),
    ("reinforcement low", "reinforcement high"), ("bead share", "lower sidewall share"),
    ("lower sidewall share", "upper sidewall share"), ("crown edge share", "shoulder share"),
    ("sidewall repairs allowed", "section repairs allowed"), ("section repairs allowed", "all repairs allowed"),
)  # fmt: skip


def find_senseless_numbers(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each number of a table that can mean nothing where it is used."""
    for table in book.tables:
        yield from _out_of_range(table)
        yield from _falling(table)
        if "class from" in table.gives:
            yield from _classes(table)


def _out_of_range(table: LimitTable) -> Iterator[str]:
    for row in table.rows:
        for name, number in zip(table.gives, row.numbers, strict=True):
            low, high = RANGES.get(name, (0.0, float("inf")))
            if not low <= number <= high:
                most = "" if high == float("inf") else f" and at most {high:g}"
                yield f"{table.file}:{row.at}: '{name}' is at least {low:g}{most}, and {number:g} stands here."


def _falling(table: LimitTable) -> Iterator[str]:
    for lower, upper in RISING:
        if lower in table.gives and upper in table.gives:
            first, second = table.gives.index(lower), table.gives.index(upper)
            for row in table.rows:
                if row.numbers[first] > row.numbers[second]:
                    yield (
                        f"{table.file}:{row.at}: '{lower}' is {row.numbers[first]:g}, above '{upper}' with "
                        f"{row.numbers[second]:g}. Correct one of them."
                    )


def _classes(table: LimitTable) -> Iterator[str]:
    for above, row in pairwise(table.rows):
        if row.numbers[0] <= above.numbers[0]:
            yield f"{table.file}:{row.at}: this class begins at {row.numbers[0]:g}, no later than the one above."
