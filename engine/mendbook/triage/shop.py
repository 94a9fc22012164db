"""The shop: a rulebook and what goes with it, made ready once for any number of cases."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources.abc import Traversable
from pathlib import Path

from mendbook.facts.derive import Derivation
from mendbook.folders import folder
from mendbook.plan.stock import Stock, open_stock
from mendbook.proof.permission import open_permitted
from mendbook.rulebook.book import KEPT, Rulebook
from mendbook.rulebook.errors import RulebookError, refuse
from mendbook.terms.document import read_document
from mendbook.triage.evaluators import BothEvaluators, ColumnEvaluator, Evaluator, rule_engine_is_available
from mendbook.triage.fit import find_misfits


@dataclass(frozen=True, eq=False)
class Shop:
    """A rulebook with its derivation, its evaluators and the stock that plans draw on."""

    book: Rulebook
    stock: Stock
    derivation: Derivation
    evaluator: Evaluator
    cautions: Mapping[str, tuple[str, ...]]


def open_shop(rulebook: Path | None = None) -> Shop:
    """Open the shipped rulebook, with the shop's own book in the folder `rulebook` laid over it.

    While every file is as it was, the shop of the last time is returned; it may be shared between threads.
    Raises RulebookError or DocumentError with file and line. Where durable-rules cannot be imported (Python
    3.13 and later) the columnar evaluator decides alone, and dockets say so.
    """
    return _set_up_once(open_permitted(folder("rules"), folder("knowledge"), rulebook))


def set_up(book: Rulebook) -> Shop:
    """Return the shop that judges by `book`, with the stock that comes with the program.

    Raises RulebookError when nobody could judge by it.
    """
    knowledge = folder("knowledge")
    if misfits := find_misfits(book):
        raise RulebookError("\n".join(misfits))
    return Shop(
        book=book,
        stock=open_stock(knowledge),
        derivation=Derivation(book),
        evaluator=BothEvaluators(book) if rule_engine_is_available() else ColumnEvaluator(book),
        cautions=read_cautions(knowledge),
    )


_set_up_once = lru_cache(maxsize=KEPT)(set_up)  # the digest of a book tells the stock, too: a new stock, a new book


def read_cautions(knowledge: Traversable) -> dict[str, tuple[str, ...]]:
    """Return the cautions by where they show."""
    document = read_document(knowledge / "cautions.yaml")
    groups = document.tree["cautions"]
    if not isinstance(groups, dict):
        raise refuse(document, ("cautions",), "cautions is a map of groups, each a list of sentences")
    return {
        name: tuple(str(entry["say"]) if isinstance(entry, dict) else str(entry) for entry in entries)
        for name, entries in groups.items()
        if isinstance(entries, list)
    }
