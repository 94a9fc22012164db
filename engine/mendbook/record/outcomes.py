"""What became of each repair, put together from the follow-ups that count."""

from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from mendbook.record.entry import Decision, FollowUp, State, Unit
from mendbook.record.ledger import Record

REPAIRED = ("spot", "reinforce", "section")  # verdicts that end in a repair whose life is worth counting
_ALSO = " (also touches "


@dataclass(frozen=True)
class Outcome:
    """How long one repair is known to have run, and whether it then failed.

    decision : number of the entry by which it was repaired
    klass, zone : verdict on the injury, and the zone that decided it
    ran : since the repair [unit]
    """

    decision: int
    tag: str
    injury: str
    klass: str
    zone: str
    unit: Unit
    ran: float
    state: State
    cause: str

    @property
    def is_lost(self) -> bool:
        """True when the repair failed; one that was removed for another reason, or still runs, did not."""
        return self.state == "failed"


def find_outcomes(record: Record) -> list[Outcome]:
    """Return what became of every repair that was followed up, in the order of the decisions. Raises RecordError.

    Follow-ups of a decision that was put right count for the decision that stands in for it; what was withdrawn does
    not count.
    """
    stands = _standing(record)
    seen: dict[int, list[FollowUp]] = defaultdict(list)
    for link in record.links("follow-up"):
        entry = link.entry
        if link.sequence not in stands and isinstance(entry, FollowUp):
            decision = _last(entry.about, stands)
            if decision is not None:
                seen[decision].append(entry)
    return [one for number in sorted(seen) for one in _of_decision(number, record.get(number).entry, seen[number])]


def _standing(record: Record) -> dict[int, int | None]:
    """Return for each entry that counts no more which one stands in for it, None where it was withdrawn."""
    return {
        line.corrects: None if line.kind == "withdrawal" else line.sequence
        for line in record.corrections()
        if line.corrects is not None
    }


def _last(number: int, stands: dict[int, int | None]) -> int | None:
    found: int | None = number
    while found is not None and found in stands:
        found = stands[found]
    return found


def _of_decision(number: int, decision: object, seen: Iterable[FollowUp]) -> Iterator[Outcome]:
    assert isinstance(decision, Decision)
    in_order = sorted(seen, key=lambda one: (one.on, one.ran))
    for injury in decision.docket.get("injuries", ()):
        name, klass = str(injury.get("name", "")), str(injury.get("verdict") or "")
        told = [one for one in in_order if one.injury in ("", name)]
        if klass not in REPAIRED or not told:
            continue
        ended = next((one for one in told if one.state != "in service"), told[-1])
        same = [one.ran for one in told if one.unit == ended.unit]
        yield Outcome(
            decision=number,
            tag=str((decision.docket.get("tyre") or {}).get("tag", "")),
            injury=name,
            klass=klass,
            zone=str(injury.get("zone", "")).partition(_ALSO)[0],
            unit=ended.unit,
            ran=ended.ran if ended.state != "in service" else max(same),
            state=ended.state,
            cause=ended.cause,
        )
