"""Read what clears a hold: the facts that a person writes when the look is done, with the values that clear it."""

from collections.abc import Mapping

from mendbook.rulebook.context import Context, Path
from mendbook.rulebook.errors import refuse
from mendbook.rulebook.tree import Bound
from mendbook.terms.document import Document

CLEARED_BY = "cleared by"
_EXAMPLE = "Write 'cleared by: {fact: value}', the fact that is written when the look is done."


def read_clearing(
    document: Document, path: Path, row: Mapping[str, object], context: Context
) -> tuple[tuple[Bound, ...], ...]:
    """Return the ways to clear the hold in `row`: any one of them is enough, and within it all facts are needed.

    One way is a map of facts and values; several are a list of such maps. A line without a hold has none.
    Raises RulebookError for a hold that nothing clears, for a fact that is unknown, and for one that nobody writes.
    """
    path = (*path, CLEARED_BY)
    entry = row.get(CLEARED_BY)
    if "hold" not in row:
        if CLEARED_BY in row:
            raise refuse(
                document, path, "this line holds nothing that could be cleared", "Add a 'hold:', or leave it out."
            )
        return ()
    if not entry:
        where = path if CLEARED_BY in row else path[:-1]
        raise refuse(document, where, "nothing clears this hold, so what is once held stays held", _EXAMPLE)
    places: list[tuple[Path, object]] = [(path, entry)]
    if isinstance(entry, list):
        places = [((*path, number), one) for number, one in enumerate(entry)]
    return tuple(_way(document, place, one, context) for place, one in places)


def _way(document: Document, path: Path, entry: object, context: Context) -> tuple[Bound, ...]:
    if not isinstance(entry, dict):
        raise refuse(document, path, "a way to clear a hold is a map of facts and values", _EXAMPLE)
    bounds = context.bounds(document, path, entry)
    if not bounds:
        raise refuse(document, path, "this names no fact", _EXAMPLE)
    for bound in bounds:
        fact = context.vocabulary[bound.fact]
        if not (fact.is_given or fact.follows):
            raise refuse(
                document, (*path, bound.fact), f"'{bound.fact}' is worked out by the machine, so nobody can write it",
                "Name a fact that is written in the case, or say in the vocabulary what it 'follows from'.",
            )  # fmt: skip
    return bounds
