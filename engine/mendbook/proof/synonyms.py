"""Each synonym leads to one fact."""

from collections import defaultdict
from collections.abc import Iterator

from mendbook.rulebook.book import Rulebook

PLACE = "knowledge/vocabulary"


def find_shared_synonyms(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each synonym that two facts claim, or that is the name of another fact."""
    owners: defaultdict[str, list[str]] = defaultdict(list)
    for fact in book.vocabulary:
        for synonym in fact.synonyms:
            owners[synonym].append(fact.name)
    for synonym, names in owners.items():
        if len(names) > 1:
            both = " and ".join(f"'{name}'" for name in names)
            yield f"{PLACE}: '{synonym}' is a synonym of {both}, so it names neither. Leave it with one of them."
        if synonym in book.vocabulary:
            yield (
                f"{PLACE}: '{synonym}' is a synonym of '{names[0]}' and a fact of its own. "
                "Delete the synonym, or give the fact another name."
            )
