"""What stands in a rulebook and is of no use to it. None of this is a fault: the owner may mean to use it yet."""

from collections.abc import Collection, Iterable, Iterator
from itertools import chain

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.cite import cite
from mendbook.rulebook.sentences import placeholders


def find_unused(book: Rulebook, numbers: Collection[str], facts: Collection[str]) -> Iterator[str]:
    """Yield a note for each table, number and fact that nobody reads, and one for all such sources and methods.

    `numbers` are what derivations read from tables, `facts` what they read besides what rules look at.
    """
    yield from _tables(book, numbers)
    seen = {*facts, *_looked_at(book)}
    for fact in book.vocabulary:
        if fact.name not in seen:
            yield f"{fact.file}:{fact.at}: no rule, table or derivation looks at the fact '{fact.name}'."
    cited = {one.source for one in cite(book)}
    yield from _together("cited by no rule or table", (name for name in book.sources if name not in cited))
    named = {method for rule in book.rules for line in rule.lines for method in line.outcome.rule_out}
    methods = chain.from_iterable(book.methods.values())
    yield from _together("never ruled out", (method for method in methods if method not in named))


def _tables(book: Rulebook, numbers: Collection[str]) -> Iterator[str]:
    for table in book.tables:
        idle = [name for name in table.gives if name not in numbers]
        if len(idle) == len(table.gives):
            yield f"{table.file}:1: nobody reads the table '{table.name}', which gives {', '.join(idle)}."
        elif idle:
            yield f"{table.file}:1: nobody reads {', '.join(idle)} of the table '{table.name}'."


def _looked_at(book: Rulebook) -> Iterator[str]:
    """Yield the facts by which rules speak and tables are read, and those that sentences print."""
    for rule in book.by_id().values():
        yield from rule.facts()
        for line in rule.lines:
            for text in (line.because, *(said for _, said in line.outcome.sentences())):
                yield from placeholders(text)
    for table in book.tables:
        yield from table.facts()


def _together(what: str, names: Iterable[str]) -> Iterator[str]:
    found = tuple(names)
    if found:
        yield f"{len(found)} {what}: {', '.join(found)}."
