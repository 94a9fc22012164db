"""The schemas of the files of a rulebook, printed or written side by side into a folder."""

import json
from collections.abc import Mapping
from pathlib import Path

from mendbook.cli.refusals import RefusalError, refusing
from mendbook.folders import folder
from mendbook.rulebook.book import open_context
from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.schemas import KINDS, Schema, schema
from mendbook.terms.document import DocumentError

ENDING = ".schema.json"


def book_schemas(rulebook: Path | None) -> dict[str, Schema]:
    """Return the schema of each kind of file; rules and tables need not be right for it. Raises RefusalError."""
    with refusing(DocumentError, RulebookError, FileNotFoundError):
        cover, context = open_context(folder("rules"), folder("knowledge"), rulebook)
    return {kind: schema(kind, cover, context) for kind in KINDS}


def schema_text(described: Schema) -> str:
    """Return a schema as JSON."""
    return json.dumps(described, indent=1, ensure_ascii=False)


def write_schemas(schemas: Mapping[str, Schema], target: Path) -> tuple[Path, ...]:
    """Write each schema to a file of its own in the folder `target`, which is made when its parent is there.

    Return the files. Raises RefusalError when the disk refuses.
    """
    try:
        target.mkdir(exist_ok=True)
        written = tuple(target / f"{kind}{ENDING}" for kind in schemas)
        for file, described in zip(written, schemas.values(), strict=True):
            file.write_text(f"{schema_text(described)}\n", encoding="utf-8")
    except OSError as error:
        raise RefusalError(f"{target}: nothing can be written there ({error.strerror}). Name a folder.") from error
    return written
