"""Judge the decisions of a record again, and print which come out otherwise."""

import json
from dataclasses import asdict
from pathlib import Path
from typing import Any

from mendbook.card.rejudged import rejudged
from mendbook.cli.keeping import opened
from mendbook.cli.refusals import refusing
from mendbook.cli.screen import show, write
from mendbook.record.rejudging import Rejudged, rejudge
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import DocumentError
from mendbook.triage import open_shop


def print_rejudged(where: str, tag: str | None, rulebook: Path | None, *, as_json: bool) -> bool:
    """Print which decisions come out otherwise by today's book; return whether none does. Raises RefusalError."""
    with refusing(DocumentError, RulebookError, FileNotFoundError):
        shop = open_shop(rulebook)
    with opened(where) as record:
        found = list(rejudge(record, shop, tag=tag))
    if as_json:
        write(json.dumps([_as_data(one) for one in found], indent=2, ensure_ascii=False))
    else:
        show(lambda _: rejudged(found, shop.book))
    return all(one.is_same for one in found)


def _as_data(one: Rejudged) -> dict[str, Any]:
    answers = None if one.flip is None else {"then": asdict(one.flip.then), "now": asdict(one.flip.now)}
    return {"decision": one.decision, "tag": one.tag, "same": one.is_same, "fault": one.fault, "answers": answers}
