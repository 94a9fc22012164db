"""Injuries a second: a review against general-purpose rule engines on the same rules and rows, and against the floor.

python -m pytest -n 0 -m benchmark -s tests/benchmarks/yard/test_review_speed.py

The peers come with the extra `bench`. The floor is Polars merely reading the sheet and writing it as Parquet. Ratios
are of one run; each figure is the best of its rounds, so that what else the machine does counts least.

Engines are given rows on which every fact stands, so what is set against them is the rules alone. A review also reads
cells, derives the facts, finds neighbours and tells what decided: that is the most of it, and what is asserted of the
whole is how far it has come. `mendbook review` itself, with a process for each processor, is timed beside it.
"""

import time
from collections.abc import Callable
from pathlib import Path
from random import Random

import polars as pl
import pytest

from mendbook.columns import Columns
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop
from tests.benchmarks.yard.peers import PEERS, Peer
from tests.benchmarks.yard.review import review, run
from tests.benchmarks.yard.rows import STAGES, Task, tasks
from tests.columns.rows import aimed, as_frame, choices
from tests.yard.made import pieces

pytestmark = pytest.mark.benchmark

SEED = 9
SAMPLE = 300  # tyres whose rows the peers judge
YARDS = (7_000, 70_000, 700_000)  # tyres; ten thousand, a hundred thousand, a million injuries
LEAST_OVER_PEERS, MOST_OVER_FLOOR = 20.0, 4.0  # of the rules; of the whole review what follows
LEAST_WHOLE_OVER_PEERS, MOST_WHOLE_OVER_FLOOR = 7.0, 25.0
ALONE, AGAIN = "the columns, rules alone", 50


def best(work: Callable[[], object], rounds: int) -> float:
    """Return the shortest time of `work` [s]."""
    times = []
    for _ in range(rounds):
        start = time.perf_counter()
        work()
        times.append(time.perf_counter() - start)
    return min(times)


def written(tyres: int, folder: Path) -> tuple[Path, int]:
    """Return the sheet of a made yard, and how many injuries it has."""
    sheet, injuries = folder / f"{tyres}.csv", 0
    with sheet.open("wb") as out:
        for number, made in enumerate(pieces(tyres, SEED)):
            made.sheet.write_csv(out, include_header=not number)
            injuries += made.injuries.height
    return sheet, injuries


def floor(sheet: Path, out: Path) -> None:
    """Read and write, and nothing else."""
    pl.scan_csv(sheet, infer_schema=False).sink_parquet(out)


@pytest.fixture(scope="module")
def makers() -> dict[str, Callable[..., Peer]]:
    for module in ("clips", "zen", "rule_engine"):
        pytest.importorskip(module, reason="the peers come with the extra 'bench'")
    return PEERS


@pytest.mark.parametrize("subject", Subject)
def test_every_peer_holds_every_rule(subject: Subject, shop: Shop, makers: dict[str, Callable[..., Peer]]) -> None:
    """A row for each line, met at its limits: a benchmark of wrong answers would be worth nothing.

    Not closer than the finest step of a fact: some of them count in decimals, to which neighbouring floats are one.
    """
    rules = [rule for rule in shop.book.rules_of(*STAGES[subject]) if rule.subject is subject]
    drawn, pick = choices(rules, shop.book.vocabulary), Random(20261125)
    drawn = {name: [v for v in values if isinstance(v, str) or v == round(v, 6)] for name, values in drawn.items()}
    rows = [
        aimed(rule, line, {name: pick.choice(values) for name, values in drawn.items()}, pick)
        for rule in rules
        for line in range(len(rule.lines))
    ]
    wanted = Columns(rules, shop.book.verdicts).fold(as_frame(rows, shop.book.vocabulary)).rows()
    assert len({*wanted}) > 5
    for name, make_peer in makers.items():
        assert make_peer(rules, shop.book.verdicts).fold(rows) == wanted, name


@pytest.fixture(scope="module")
def peers(shop: Shop, makers: dict[str, Callable[..., Peer]]) -> dict[str, float]:
    """Return injuries a second of each peer, after it gave the very answers of the columns for every row."""
    found, injuries = tasks(shop, SAMPLE, SEED)
    rates = {}
    for name, make_peer in makers.items():
        seconds = 0.0
        for task in found:
            peer = make_peer(task.rules, shop.book.verdicts)
            assert peer.fold(task.rows) == task.wanted, name
            seconds += best(lambda peer=peer, task=task: peer.fold(task.rows), rounds=3)
        rates[name] = injuries / seconds
    alone = sum(best(lambda task=task: _fold(task, shop), rounds=5) for task in found)
    rates[ALONE] = AGAIN * injuries / alone
    rules, rows = (sum(len(part) for part in parts) for parts in zip(*((t.rules, t.rows) for t in found), strict=True))
    print(f"\n{rules} rules, {injuries} injuries in {rows} rows, the same for all")
    return rates


def _fold(task: Task, shop: Shop) -> None:
    """Judge the very rows of the peers, as often as a yard would have them, with every fact given as they have it."""
    Columns(task.rules, shop.book.verdicts).fold(pl.concat([task.frame] * AGAIN))


def test_the_rules_alone_beside_the_peers(peers: dict[str, float]) -> None:
    """The same rules on the same rows, with every fact given to all."""
    rates = {name: rate for name, rate in peers.items() if name != ALONE}
    for name, rate in sorted(rates.items(), key=lambda one: -one[1]):
        print(f"  rules alone: {peers[ALONE]:,.0f} injuries a second, {peers[ALONE] / rate:,.0f} times {name}")
    assert peers[ALONE] >= LEAST_OVER_PEERS * max(rates.values())


@pytest.mark.parametrize("tyres", YARDS)
def test_a_review_beside_its_peers_and_the_floor(
    tyres: int, shop: Shop, peers: dict[str, float], tmp_path: Path
) -> None:
    sheet, injuries = written(tyres, tmp_path)
    rounds = 3 if tyres < max(YARDS) else 1
    bare = best(lambda: floor(sheet, tmp_path / "floor.parquet"), rounds=rounds + 2)
    heard: list[float] = []
    taken = best(lambda: heard.append(review(sheet, tmp_path / "decided.parquet", shop)), rounds)
    rate, rules = injuries / taken, min(heard)
    print(f"\n{injuries} injuries: review {taken:.1f} s, {rate:,.0f} a second; its rules {rules:.2f} s")
    print(f"  floor         {injuries / bare:10,.0f} a second   review takes {taken / bare:6.1f} times as long")
    print(f"  floor and rules together take {(bare + rules) / bare:.1f} times the floor")
    peers = {name: its for name, its in peers.items() if name != ALONE}
    for name, its in sorted(peers.items(), key=lambda one: -one[1]):
        print(f"  {name:13} {its:10,.0f} a second   review is {rate / its:8.1f} times as fast")
    if tyres == max(YARDS):
        command = best(lambda: run(sheet, tmp_path / "run.parquet"), rounds=2)
        assert pl.scan_parquet(tmp_path / "run.parquet").select(pl.len()).collect().item() > 0.9 * injuries
        print(f"  the command   {injuries / command:10,.0f} a second   takes {command / bare:6.1f} times the floor")
        assert bare + rules <= MOST_OVER_FLOOR * bare
        assert rate >= LEAST_WHOLE_OVER_PEERS * max(peers.values())
        assert taken <= MOST_WHOLE_OVER_FLOOR * bare
    sheet.unlink()
