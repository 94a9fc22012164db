"""Keep a decision, a follow-up or a withdrawal in a record, and say under which number."""

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path
from typing import Any

import orjson

from mendbook.cli.documents import DASH, open_bytes
from mendbook.cli.overruling import NOTHING, Given
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import write, write_aside
from mendbook.record import CaseText, Decision, EntryError, Record, RecordError, open_record
from mendbook.record.entry import Entry, Unit, read_entry
from mendbook.terms.docket import Docket
from mendbook.terms.document import STANDARD_INPUT, DocumentError, parse_document
from mendbook.terms.quantity import Dimension, QuantityError, read_quantity


@dataclass(frozen=True)
class Kept:
    """What a person says of a decision that is to be kept."""

    by: str
    note: str = ""
    corrects: int | None = None
    is_before_skive: bool = False
    after_skive_of: int | None = None

    def decision(self, docket: dict[str, Any], case_file: CaseText | None) -> Decision:
        """Return the entry for `docket`. Raises RefusalError."""
        stage = "after skive" if self.after_skive_of else "before skive" if self.is_before_skive else ""
        said = {"by": self.by, "note": self.note, "corrects": self.corrects, "about": self.after_skive_of}
        entry = _entry({"kind": "decision", "docket": docket, "case_file": case_file, "stage": stage, **said})
        assert isinstance(entry, Decision)
        return entry


@contextmanager
def opened(given: str, *, is_new_allowed: bool = False) -> Iterator[Record]:
    """Yield the record at `given`. What it refuses, then or later, is a RefusalError."""
    with refusing(RecordError, EntryError):
        yield open_record(given, is_new_allowed=is_new_allowed)


def keep_given(given: str, where: str, kept: Kept, rulebook: Path | None, *, law: str | None) -> None:
    """Keep the docket in the file `given`, or judge the case in it and keep that. Raises RefusalError."""
    data, name = _read(given)
    docket, case_file = _docket(data), None
    if docket is None:
        judged, case_file = _judged(data, name, rulebook, law=law)
        docket = _tree(judged)
    elif law is not None or rulebook is not None:
        raise RefusalError(f"{name}: this docket was judged already. Leave --law and --rulebook out.")
    write(_keep(where, kept.decision(docket, case_file), is_new_allowed=True))


def judge_and_keep(
    given: str, where: str, kept: Kept, rulebook: Path | None, *, law: str | None, overrule: Given
) -> Docket:
    """Judge the case in the file `given`, keep the decision and return it. Raises RefusalError."""
    docket, case_file = _judged(*_read(given), rulebook, law=law, overrule=overrule)
    keep_docket(docket, where, kept, case_file)
    return docket


def keep_docket(docket: Docket, where: str, kept: Kept, case_file: CaseText | None = None) -> None:
    """Keep `docket` in the record `where`, and say aside under which number. Raises RefusalError."""
    write_aside(_keep(where, kept.decision(_tree(docket), case_file), is_new_allowed=True))


def _judged(
    data: bytes, name: str, rulebook: Path | None, *, law: str | None, overrule: Given = NOTHING
) -> tuple[Docket, CaseText]:
    from mendbook.cli.judging import judge_document

    with refusing(DocumentError):
        document = parse_document(data, name)
    docket = judge_document(document, rulebook, law=law, overrule=overrule)
    return docket, CaseText(name=Path(name).name, text=data.decode("utf-8-sig"))


def _tree(docket: Docket) -> dict[str, Any]:
    tree: dict[str, Any] = orjson.loads(docket.model_dump_json(by_alias=True))
    return tree


def _read(given: str) -> tuple[bytes, str]:
    with refusing(DocumentError):
        return open_bytes(given), STANDARD_INPUT if given == DASH else given


def keep_follow_up(where: str, number: int, ran: str, state: str, on: date | None, said: dict[str, Any]) -> None:
    """Keep that the repair by the decision `number` ran so long. Raises RefusalError."""
    amount, unit = running(ran, "--ran")
    seen = (on or date.today()).isoformat()
    tree = {"kind": "follow-up", "about": number, "on": seen, "ran": amount, "unit": unit, "state": state}
    write(_keep(where, _entry(tree | said)))


def keep_withdrawal(where: str, number: int, because: str, by: str) -> None:
    """Keep that the entry `number` counts no more. Raises RefusalError."""
    write(_keep(where, _entry({"kind": "withdrawal", "corrects": number, "note": because, "by": by})))


def _keep(where: str, entry: Entry, *, is_new_allowed: bool = False) -> str:
    with opened(where, is_new_allowed=is_new_allowed) as record:
        kept = record.add(entry)
        return f"Kept as entry {kept.sequence} of {record.name}: {kept.hash}"


def _entry(tree: dict[str, Any]) -> Entry:
    with refusing(EntryError):
        return read_entry(tree)


def _docket(data: bytes) -> dict[str, Any] | None:
    """Return the docket in `data`, None when it is something else."""
    try:
        tree = orjson.loads(data)
    except orjson.JSONDecodeError:
        return None
    return tree if isinstance(tree, dict) and {"judged", "rulebook", "outcome"} <= tree.keys() else None


def running(written: str, option: str) -> tuple[float, Unit]:
    """Return the running time or distance that `option` gives, and the unit of that. Raises RefusalError."""
    units: tuple[tuple[Dimension, Unit], ...] = ((Dimension.DURATION, "h"), (Dimension.DISTANCE, "km"))
    for dimension, unit in units:
        try:
            found = read_quantity(written, dimension)
        except QuantityError:
            continue
        if found.value is not None and found.low is None:
            return found.value, unit
    raise RefusalError(f"{option} '{written[:40]}' is no running time or distance. Write such as '412 h' or '9000 km'.")
