"""The shipped rulebook and shop, opened once for the whole test run."""

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

from mendbook.folders import folder
from mendbook.rulebook.book import Rulebook, open_book

if TYPE_CHECKING:
    from mendbook.triage import Shop

ROOT = Path(__file__).resolve().parents[1]


@pytest.fixture(scope="session")
def root() -> Path:
    return ROOT


@pytest.fixture(scope="session")
def book() -> Rulebook:
    return open_book(folder("rules"), folder("knowledge"))


@pytest.fixture(scope="session")
def shop() -> "Shop":
    from mendbook.triage import open_shop

    return open_shop()
