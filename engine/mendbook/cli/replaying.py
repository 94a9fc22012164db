"""Replay a docket that was kept: read it, judge its case again, say what differs."""

from pathlib import Path

from pydantic import ValidationError

from mendbook.card.replayed import replayed
from mendbook.cli.documents import open_bytes
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.facts.scenarios import TooManyChoices
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.case_file import CaseError
from mendbook.terms.docket import Docket
from mendbook.terms.document import DocumentError
from mendbook.triage import open_shop, replay
from mendbook.triage.evaluators import EvaluatorsDisagree
from mendbook.triage.places import ImpossibleCase
from mendbook.triage.replay import UnreplayableError


def print_differences(given: str, rulebook: Path | None, *, as_json: bool) -> bool:
    """Print what differs, or with `as_json` the docket as it comes out now; return whether nothing does.

    Raises RefusalError when the docket, its case or the rulebook cannot be used.
    """
    with refusing(DocumentError, RulebookError, FileNotFoundError):
        docket = read_docket(given)
        shop = open_shop(rulebook)
    refusals = (UnreplayableError, CaseError, ImpossibleCase, TooManyChoices, EvaluatorsDisagree)
    with refusing(*refusals, where=given):
        found = replay(docket, shop)
    if as_json:
        write(found.docket.model_dump_json(by_alias=True, indent=2))
    else:
        show(lambda width: replayed(docket, found, width))
    return not found.differences


def read_docket(given: str) -> Docket:
    """Return the docket in the JSON file `given`, or on standard input for `-`.

    Raises RefusalError or DocumentError.
    """
    data = open_bytes(given)
    try:
        return Docket.model_validate_json(data)
    except ValidationError as error:
        first = error.errors()[0]
        field = ".".join(map(str, first["loc"]))
        fault = f"{field}: {first['msg']}" if field else str(first["msg"])
        raise RefusalError(
            f"{given}: this is no docket ({fault}). Give the JSON that 'mendbook triage CASE --json' prints."
        ) from None
