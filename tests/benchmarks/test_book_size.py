"""How large the rulebook is, and what checking it costs beside opening it. A ratio holds on any machine.

python -m pytest -n 0 -m benchmark -s tests/benchmarks/test_book_size.py
"""

import time
from collections.abc import Callable
from statistics import median

import pytest

from mendbook.audit.proofs import prove
from mendbook.folders import folder
from mendbook.proof.check import check_book
from mendbook.proof.seal import find_changes, write_seal
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.examples import check_examples
from mendbook.triage.fit import find_misfits
from mendbook.triage.shop import Shop

pytestmark = pytest.mark.benchmark

ROUNDS = 7


def milliseconds(work: Callable[[], object]) -> float:
    """Return the median time of `work` [ms], after one round that does not count."""
    times = []
    for _ in range(ROUNDS + 1):
        start = time.perf_counter()
        work()
        times.append(1e3 * (time.perf_counter() - start))
    return median(times[1:])


def opened() -> Rulebook:
    return open_book(folder("rules"), folder("knowledge"))


def test_the_size_of_the_book(book: Rulebook) -> None:
    charts = sum(rule.is_chart for rule in book.rules)
    lines = [line for rule in book.rules for line in rule.lines]
    cells = sum(len(table.rows) * len(table.gives) for table in book.tables)
    cited = {citation.source for line in lines for citation in line.sources}
    limits, examples = sum(len(line.bounds) for line in lines), sum(len(rule.examples) for rule in book.rules)
    print(f"\n{len(book.rules)} rules ({charts} charts), {len(lines)} lines, {limits} limits, {examples} examples")
    print(f"{len(book.tables)} tables with {cells} numbers; {len(book.sources)} sources, {len(cited)} cited by lines")
    print(f"{len(list(book.vocabulary))} facts, {len(book.vocabulary.given())} written in cases")
    for stage in book.stages:
        print(f"  {stage.name}: {len(book.rules_of(stage.name))} rules")
    assert lines


def test_checking_beside_opening(book: Rulebook) -> None:
    seal = write_seal(book)
    opening = milliseconds(opened)
    parts: dict[str, Callable[[], object]] = {
        "examples": lambda: check_examples(book),
        "form": lambda: check_book(book),
        "fit": lambda: find_misfits(book),
        "seal": lambda: list(find_changes(book, seal)),
    }
    times = {name: milliseconds(work) for name, work in parts.items()}
    print(f"\nopening {opening:.0f} ms; checks as a share of it:")
    for name, taken in times.items():
        print(f"  {name}: {taken / opening:.2f}")
    assert sum(times.values()) < 2.0 * opening


def test_proving_beside_opening(shop: Shop) -> None:
    opening = milliseconds(opened)
    print(f"\nopening {opening:.0f} ms; each claim as a multiple of it:")
    start, questions = time.perf_counter(), 0
    for claim in prove(shop):
        now = time.perf_counter()
        print(f"  {claim.name}: {claim.asked} {claim.by}s, {1e3 * (now - start) / opening:.1f}")
        start, questions = now, questions + claim.asked
        assert claim.holds
    print(f"  {questions} in all")
