"""A fresh record for each test: a SQLite file, and a schema of a PostgreSQL server that really runs."""

import os
from collections.abc import Iterator
from itertools import count
from pathlib import Path

import pytest
from sqlalchemy import text

from mendbook.record import Record, open_record, places
from mendbook.record.places import Place
from tests.record.servers import NO_SERVER, Server, running

_SCHEMAS = count(1)


@pytest.fixture(autouse=True)
def _no_waiting_for_the_disk(monkeypatch: pytest.MonkeyPatch) -> None:
    """Nothing here outlives the machine; a killed process loses nothing by it. Other processes wait as usual."""
    monkeypatch.setattr(places, "SYNCHRONOUS", "OFF")


@pytest.fixture(scope="session")
def a_server() -> Iterator[Server | None]:
    with running() as server:
        yield server


@pytest.fixture
def server(a_server: Server | None) -> Server:
    if a_server is None:  # what a real server does can be tested on one only; the gate installs it where it may
        pytest.skip(NO_SERVER)
    return a_server


@pytest.fixture
def schema(server: Server) -> Iterator[str]:
    """The URL of an empty schema."""
    name = f"record_{os.getpid()}_{next(_SCHEMAS)}"
    engine = Place(server.url).engine
    with engine.begin() as connection:
        connection.execute(text(f"CREATE SCHEMA {name}"))
    yield server.within(name)
    if server.folder is None:  # our own server goes away whole
        with engine.begin() as connection:
            connection.execute(text(f"DROP SCHEMA {name} CASCADE"))


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """Where a record can be begun, in either database."""
    if request.param == "sqlite":
        return str(tmp_path / "record.sqlite")
    return str(request.getfixturevalue("schema"))


@pytest.fixture
def record(where: str) -> Record:
    return open_record(where, is_new_allowed=True)
