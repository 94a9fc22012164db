"""The record of what was decided, by whom, and what became of it: added to, never changed, and read again."""

from mendbook.record.chain import Head, Link
from mendbook.record.entry import (
    Attachment,
    CaseText,
    CureLog,
    Decision,
    Entry,
    EntryError,
    FileNote,
    FollowUp,
    Withdrawal,
)
from mendbook.record.faults import RecordError
from mendbook.record.ledger import Line, Record, open_record
from mendbook.record.verifying import Broken, Verified, read_head, verify

__all__ = [
    "Attachment",
    "Broken",
    "CaseText",
    "CureLog",
    "Decision",
    "Entry",
    "EntryError",
    "FileNote",
    "FollowUp",
    "Head",
    "Line",
    "Link",
    "Record",
    "RecordError",
    "Verified",
    "Withdrawal",
    "open_record",
    "read_head",
    "verify",
]
