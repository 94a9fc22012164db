"""The shipped rulebook and shop, opened once for the whole test run."""

import os

# Tests begin some hundred processes, and each would compile the whole program where bytecode is not kept.
os.environ.pop("PYTHONDONTWRITEBYTECODE", None)

# Before numpy and Polars are loaded: matrices and frames are small, and a second thread only waits for the first.
os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
os.environ.setdefault("POLARS_MAX_THREADS", "1")

from pathlib import Path

import pytest
from hypothesis import settings

from mendbook.folders import folder
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.triage import Shop, open_shop

# No deadline: a test must not fail because a machine is busy. Where CI runs, the same examples every time.
# HYPOTHESIS_PROFILE=thorough draws ten times as many.
settings.register_profile("bench", deadline=None, max_examples=40)
settings.register_profile("ci", deadline=None, max_examples=40, derandomize=True)
settings.register_profile("thorough", deadline=None, max_examples=400)
settings.load_profile(os.environ.get("HYPOTHESIS_PROFILE") or ("ci" if os.environ.get("CI") else "bench"))

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def book() -> Rulebook:
    return open_book(folder("rules"), folder("knowledge"))


@pytest.fixture(scope="session")
def shop() -> Shop:
    return open_shop()
