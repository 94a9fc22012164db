"""What the record keeps, one entry a time: decisions, papers, what became of a repair, what was written wrongly."""

from datetime import UTC, date, datetime
from typing import Annotated, Any, Literal, Self

from pydantic import AfterValidator, Field, TypeAdapter, ValidationError, model_validator

from mendbook import __version__
from mendbook.terms.closed import Closed

Stage = Literal["", "before skive", "after skive"]
State = Literal["in service", "failed", "removed"]
Unit = Literal["h", "km"]


def _said(text: str) -> str:
    if not text.strip():
        raise ValueError("it is blank. Say who it was")
    return text


def _day(text: str) -> str:
    date.fromisoformat(text)
    return text


def _moment(text: str) -> str:
    datetime.fromisoformat(text)
    return text


Person = Annotated[str, AfterValidator(_said)]
Day = Annotated[str, AfterValidator(_day)]
Moment = Annotated[str, AfterValidator(_moment)]
Number = Annotated[int, Field(ge=1)]


def now() -> str:
    """Return the present moment in UTC, ISO 8601, to the second."""
    return datetime.now(UTC).isoformat(timespec="seconds")


class Signed(Closed):
    """What every entry says: who kept it, when, by which program, and which entry it puts right."""

    by: Person = Field(description="who decided or saw it")
    recorded: Moment = Field(default_factory=now, description="when it was kept, ISO 8601")
    program: str = Field(__version__, description="version of the program that kept it")
    corrects: Number | None = Field(None, description="the entry that this one stands in for")
    note: str = ""


class CaseText(Closed):
    """A case file as it was written, comments and all."""

    name: str
    text: str


class Decision(Signed):
    """A docket that was given, with the case it was given for."""

    kind: Literal["decision"] = "decision"
    docket: dict[str, Any] = Field(description="as the program printed it; it names rulebook, evaluator and version")
    case_file: CaseText | None = Field(None, description="None where only the docket was at hand")
    stage: Stage = Field("", description="whether the injury was cut clean when it was judged")
    about: Number | None = Field(None, description="the decision on the same tyre before the skive")

    @model_validator(mode="after")
    def _staged(self) -> Self:
        if self.about is not None and self.stage != "after skive":
            raise ValueError("only a decision after the skive names the one before it")
        return self


class FollowUp(Signed):
    """What became of a repair by some day."""

    kind: Literal["follow-up"] = "follow-up"
    about: Number = Field(description="the decision by which it was repaired")
    injury: str = Field("", description="name of the injury; empty for every repair of that decision")
    on: Day = Field(description="the day it was seen, year-month-day")
    ran: float = Field(ge=0, allow_inf_nan=False, description="since the repair, in `unit`")
    unit: Unit
    state: State
    cause: str = Field("", description="why it failed, or why it was removed although it had not")

    @model_validator(mode="after")
    def _explained(self) -> Self:
        if (self.state == "in service") == bool(self.cause.strip()):
            raise ValueError("a cause is said of what failed or was removed, and of nothing else")
        return self


class FileNote(Closed):
    """A file that is kept, found by the hash of its bytes."""

    name: str = Field(description="as it was called where it came from")
    sha256: Annotated[str, Field(pattern="^[0-9a-f]{64}$")]
    size: int = Field(ge=0, description="[bytes]")


class Attachment(Signed):
    """A photo or a paper that belongs to a decision; the note says what it shows."""

    kind: Literal["attachment"] = "attachment"
    about: Number = Field(description="the decision it belongs to")
    file: FileNote


class CureLog(Signed):
    """What a logger wrote while the repair cured, and what was read from it."""

    kind: Literal["cure log"] = "cure log"
    about: Number = Field(description="the decision by which it was repaired")
    file: FileNote
    injury: str = Field("", description="name of the injury; empty for the repair that takes longest")
    order: dict[str, Any] | None = Field(None, description="the cure order followed; None for that of the docket")
    state: dict[str, Any] = Field(description="where the cure stood at the end of the log")


class Withdrawal(Signed):
    """An entry that should never have been made, such as one on the wrong tyre: it counts no more."""

    kind: Literal["withdrawal"] = "withdrawal"
    corrects: Number = Field(description="the entry withdrawn")
    note: Annotated[str, Field(min_length=1)] = Field(description="why")


Entry = Annotated[Decision | FollowUp | Attachment | CureLog | Withdrawal, Field(discriminator="kind")]
WITH_FILE = ("attachment", "cure log")
_ENTRY: TypeAdapter[Entry] = TypeAdapter(Entry)


class EntryError(ValueError):
    """What cannot be an entry; the message says which field, and why."""


def read_entry(tree: Any) -> Entry:
    """Return the entry that `tree` holds. Raises EntryError."""
    try:
        return _ENTRY.validate_python(tree)
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(map(str, first["loc"]))
        raise EntryError(f"{field or 'entry'}: {str(first['msg']).removeprefix('Value error, ')}") from None
