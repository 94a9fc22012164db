"""Which cases come out otherwise by another rulebook, and through which findings."""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from datetime import datetime

from mendbook.terms.case_file import check_case
from mendbook.terms.docket import Docket, Finding
from mendbook.terms.document import Document
from mendbook.triage import Shop, judge


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


def compare_cases(documents: Iterable[Document], then: Shop, now: Shop, *, stamp: datetime) -> Iterator[Flip]:
    """Judge each case file by the books of both shops, as of `stamp` where the file names no day.

    Raises CaseError when the vocabulary of one of them cannot read it, and what `judge` raises.
    """
    for document in documents:
        before, after = (
            judge(check_case(document, shop.book.vocabulary), shop, now=stamp) for shop in (then, now)
        )  # fmt: skip
        told = [{_told(finding) for finding in docket.findings} for docket in (before, after)]
        yield Flip(
            case=document.name,
            then=answer(before),
            now=answer(after),
            gone=tuple(_deciding(before, (f for f in before.findings if _told(f) not in told[1]))),
            come=tuple(_deciding(after, (f for f in after.findings if _told(f) not in told[0]))),
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
