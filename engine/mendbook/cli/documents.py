"""What a command is given to read: a file, or standard input for `-`."""

import sys
from pathlib import Path

from mendbook.terms.document import LIMIT, STANDARD_INPUT, Document, Way, parse_document, read_bytes, read_document

DASH = "-"  # stands for standard input


def open_document(given: str) -> Document:
    """Return the YAML or JSON file `given`, or what comes on standard input when it is `-`.

    Raises DocumentError with file and line.
    """
    if given == DASH:
        return parse_document(sys.stdin.buffer.read(LIMIT + 1), STANDARD_INPUT)
    return read_document(Path(given), name=given)


def open_bytes(given: str) -> bytes:
    """Return what is in the file `given`, or comes on standard input when it is `-`. Raises DocumentError."""
    return sys.stdin.buffer.read(LIMIT + 1) if given == DASH else read_bytes(Path(given), given)


def place(document: Document, way: Way) -> str:
    """Return where `way` stands, as errors say it: 'case.yaml:24: injuries [1].length'."""
    field = ".".join(f"[{step + 1}]" if isinstance(step, int) else step for step in way).replace(".[", " [")
    return ": ".join(part for part in (f"{document.name}:{document.line(way)}", field) if part)
