"""The front door: every claim about a rulebook, shown or refuted, each refuting case judged as any case is."""

from collections.abc import Callable, Iterator
from concurrent.futures import ProcessPoolExecutor
from dataclasses import dataclass
from multiprocessing import get_context
from pathlib import Path

from mendbook.audit.claims import Claim
from mendbook.audit.cleared import show_cleared
from mendbook.audit.covered import show_covered
from mendbook.audit.finder import Finder
from mendbook.audit.grown import show_grown
from mendbook.audit.lawful import show_lawful
from mendbook.audit.living import show_living
from mendbook.audit.methods import show_methods
from mendbook.audit.ordered import show_order
from mendbook.audit.served import show_served
from mendbook.audit.witness import Witness, read_witness
from mendbook.triage.judgement import judge
from mendbook.triage.places import ImpossibleCase
from mendbook.triage.shop import Shop, open_shop


@dataclass(frozen=True)
class Answer:
    """What triage says of a case that a proof found."""

    outcome: str
    verdict: str | None
    reason: str


def prove(shop: Shop) -> Iterator[Claim]:
    """Yield every claim about the rulebook of `shop`, each as soon as it is settled."""
    for part in (first_part, second_part):
        yield from part(shop)


def prove_beside(rulebook: Path | None) -> Iterator[Claim]:
    """Yield every claim about the shipped book, or the shop's own laid over it; two parts run side by side."""
    with ProcessPoolExecutor(2, mp_context=get_context("spawn")) as pool:
        parts = [pool.submit(_settle, part, rulebook) for part in (first_part, second_part)]
        for part in parts:
            yield from part.result()


def first_part(shop: Shop) -> Iterator[Claim]:
    """Yield the claims of form, of cover, law, order and kit."""
    yield show_grown(shop)
    yield show_cleared(shop)
    finder = Finder(shop)
    yield show_covered(shop, finder)
    yield show_methods(shop, finder)
    yield show_lawful(shop, finder)
    yield from show_order(shop, finder)
    yield show_served(shop, finder.ordinary)


def second_part(shop: Shop) -> Iterator[Claim]:
    """Yield the claim for which many cases are sought; it takes as long as all the others."""
    yield show_living(shop, Finder(shop))


def answer(witness: Witness, shop: Shop) -> Answer:
    """Return what triage says of `witness`."""
    try:
        docket = judge(read_witness(witness, shop.book.vocabulary), shop, law=witness.law)
    except ImpossibleCase as error:
        return Answer("refused", None, str(error))
    return Answer(docket.outcome, docket.verdict, docket.reason)


def _settle(part: Callable[[Shop], Iterator[Claim]], rulebook: Path | None) -> list[Claim]:
    return list(part(open_shop(rulebook)))
