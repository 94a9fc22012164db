"""Whatever is done to a record, in whatever order: the chain is whole, nothing is lost, and copies are the same."""

import tempfile
from collections.abc import Iterable
from pathlib import Path

from hypothesis import settings
from hypothesis import strategies as st
from hypothesis.stateful import RuleBasedStateMachine, initialize, invariant, rule

from mendbook.record import Decision, EntryError, FollowUp, Withdrawal, open_record, verify
from mendbook.record.carrying import carry, describe, take_in
from mendbook.record.entry import Entry
from mendbook.record.json_lines import read_lines, write_lines
from mendbook.record.outcomes import find_outcomes
from mendbook.record.parquet import read_parquet, write_parquet
from mendbook.record.survival import learn
from tests.record.made import WHEN, docket, follow_up

NUMBERS = st.integers(1, 12)
STATES = st.sampled_from(["in service", "failed", "removed"])
DAYS = st.integers(1, 28).map("2027-01-{:02}".format)


class Course(RuleBasedStateMachine):
    """A record and a copy of it, beside a plain list of all that was kept."""

    @initialize()
    def begin(self) -> None:
        self.folder = tempfile.TemporaryDirectory()
        self.record = open_record(str(Path(self.folder.name) / "record.sqlite"), is_new_allowed=True)
        self.copy = open_record(str(Path(self.folder.name) / "copy.sqlite"), is_new_allowed=True)
        self.kept: list[Entry] = []

    def teardown(self) -> None:
        if hasattr(self, "folder"):
            self.folder.cleanup()

    def try_to_keep(self, entries: Iterable[Entry]) -> None:
        """Keep all of `entries`, or none of them where one does not fit."""
        some = list(entries)
        try:
            self.record.add_all(some)
        except EntryError:
            return
        self.kept += some

    @rule(tags=st.lists(st.sampled_from(["FH-1", "FH-2", "FH-3"]), min_size=1, max_size=3))
    def decide(self, tags: list[str]) -> None:
        self.try_to_keep(Decision(by="a", recorded=WHEN, docket=docket(tag, {"A": "section"})) for tag in tags)

    @rule(about=NUMBERS, ran=st.floats(0, 900), state=STATES, on=DAYS, corrects=st.none() | NUMBERS)
    def follow(self, about: int, ran: float, state: str, on: str, corrects: int | None) -> None:
        self.try_to_keep([follow_up(about, ran, state, on=on, corrects=corrects)])

    @rule(number=NUMBERS)
    def withdraw(self, number: int) -> None:
        self.try_to_keep([Withdrawal(by="a", recorded=WHEN, corrects=number, note="x")])

    @rule(is_parquet=st.booleans(), is_whole=st.booleans())
    def bring_the_copy_up_to_date(self, is_parquet: bool, is_whole: bool) -> None:
        before = self.copy.head()
        note = describe(self.record, 0 if is_whole else before.sequence)
        file = Path(self.folder.name) / "carried"
        if is_parquet:
            write_parquet(file, note, carry(self.record, note))
            found = take_in(self.copy, *read_parquet(file))
        else:
            with file.open("wb") as target:
                write_lines(target, note, carry(self.record, note))
            with file.open("rb") as source:
                found = take_in(self.copy, *read_lines(source))
        assert found.head == self.record.head()
        assert found.added == len(self.kept) - before.sequence

    @invariant()
    def what_was_kept_is_there_and_the_chain_whole(self) -> None:
        if not hasattr(self, "record"):
            return
        assert [link.entry for link in self.record.links()] == self.kept
        found = verify(self.record, self.copy.head())
        assert (found.broken, found.entries) == (None, len(self.kept))

    @invariant()
    def no_entry_is_put_right_twice_and_outcomes_follow(self) -> None:
        if not hasattr(self, "record"):
            return
        corrected = [entry.corrects for entry in self.kept if entry.corrects is not None]
        assert len(set(corrected)) == len(corrected)
        outcomes = find_outcomes(self.record)
        repairs = {number for number, entry in enumerate(self.kept, 1) if isinstance(entry, Decision)}
        assert {one.decision for one in outcomes} <= repairs - set(corrected)
        losses = sum(isinstance(one, FollowUp) and one.state == "failed" for one in self.kept)
        assert sum(group.lost for group in learn(outcomes) if group.zone) <= losses


TestCourse = Course.TestCase
TestCourse.settings = settings(max_examples=6, stateful_step_count=14, deadline=None)
