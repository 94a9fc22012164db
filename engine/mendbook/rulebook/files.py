"""The files of a rulebook, read once: each by its place in the folder."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import Document, parse_document


@dataclass(frozen=True)
class Written:
    """One file: its name and what stands in it."""

    name: str
    data: bytes

    def parse(self) -> Document:
        """Return the file as a document. Raises DocumentError with file and line."""
        return parse_document(self.data, self.name)

    def says_the_same(self, other: "Written") -> bool:
        """Return whether the two files differ in nothing but comments and layout."""
        return self.data == other.data or self.parse().tree == other.parse().tree


def read_files(folder: Traversable) -> dict[str, Written]:
    """Return every YAML file below `folder` by its place, such as `limits/load.yaml`, in the order of the places.

    Raises RulebookError for a file that would be passed over.
    """
    return {place: Written(str(file), file.read_bytes()) for place, file in _places(folder, "")}


def digest(*folders: Mapping[str, Written]) -> str:
    """Return the SHA-256 of the places and bytes of all files, as hexadecimal digits."""
    found = hashlib.sha256()
    for files in folders:
        for place, file in files.items():
            found.update(f"{place}\0".encode() + file.data)
    return found.hexdigest()


def _places(folder: Traversable, prefix: str) -> Iterator[tuple[str, Traversable]]:
    for entry in sorted(folder.iterdir(), key=lambda e: e.name):
        if entry.is_dir():
            yield from _places(entry, f"{prefix}{entry.name}/")
        elif entry.name.endswith(".yaml"):
            yield f"{prefix}{entry.name}", entry
        elif entry.name.endswith(".yml"):
            raise RulebookError(f"{entry}: this file would not be read. Rename it to end in '.yaml'.")
