"""Whether an entry fits those before it: what it is about is there, still counts, and is not contradicted."""

from collections.abc import Iterator

from sqlalchemy import Connection, select

from mendbook.record.chain import Link
from mendbook.record.entry import Attachment, CureLog, Decision, Entry, EntryError, FollowUp
from mendbook.record.files import has_file
from mendbook.record.tables import ENTRIES, tag_of


def check_fit(connection: Connection, entry: Entry) -> None:
    """Raise EntryError, with the number of the entry that does, where `entry` does not fit those before it."""
    if entry.corrects is not None:
        _check_corrected(connection, entry)
    if isinstance(entry, Attachment | CureLog) and not has_file(connection, entry.file.sha256):
        raise EntryError(f"{entry.file.name}: the file itself is not given. It is kept with its entry, or neither is.")
    if entry.kind != "withdrawal" and entry.about is not None:
        target = _read(connection, entry.about)
        if not isinstance(target, Decision):
            raise EntryError(f"entry {entry.about} is a {target.kind}. Name the decision that this is about.")
        _check_counts(connection, entry.about)
        if isinstance(entry, Decision) and tag_of(entry) != tag_of(target):
            raise EntryError(
                f"entry {entry.about} is about the tyre '{tag_of(target)}', this about '{tag_of(entry)}'. "
                "Before and after the skive are of one tyre."
            )
        if isinstance(entry, CureLog):
            _check_injury(entry.injury, target)
        if isinstance(entry, FollowUp):
            _check_course(connection, entry, target)


def _check_corrected(connection: Connection, entry: Entry) -> None:
    number = entry.corrects
    assert number is not None
    target = _read(connection, number)
    if target.kind == "withdrawal":
        raise EntryError(f"entry {number} is a withdrawal. What it withdrew is kept anew, as an entry of its own.")
    if entry.kind not in (target.kind, "withdrawal"):
        raise EntryError(f"entry {number} is a {target.kind}. Only another {target.kind} can stand in for it.")
    _check_counts(connection, number)


def _check_counts(connection: Connection, number: int) -> None:
    later = connection.execute(select(ENTRIES.c.sequence, ENTRIES.c.kind).where(ENTRIES.c.corrects == number)).first()
    if later is None:
        return
    if later.kind == "withdrawal":
        raise EntryError(f"entry {number} was withdrawn by {later.sequence}. Name one that counts.")
    raise EntryError(f"entry {number} was put right by {later.sequence}. Name that one.")


def _check_injury(name: str, target: Decision) -> None:
    names = injuries_of(target)
    if name and name not in names:
        raise EntryError(f"the decision knows no injury '{name}'. It knows {', '.join(names) or 'none'}.")


def _check_course(connection: Connection, entry: FollowUp, target: Decision) -> None:
    _check_injury(entry.injury, target)
    names = injuries_of(target)
    if entry.state == "failed" and not entry.injury and len(names) > 1:
        raise EntryError(f"say which repair failed: {', '.join(names)}.")
    for number, earlier in _follow_ups(connection, entry):
        if entry.injury and earlier.injury not in ("", entry.injury):
            continue
        if earlier.on <= entry.on and earlier.unit == entry.unit and earlier.ran > entry.ran:
            raise EntryError(
                f"by entry {number} it had run {earlier.ran:g} {earlier.unit} on {earlier.on}, which is more than "
                f"{entry.ran:g} {entry.unit} on {entry.on}. Count from the repair, or correct that entry."
            )
        if earlier.state != "in service" and earlier.on < entry.on and earlier.injury in ("", entry.injury):
            raise EntryError(f"by entry {number} it {_ended(earlier)} on {earlier.on}. A new repair is a new decision.")


def _ended(earlier: FollowUp) -> str:
    return "failed" if earlier.state == "failed" else "was removed"


def _follow_ups(connection: Connection, entry: FollowUp) -> Iterator[tuple[int, FollowUp]]:
    """Yield the follow-ups of the same decision that count, but for one that `entry` stands in for."""
    later = ENTRIES.alias("later")
    corrected = select(later.c.sequence).where(later.c.corrects == ENTRIES.c.sequence).exists()
    asked = select(ENTRIES).where(ENTRIES.c.about == entry.about, ENTRIES.c.kind == "follow-up", ~corrected)
    for row in connection.execute(asked).mappings():
        if row["sequence"] != entry.corrects:
            found = Link(row["sequence"], row["previous"], row["hash"], row["text"]).entry
            if isinstance(found, FollowUp):
                yield row["sequence"], found


def injuries_of(decision: Decision) -> list[str]:
    """Return the names of the injuries that the docket knows."""
    injuries = decision.docket.get("injuries")
    return [str(one.get("name", "")) for one in injuries] if isinstance(injuries, list) else []


def _read(connection: Connection, number: int) -> Entry:
    row = connection.execute(select(ENTRIES).where(ENTRIES.c.sequence == number)).mappings().first()
    if row is None:
        raise EntryError(f"there is no entry {number}. See 'mendbook record list'.")
    return Link(row["sequence"], row["previous"], row["hash"], row["text"]).entry
