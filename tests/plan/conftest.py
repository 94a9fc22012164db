"""The shipped stock, opened once."""

import pytest

from mendbook.folders import folder
from mendbook.plan import Stock, open_stock


@pytest.fixture(scope="session")
def stock() -> Stock:
    return open_stock(folder("knowledge"))
