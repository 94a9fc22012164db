"""The docket: the public contract of a triage. Same case, same rulebook: the same bytes but for the time stamp."""

from typing import Any, Literal

from pydantic import BaseModel, Field

from mendbook.terms.closed import Closed
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.plan import Plan
from mendbook.terms.tyre_map import TyreMap
from mendbook.terms.worth import Worth

Outcome = Literal["stop", "reject", "hold", "repair", "serve"]


class SourceNote(Closed):
    """Where a limit comes from, and how far that text was read."""

    id: str
    place: str
    kind: str = Field(description="law, standard, guidance, practice or house")
    title: str
    known: str = Field(description="how far the text at that place was read, or that it is quoted from memory")

    @property
    def is_read(self) -> bool:
        """True when the text was read, in whole or in an excerpt."""
        return self.known.startswith("read")


class Entry(Closed):
    """What a person writes into the case when a look is done."""

    section: str = Field(description="tyre, found, service, workshop, injuries; empty for a field of the case itself")
    field: str
    value: str = Field(description="what clears the hold: a value, several with 'or', or a limit")
    fact: str = Field(description="the fact the rule looks at; it follows from the field when the two differ")


class Approved(Closed):
    """A rule or table that the shop's own book made looser, and who answers for it."""

    place: str = Field(description="its place in the rulebook")
    approved_by: str
    on: str = Field(description="year-month-day")
    why: str


class OverruledReject(Closed):
    """A house reject that a named person overruled."""

    rule: str
    name: str = Field(description="of the rule")
    about: str = Field(description="'tyre' or the name of an injury")
    by: str = Field(description="who overruled it")
    on: str = Field(description="year-month-day")
    why: str
    said: str = Field(description="the sentence with which the rule rejects")
    counts_as: str = Field(description="the verdict that stands in place of the reject: the most that a repair can be")


class Finding(Closed):
    """One line of one rule that spoke."""

    rule: str = Field(description="id of the rule: its place in the rulebook")
    name: str
    line: int = Field(description="line in the rule's file")
    about: str = Field(description="'tyre' or the name of an injury")
    zone: str = ""
    use: tuple[str, ...] = Field(description="uses for which it speaks")
    says: tuple[str, ...] = Field(description="verdict, hold, stop, rule out, cap, do, caution")
    verdict: str | None = None
    text: str = Field("", description="the sentence of a hold or stop")
    cleared_by: tuple[tuple[Entry, ...], ...] = Field(
        (), description="ways to clear a hold; one is enough, and within it every entry is needed"
    )
    because: str
    sources: tuple[SourceNote, ...]
    own: bool = Field(False, description="whether the shop's own book added or changed the rule")
    looser: tuple[Approved, ...] = Field((), description="what the shop's own book made looser: the rule or its tables")
    may_be_overruled: bool = Field(
        False, description="whether it is a reject that a named person may overrule, with a reason"
    )
    overruled: OverruledReject | None = Field(None, description="who overruled it; the verdict is what the rule says")
    readings: dict[str, bool] = Field(description="at which readings it spoke: good, as read, bad")
    limit: dict[str, str] = Field(default_factory=dict, description="the bounds of the line")
    margin: dict[str, float] = Field(default_factory=dict, description="room left to each bound, negative when past it")

    @property
    def counts_as(self) -> str | None:
        """The verdict that counts: what the rule says, or what stands in its place where it was overruled."""
        return self.verdict if self.overruled is None else self.overruled.counts_as


class InjuryVerdict(Closed):
    """The verdict on one injury."""

    name: str
    zone: str = Field(description="zone that decided; several when its edge touches more")
    verdict: str | None
    overruled_from: str = Field("", description="its verdict before a person overruled it; empty where nobody did")
    bracket: tuple[str, str] | None = Field(description="mildest and most severe verdict within the readings")
    shares: dict[str, str] = Field(default_factory=dict, description="size and counts as shares of their limits")
    length: str = ""
    width: str = ""
    box: str = Field("", description="largest size allowed here, around x across")


class Change(Closed):
    """The nearest change of one measure that would give a milder verdict."""

    about: str
    fact: str
    now: str
    then: str
    verdict: str
    says: str


class Look(Closed):
    """A measurement that could still change the answer."""

    about: str
    fact: str
    how: str
    why: str


class TyreNote(Closed):
    """The tyre in one line each."""

    tag: str = ""
    designation: str = ""
    construction: str = ""
    casing: str = ""
    age: str = ""
    duty: str = ""
    position: str = ""
    use: str = ""


class OwnBookNote(Closed):
    """The shop's own book that was laid over the rulebook, and all that is looser in it."""

    name: str
    edition: str
    date: str
    owner: str
    digest: str
    looser: tuple[Approved, ...] = ()


class BookNote(Closed):
    """The rulebook that judged."""

    edition: str
    date: str
    owner: str
    digest: str
    own: OwnBookNote | None = None


class Docket(BaseModel):
    """The whole answer for one case."""

    model_config = Closed.model_config

    case: str
    mendbook: str = Field(description="version of the program")
    judged: str = Field(description="time stamp")
    rulebook: BookNote
    evaluator: str
    law: str
    tyre: TyreNote
    outcome: Outcome
    verdict: str | None = Field(description="most severe over the tyre and its injuries, as read; None on a stop")
    bracket: tuple[str, str] | None
    decided: bool
    overruled: tuple[OverruledReject, ...] = Field((), description="house rejects that a named person overruled")
    overruled_from: str = Field("", description="the verdict before anybody overruled one; empty where nobody did")
    uses: dict[str, str | None] = Field(description="verdict for each use, off-road and road")
    basis: str = Field(description="kind of source that decided: law, standard, guidance, practice or house")
    basis_known: str = Field("", description="how far the text of the source that decided was read")
    reason: str = Field(description="the sentence that decided")
    stops: tuple[str, ...] = ()
    holds: tuple[str, ...] = ()
    injuries: tuple[InjuryVerdict, ...] = ()
    findings: tuple[Finding, ...] = ()
    would_change: tuple[Change, ...] = ()
    nothing_to_change: str = Field("", description="why nothing you can change would help, when so")
    measure_next: tuple[Look, ...] = ()
    assumed: dict[str, str] = Field(default_factory=dict, description="what the case leaves out and how it was read")
    plan: Plan | None = None
    cure_order: CureOrder | None = Field(None, description="of the repair that takes longest")
    cure: CureSheet | None = None
    cautions: tuple[str, ...] = ()
    worth: Worth | None = Field(None, description="None when the case has no money in it; it never changes a verdict")
    map: TyreMap | None = Field(None, description="where zones and injuries lie; None on a stop")
    written: dict[str, Any] = Field(
        default_factory=dict, description="the case in the words of its file, without what was left out; for a replay"
    )

    @property
    def may_be_overruled(self) -> bool:
        """True for a rejection that a named person may overrule: one that rests on the house alone, all of it."""
        rejecting = [f for f in self.findings if f.counts_as == self.verdict and f.readings.get("good")]
        return self.outcome == "reject" and bool(rejecting) and all(one.may_be_overruled for one in rejecting)
