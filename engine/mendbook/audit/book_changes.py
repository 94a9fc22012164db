"""What changed from one rulebook to another: cover page, rules, tables, facts and sources."""

from collections.abc import Iterator, Mapping

from mendbook.audit.changes import Changed, FindCase, Item
from mendbook.audit.rule_changes import RuleComparison
from mendbook.audit.table_changes import compare_tables
from mendbook.proof.loosenings import scale_of
from mendbook.proof.region import spell_box
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.source import Clause
from mendbook.terms.vocabulary import Fact, Vocabulary

COVER, FACT, SOURCE = "cover page", "fact", "source"


def compare_books(then: Rulebook, now: Rulebook, find_case: FindCase | None = None) -> tuple[Changed, ...]:
    """Return all that `now` says otherwise than `then`; nothing when they decide and read alike.

    `find_case` finds a whole case in a region of facts in which a rule answers otherwise.
    """
    rules = RuleComparison(scale_of(then), scale_of(now), find_case)
    facts = Vocabulary({**then.vocabulary.facts, **now.vocabulary.facts}, {})
    return (
        *_cover(then, now),
        *rules.compare((*then.rules, *then.not_covered), (*now.rules, *now.not_covered)),
        *compare_tables(then.tables, now.tables, facts, find_case),
        *_parts(FACT, _facts(then.vocabulary), _facts(now.vocabulary)),
        *_parts(SOURCE, _sources(then), _sources(now)),
    )


def _cover(then: Rulebook, now: Rulebook) -> Iterator[Changed]:
    pages = [
        {
            "edition": book.edition,
            "date": book.date,
            "owner": book.owner,
            "verdicts": ", ".join(book.verdicts),
            **{f"stage {stage.name}": ", ".join(stage.folders) for stage in book.stages},
            "order of the stages": ", ".join(stage.name for stage in book.stages),
            **{f"methods of {name}": ", ".join(names) for name, names in book.methods.items()},
        }
        for book in (then, now)
    ]
    items = tuple(_items(*pages))
    if items:
        yield Changed(COVER, COVER, "", items)


def _parts(kind: str, then: Mapping[str, Mapping[str, str]], now: Mapping[str, Mapping[str, str]]) -> Iterator[Changed]:
    for name in sorted(then.keys() | now.keys()):
        before, after = then.get(name), now.get(name)
        if before is None and after is not None:
            yield Changed(kind, name, name, (Item("added", "", next(iter(after.values()))),))
        elif after is None and before is not None:
            yield Changed(kind, name, name, (Item("withdrawn", next(iter(before.values())), ""),))
        elif before is not None and after is not None and (items := tuple(_items(before, after))):
            yield Changed(kind, name, name, items)


def _items(then: Mapping[str, str], now: Mapping[str, str]) -> Iterator[Item]:
    for what in dict.fromkeys((*then, *now)):
        before, after = then.get(what, ""), now.get(what, "")
        if before != after:
            yield Item(what, before, after)


def _facts(vocabulary: Vocabulary) -> dict[str, dict[str, str]]:
    return {fact.name: _fact(fact) for fact in vocabulary}


def _fact(fact: Fact) -> dict[str, str]:
    """Return what is said of a fact, its meaning first."""
    unit = f" {fact.unit}".rstrip()
    return {
        "means": fact.means,
        "about": str(fact.subject),
        "values": ", ".join(fact.values),
        "range": "" if fact.is_listed else f"{fact.low:g} to {fact.high:g}{unit}",
        "worse when": str(fact.worse),
        "written in": fact.section,
        "reading error": f"{fact.error:g}{unit}",
        "reading error share": f"{fact.error_share * 100:g} %",
        "reading error if": "; ".join(f"{name} {value}: {error:g}{unit}" for name, value, error in fact.error_if),
        "when missing": fact.missing or "unknown",
        "measure": fact.measure,
        "changeable": "yes" if fact.changeable else "no",
        "synonyms": ", ".join(fact.synonyms),
        "stage": fact.stage,
        "decimals": str(fact.decimals),
        "follows from": ", ".join(fact.follows),
    }


def _sources(book: Rulebook) -> dict[str, dict[str, str]]:
    return {
        name: {
            "title": source.title,
            "publisher": source.publisher,
            "kind": source.kind,
            "edition": source.edition,
            "known": source.known,
            "link": source.link,
            **{f"place {place}": said for place, said in (source.places or {}).items()},
            **{f"clause {clause.place}": _clause(clause, book.vocabulary) for clause in source.clauses},
        }
        for name, source in book.sources.items()
    }


def _clause(clause: Clause, vocabulary: Vocabulary) -> str:
    asked = [clause.at_least or "", "a hold" if clause.holds else "", "a stop" if clause.stops else ""]
    asks = " and ".join(filter(None, asked)) or clause.not_expressed
    return f"{clause.says} ({asks} for {spell_box(clause.bounds, vocabulary)})"
