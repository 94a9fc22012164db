"""JSON Schemas (draft 2020-12) of the files of a rulebook, made from its own vocabulary, sources and cover page.

They let an editor complete and underline a file while it is written. What a schema cannot see, because it lies
between two places of a file or of the book, is left to the reader and the static checks.
"""

from collections.abc import Callable, Mapping

from mendbook.rulebook.context import Context
from mendbook.rulebook.cover import Cover
from mendbook.rulebook.schemas.cover_page import cover_schema, own_cover_schema
from mendbook.rulebook.schemas.rule import rule_schema
from mendbook.rulebook.schemas.scalars import Schema
from mendbook.rulebook.schemas.source import source_schema
from mendbook.rulebook.schemas.table import table_schema
from mendbook.rulebook.schemas.vocabulary import vocabulary_schema

__all__ = ["DRAFT", "KINDS", "Schema", "schema"]

DRAFT = "https://json-schema.org/draft/2020-12/schema"

_MADE: Mapping[str, Callable[[Cover, Context], Schema]] = {
    "rule": lambda _, context: rule_schema(context),
    "table": lambda _, context: table_schema(context),
    "cover": lambda _, context: cover_schema(context),
    "own_cover": lambda _, context: own_cover_schema(context),
    "vocabulary": lambda cover, context: vocabulary_schema(cover, context),
    "source": lambda _, context: source_schema(context),
}
KINDS = tuple(_MADE)


def schema(kind: str, cover: Cover, context: Context) -> Schema:
    """Return the schema of one of KINDS for the book that `cover` and `context` belong to."""
    return {"$schema": DRAFT, "title": kind, **_MADE[kind](cover, context)}
