from pathlib import Path

import pytest

from mendbook.rulebook.book import Rulebook
from tests.proof.sound_ladders import SOUND
from tests.rulebook.ladders import open_ladders, write_book


@pytest.fixture(scope="session")
def ladders(tmp_path_factory: pytest.TempPathFactory) -> Rulebook:
    """The sound rulebook of another trade, opened once."""
    folder: Path = tmp_path_factory.mktemp("ladders")
    write_book(folder, **SOUND)
    return open_ladders(folder)
