"""The shipped rulebook and shop, opened once for the whole test run."""

from pathlib import Path

import pytest

from mendbook.folders import folder
from mendbook.rulebook.book import Rulebook, open_book

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def book() -> Rulebook:
    return open_book(folder("rules"), folder("knowledge"))
