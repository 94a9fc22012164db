"""The schemas of what goes in and comes out, JSON Schema draft 2020-12."""

from pathlib import Path
from typing import Any

from mendbook.cli.refusals import refusing
from mendbook.folders import folder
from mendbook.terms.vocabulary import Vocabulary

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema(kind: str, rulebook: Path | None = None) -> dict[str, Any]:
    """Return the schema of a `case`, a `docket` or a cure `order`.

    Facts of the shop's own book in the folder `rulebook` stand in that of a case.
    Raises RefusalError when that book cannot be read.
    """
    match kind:
        case "case":
            from mendbook.terms.case_model import case_model

            described = case_model(open_vocabulary(rulebook)).model_json_schema(by_alias=True)
        case "docket":
            from mendbook.terms.docket import Docket

            described = Docket.model_json_schema(by_alias=True, mode="serialization")
        case _:
            from mendbook.terms.cure_order import CureOrder

            described = CureOrder.model_json_schema(by_alias=True)
    return {"$schema": DRAFT, **described}


def open_vocabulary(rulebook: Path | None = None) -> Vocabulary:
    """Return the vocabulary that comes with the program, with that of the shop's own book in `rulebook` added.

    Raises RefusalError when it cannot be read.
    """
    from mendbook.rulebook.book import open_context
    from mendbook.rulebook.errors import RulebookError
    from mendbook.terms.document import DocumentError

    with refusing(RulebookError, DocumentError):
        _, context = open_context(folder("rules"), folder("knowledge"), rulebook)
    return context.vocabulary
