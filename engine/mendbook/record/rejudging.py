"""Every decision that counts, judged again by today's book: which of them come out otherwise."""

from collections.abc import Iterator
from dataclasses import dataclass

from pydantic import ValidationError

from mendbook.facts.scenarios import TooManyChoices
from mendbook.record.chain import Link
from mendbook.record.entry import Decision
from mendbook.record.ledger import Record
from mendbook.terms.case_file import CaseError
from mendbook.terms.docket import Docket
from mendbook.triage import Shop, replay
from mendbook.triage.evaluators import EvaluatorsDisagree
from mendbook.triage.flips import Flip, compare
from mendbook.triage.places import ImpossibleCase
from mendbook.triage.replay import UnreplayableError

_REFUSALS = (UnreplayableError, CaseError, ImpossibleCase, TooManyChoices, EvaluatorsDisagree)


@dataclass(frozen=True)
class Rejudged:
    """One decision judged again: how it differs, or why it cannot be judged."""

    decision: int
    tag: str
    digest: str
    flip: Flip | None
    fault: str = ""

    @property
    def is_same(self) -> bool:
        """True when it was judged, and the answer is the one that was given."""
        return self.flip is not None and not self.flip.is_flipped


def rejudge(record: Record, shop: Shop, *, tag: str | None = None) -> Iterator[Rejudged]:
    """Judge every decision that was neither put right nor withdrawn, as on its day, by the book of `shop`.

    Only those of the tyre `tag` where one is named. Raises RecordError.
    """
    for line in record.lines(tag=tag, kind="decision"):
        if line.corrected_by is None:
            yield _again(record.get(line.sequence), line.tag, shop)


def _again(link: Link, tag: str, shop: Shop) -> Rejudged:
    entry = link.entry
    assert isinstance(entry, Decision)
    digest = str((entry.docket.get("rulebook") or {}).get("digest", ""))
    try:
        docket = Docket.model_validate(entry.docket)
    except ValidationError as error:
        first = error.errors()[0]
        place = ".".join(map(str, first["loc"]))
        return Rejudged(link.sequence, tag, digest, None, f"its docket is of another program ({place}: {first['msg']})")
    name = f"Entry {link.sequence}, {docket.case}"
    try:
        return Rejudged(link.sequence, tag, digest, compare(name, docket, replay(docket, shop).docket))
    except _REFUSALS as error:
        return Rejudged(link.sequence, tag, digest, None, str(error))
