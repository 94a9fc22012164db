"""How fast decisions are kept and walked: run by hand with -m benchmark -s. Keeping is measured, not judging."""

import os
import time
from collections.abc import Iterator
from pathlib import Path

import orjson
import pytest
from sqlalchemy import text

from mendbook.record import Decision, Record, open_record, verify
from mendbook.record.places import Place
from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge
from tests.record.processes import begin, write_some
from tests.record.servers import NO_SERVER, running

pytestmark = pytest.mark.benchmark
CUT = Path(__file__).resolve().parents[2] / "examples/quarry/loader_sidewall_cut.yaml"
TARGET = 1000.0  # decisions a second, each with a whole docket
COUNT, BATCH = 3000, 500
WRITERS, BATCHES, SIZE = 10, 20, 25


@pytest.fixture(params=["sqlite", "postgresql"])
def where(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[str]:
    if request.param == "sqlite":
        yield str(tmp_path / "record.sqlite")
        return
    with running(is_durable=True) as server:
        if server is None:
            pytest.skip(NO_SERVER)  # nothing to measure without one; the gate installs it where it may
        schema = f"record_speed_{os.getpid()}"
        with Place(server.url).engine.begin() as connection:
            connection.execute(text(f"CREATE SCHEMA {schema}"))
        yield server.within(schema)
        with Place(server.url).engine.begin() as connection:
            connection.execute(text(f"DROP SCHEMA {schema} CASCADE"))


@pytest.fixture
def record(where: str) -> Record:
    return open_record(where, is_new_allowed=True)


def test_a_thousand_decisions_a_second_are_kept(record: Record, shop: Shop) -> None:
    """By the clock, so on a machine that does nothing else; the processor time of this process is told beside it."""
    docket = judge(read_case(CUT, shop.book.vocabulary), shop)
    by_clock, by_processor = [], []
    for _ in range(COUNT // BATCH):
        entries = [
            Decision(by="invented", docket=orjson.loads(docket.model_dump_json(by_alias=True))) for _ in range(BATCH)
        ]
        began, busy = time.perf_counter(), time.process_time()
        record.add_all(entries)
        by_clock.append(BATCH / (time.perf_counter() - began))
        by_processor.append(BATCH / (time.process_time() - busy))
    began = time.perf_counter()
    found = verify(record)
    walked = COUNT / (time.perf_counter() - began)
    assert (found.broken, found.entries) == (None, COUNT)
    began = time.perf_counter()
    for _ in range(20):
        record.add(Decision(by="invented", docket={}))
    singly = 20 / (time.perf_counter() - began)
    print(
        f"\n{record.name[:10]}: {max(by_clock):,.0f} decisions/s kept, of {len(record.get(1).text):,} characters each "
        f"({max(by_processor):,.0f} a second of this process), {singly:,.0f}/s one at a time, {walked:,.0f}/s verified"
    )
    assert max(by_clock) >= TARGET


def test_ten_writers_lose_nothing(record: Record, where: str) -> None:
    began = time.perf_counter()
    writers = [begin(write_some, where, f"w{number}", BATCHES, SIZE) for number in range(WRITERS)]
    for writer in writers:
        writer.join(300)
        assert writer.exitcode == 0
    took = time.perf_counter() - began
    found = verify(record)
    assert (found.broken, found.entries) == (None, WRITERS * BATCHES * SIZE)
    print(f"\n{record.name[:12]}: {WRITERS} writers, {found.entries:,} short decisions in {took:.1f} s, none lost")
