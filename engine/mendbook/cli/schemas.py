"""The schemas of what goes in and comes out, JSON Schema draft 2020-12."""

from typing import Any

from mendbook.folders import folder
from mendbook.terms.vocabulary import Vocabulary

DRAFT = "https://json-schema.org/draft/2020-12/schema"


def schema(kind: str) -> dict[str, Any]:
    """Return the schema of a `case`, a `docket` or a cure `order`."""
    match kind:
        case "case":
            from mendbook.terms.case_model import case_model

            described = case_model(shipped_vocabulary()).model_json_schema(by_alias=True)
        case "docket":
            from mendbook.terms.docket import Docket

            described = Docket.model_json_schema(by_alias=True, mode="serialization")
        case _:
            from mendbook.terms.cure_order import CureOrder

            described = CureOrder.model_json_schema(by_alias=True)
    return {"$schema": DRAFT, **described}


def shipped_vocabulary() -> Vocabulary:
    """Return the vocabulary that comes with the program."""
    from mendbook.rulebook.vocabulary_file import read_vocabulary

    return read_vocabulary(folder("knowledge").joinpath("vocabulary"))
