import pytest

from mendbook.audit.finder import Finder
from mendbook.triage.shop import Shop


@pytest.fixture(scope="session")
def finder(shop: Shop) -> Finder:
    """The solver over everything that a case can say, under the shipped book."""
    return Finder(shop)
