"""The schema of a source file."""

from mendbook.rulebook.citations import ANY_PLACE, SOURCE_NEEDED
from mendbook.rulebook.clauses import ASKING, CLAUSE_NEEDED, SILENT
from mendbook.rulebook.context import Context
from mendbook.rulebook.schemas.limits import anywhere
from mendbook.rulebook.schemas.scalars import NEVER, TEXT, Schema, one_of, record
from mendbook.rulebook.source import KINDS

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


def source_schema(context: Context) -> Schema:
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
    properties["clauses"] = {
        "type": "array",
        "items": _clause(context),
        "description": "What single places ask of any book, written from the text and not from the rules that cite it.",
    }
    return record(SOURCE_NEEDED, properties, description="One publication or basis that rules may cite.")


def _clause(context: Context) -> Schema:
    yes_or_no = one_of(("yes", "no"))
    properties: Schema = {
        "place": {**TEXT, "description": "Which of the places it is."},
        "says": {**TEXT, "description": "What it says, in our own words."},
        "read": {**yes_or_no, "description": "Whether the text was read; 'no' where it is quoted from memory."},
        "when": {
            "type": "object",
            "minProperties": 1,
            "properties": anywhere(context.vocabulary),
            "additionalProperties": False,
            "description": "The facts in which it speaks.",
        },
        "at least": {**one_of(context.verdicts), "description": "The mildest verdict that any book may give there."},
        "hold": {**yes_or_no, "description": "Whether any book must hold there."},
        "stop": {**yes_or_no, "description": "Whether any book must stop there."},
        "because": {**TEXT, "description": "Why it asks no more than that."},
        SILENT: {**TEXT, "description": "Why no fact can express it; it then asks for nothing."},
    }
    return record(
        CLAUSE_NEEDED,
        properties,
        **{
            "if": {"required": [SILENT]},
            "then": {"properties": dict.fromkeys(("when", *ASKING), NEVER)},
            "else": {"required": ["when"], "anyOf": [{"required": [key]} for key in ASKING]},
        },
    )
