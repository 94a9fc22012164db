"""Each synonym leads to one fact."""

from collections import defaultdict
from collections.abc import Iterator

from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Fact


def find_shared_synonyms(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each synonym that two facts claim, or that is the name of another fact."""
    owners: defaultdict[str, list[Fact]] = defaultdict(list)
    for fact in book.vocabulary:
        for synonym in fact.synonyms:
            owners[synonym].append(fact)
    for synonym, facts in owners.items():
        place = f"{facts[-1].file}:{facts[-1].at}"
        if len(facts) > 1:
            both = " and ".join(f"'{fact.name}'" for fact in facts)
            yield f"{place}: '{synonym}' is a synonym of {both}, so it names neither. Leave it with one of them."
        if synonym in book.vocabulary:
            yield (
                f"{place}: '{synonym}' is a synonym of '{facts[0].name}' and a fact of its own. "
                "Delete the synonym, or give the fact another name."
            )
