"""How long a triage takes, as ratios taken in one run, and whether memory grows. Figures are printed.

python -m pytest -n 0 -m benchmark -s tests/benchmarks/test_triage_speed.py
"""

import resource
import subprocess
import sys
import time
from collections.abc import Callable
from pathlib import Path
from statistics import median

import pytest

from mendbook.terms.case import Case
from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge

pytestmark = pytest.mark.benchmark

EXAMPLES = Path(__file__).resolve().parents[2] / "examples"
TWO_INJURIES = EXAMPLES / "container_yard/straddle_apart.yaml"
ROUNDS = 40
TRIAGES = 2_000


def milliseconds(work: Callable[[], object], rounds: int = ROUNDS) -> float:
    """Return the median time of `work` [ms], after three rounds that do not count."""
    times = []
    for number in range(rounds + 3):
        start = time.perf_counter()
        work()
        if number >= 3:
            times.append(1e3 * (time.perf_counter() - start))
    return median(times)


@pytest.fixture(scope="module")
def case(shop: Shop) -> Case:
    return read_case(TWO_INJURIES, shop.book.vocabulary)


def test_what_ifs_cost_little_beside_the_judging(shop: Shop, case: Case, monkeypatch: pytest.MonkeyPatch) -> None:
    whole = milliseconds(lambda: judge(case, shop))
    monkeypatch.setattr("mendbook.triage.outlook.handles", lambda *_: iter(()))
    bare = milliseconds(lambda: judge(case, shop))
    print(f"\nwarm triage of two injuries: {whole:.1f} ms; without any what-if {bare:.1f} ms; ratio {whole / bare:.2f}")
    assert whole / bare < 1.6


def test_a_cold_start_beside_importing_the_libraries() -> None:
    libraries = "import numpy, pint, polars, pydantic, rich.console, typer, yaml"
    program = [sys.executable, "-m", "mendbook", "triage", str(TWO_INJURIES)]
    cold = milliseconds(lambda: subprocess.run(program, check=True, capture_output=True), rounds=7)
    bare = milliseconds(lambda: subprocess.run([sys.executable, "-c", libraries], check=True), rounds=7)
    print(f"\ncold start of a triage: {cold:.0f} ms; its libraries alone {bare:.0f} ms; ratio {cold / bare:.1f}")
    assert cold / bare < 4


def test_memory_does_not_grow(shop: Shop, case: Case) -> None:
    for _ in range(200):
        judge(case, shop)
    before = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
    for _ in range(TRIAGES):
        judge(case, shop)
    grown = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss - before
    print(f"\npeak memory grew by {grown} KiB over {TRIAGES} triages")
    assert grown < 32 * 1024
