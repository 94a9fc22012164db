"""Invented entries. Dockets are of the published form, but short."""

from typing import Any

from mendbook.record import Decision, FollowUp
from mendbook.terms.docket import BookNote, Docket, InjuryVerdict, TyreNote

WHEN = "2026-11-26T08:00:00+00:00"
BOOK = BookNote(edition="first", date="2026-11-25", owner="nobody", digest="d" * 64)


def docket(tag: str = "FH-1", verdicts: dict[str, str] | None = None, zone: str = "upper sidewall") -> dict[str, Any]:
    """Return a docket of the tyre `tag`, with a verdict for each injury."""
    found = verdicts or {"A": "section"}
    made = Docket(
        case=f"invented {tag}",
        mendbook="0.1.0",
        judged=WHEN,
        rulebook=BOOK,
        evaluator="columns",
        law="none",
        tyre=TyreNote(tag=tag, designation="26.5R25", construction="radial"),
        outcome="repair",
        verdict=max(found.values()),
        bracket=("section", "section"),
        decided=True,
        uses={"off-road": "section"},
        basis="house",
        reason="it lies within the limits",
        injuries=tuple(
            InjuryVerdict(name=name, zone=zone, verdict=verdict, bracket=(verdict, verdict))
            for name, verdict in found.items()
        ),
    )
    return made.model_dump(mode="json")


def decision(tag: str = "FH-1", **said: Any) -> Decision:
    return Decision(by="invented inspector", recorded=WHEN, docket=docket(tag), **said)


def follow_up(about: int, ran: float, state: str = "in service", **said: Any) -> FollowUp:
    cause = {} if state == "in service" else {"cause": "invented cause"}
    tree = {"by": "invented fitter", "recorded": WHEN, "on": "2027-01-01", "unit": "h"}
    return FollowUp.model_validate(tree | {"about": about, "ran": ran, "state": state} | cause | said)
