"""The schema of a source file."""

from mendbook.rulebook.citations import ANY_PLACE, KINDS, SOURCE_NEEDED
from mendbook.rulebook.schemas.scalars import TEXT, Schema, one_of, record

_MEANS = {
    "source": "The id that rules cite.",
    "title": "Its title.",
    "publisher": "Who published it.",
    "edition": "Which edition or text.",
    "known": "How far the text was read, honestly.",
    "link": "Where it can be found.",
    "owner": "Who answers for it.",
    "reviewed": "The day it was last reviewed.",
    "note": "What else a reader should know.",
}


def source_schema() -> Schema:
    """Return the schema of a source file."""
    places = {"type": "object", "minProperties": 1, "additionalProperties": TEXT}
    properties: Schema = {key: {**TEXT, "description": means} for key, means in _MEANS.items()}
    properties["kind"] = {**one_of(KINDS), "description": "What kind of authority it has."}
    properties["places"] = {
        "if": {"type": "object"},
        "then": places,
        "else": {"const": ANY_PLACE},
        "description": f"Sections that may be cited, each with what it says; or '{ANY_PLACE}'.",
    }
    return record(SOURCE_NEEDED, properties, description="One publication or basis that rules may cite.")
