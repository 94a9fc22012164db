from pathlib import Path

import pytest

from mendbook.record import Decision, EntryError, Record, Withdrawal, open_record
from mendbook.record.entry import Entry
from tests.record.made import WHEN, decision, docket, follow_up


def withdrawal(number: int) -> Withdrawal:
    return Withdrawal(by="invented clerk", recorded=WHEN, corrects=number, note="the wrong tyre")


def two_repairs() -> Decision:
    found = docket("FH-2", {"A": "section", "B": "spot"})
    return Decision(by="invented inspector", recorded=WHEN, docket=found)


KEPT = (
    decision("FH-1", stage="before skive"),  # 1
    two_repairs(),  # 2
    follow_up(2, 100, injury="A"),  # 3
    follow_up(2, 150, "failed", injury="B", on="2027-02-01"),  # 4
    follow_up(2, 110, injury="A", corrects=3),  # 5
    follow_up(1, 7, "removed"),  # 6
    withdrawal(6),  # 7
)


@pytest.fixture
def kept(tmp_path: Path) -> Record:
    record = open_record(str(tmp_path / "record.sqlite"), is_new_allowed=True)
    record.add_all(KEPT)
    return record


@pytest.mark.parametrize(
    "entry",
    [
        decision("FH-1", stage="after skive", about=1),
        follow_up(2, 110, injury="A"),
        follow_up(2, 400, injury="A", on="2027-03-01"),
        follow_up(2, 90, injury="A", on="2026-12-24"),
        follow_up(2, 5000, injury="A", unit="km"),
        follow_up(2, 120, injury="A", corrects=5),
        follow_up(2, 140, "failed", injury="B", corrects=4),
        follow_up(1, 3),
        withdrawal(4),
        decision("FH-9", corrects=1),
    ],
)
def test_what_fits_is_kept(kept: Record, entry: Entry) -> None:
    assert kept.add(entry).sequence == 8


@pytest.mark.parametrize(
    ("entry", "fault"),
    [
        (follow_up(9, 3), "there is no entry 9"),
        (follow_up(3, 3), "entry 3 is a follow-up. Name the decision"),
        (decision("FH-7", stage="after skive", about=1), "entry 1 is about the tyre 'FH-1', this about 'FH-7'"),
        (follow_up(2, 120, injury="C"), "knows no injury 'C'. It knows A, B."),
        (follow_up(2, 120, "failed"), "say which repair failed: A, B"),
        (follow_up(2, 50, injury="A", on="2027-03-01"), "by entry 5 it had run 110 h on 2027-01-01"),
        (follow_up(2, 200, injury="B", on="2027-03-01"), "by entry 4 it failed on 2027-02-01"),
        (follow_up(2, 120, injury="A", corrects=3), "entry 3 was put right by 5"),
        (follow_up(2, 120, injury="A", corrects=2), "Only another decision can stand in for it"),
        (follow_up(1, 9, corrects=6), "entry 6 was withdrawn by 7"),
        (withdrawal(7), "entry 7 is a withdrawal"),
        (withdrawal(6), "entry 6 was withdrawn by 7"),
    ],
)
def test_what_contradicts_an_entry_before_it_is_refused_with_its_number(kept: Record, entry: Entry, fault: str) -> None:
    with pytest.raises(EntryError, match=fault):
        kept.add(entry)
    assert kept.head().sequence == len(KEPT)


def test_both_databases_look_alike(record: Record) -> None:
    record.add_all(KEPT)
    for entry, fault in (
        (follow_up(2, 50, injury="A", on="2027-03-01"), "by entry 5"),
        (withdrawal(6), "withdrawn by 7"),
    ):
        with pytest.raises(EntryError, match=fault):
            record.add(entry)


def test_one_that_does_not_fit_takes_the_whole_batch_with_it(kept: Record) -> None:
    with pytest.raises(EntryError):
        kept.add_all([decision("FH-3"), decision("FH-4"), follow_up(99, 1)])
    assert kept.head().sequence == len(KEPT)


def test_a_later_entry_of_a_batch_may_be_about_an_earlier_one(record: Record) -> None:
    record.add_all([decision("FH-3"), follow_up(1, 10), follow_up(1, 20, on="2027-02-01")])
    assert record.head().sequence == 3
