"""What a docket answers, and how the answer of one case differs between two dockets."""

from collections.abc import Iterable
from dataclasses import dataclass

from mendbook.terms.docket import Docket, Finding


@dataclass(frozen=True)
class Answer:
    """What a docket answers, and for each use what holds the tyre."""

    outcome: str
    verdict: str
    bracket: str
    uses: dict[str, str]
    holds: dict[str, tuple[str, ...]]
    stops: tuple[str, ...]


@dataclass(frozen=True)
class Flip:
    """One case by the old book and by the new; `gone` and `come` are the findings that differ, the deciding first."""

    case: str
    then: Answer
    now: Answer
    gone: tuple[Finding, ...]
    come: tuple[Finding, ...]

    @property
    def is_flipped(self) -> bool:
        """True when the answer differs, not only what stands behind it."""
        return self.then != self.now


def compare(case: str, then: Docket, now: Docket) -> Flip:
    """Return how two dockets of one case differ; `case` is what it is called."""
    told = [{_told(finding) for finding in docket.findings} for docket in (then, now)]
    return Flip(
        case=case,
        then=answer(then),
        now=answer(now),
        gone=tuple(_deciding(then, (f for f in then.findings if _told(f) not in told[1]))),
        come=tuple(_deciding(now, (f for f in now.findings if _told(f) not in told[0]))),
    )


def answer(docket: Docket) -> Answer:
    """Return what `docket` answers."""
    heard = [f for f in docket.findings if "hold" in f.says and (f.readings["bad"] or f.readings["as read"])]
    return Answer(
        outcome=docket.outcome,
        verdict=docket.verdict or "",
        bracket=" to ".join(dict.fromkeys(docket.bracket or ())),
        uses={use: verdict or "" for use, verdict in docket.uses.items()},
        holds={use: tuple(dict.fromkeys(f.text for f in heard if use in f.use)) for use in docket.uses},
        stops=docket.stops,
    )


def _told(finding: Finding) -> tuple[object, ...]:
    """Return what makes a finding another one; the line in the file is not part of it."""
    return (
        finding.rule, finding.about, finding.says, finding.verdict, finding.text, finding.because,
        tuple(finding.limit.items()), tuple(finding.readings.items()),
    )  # fmt: skip


def _deciding(docket: Docket, findings: Iterable[Finding]) -> list[Finding]:
    """Return the findings with those that say the verdict, hold or stop first."""
    return sorted(findings, key=lambda f: (f.verdict != docket.verdict, "stop" not in f.says, "hold" not in f.says))
