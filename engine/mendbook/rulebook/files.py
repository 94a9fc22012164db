"""The files of a rulebook, read once: each by its place in the folder."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable

from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import Document, parse_document, read_bytes


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


@dataclass(frozen=True)
class Folders:
    """The folders of a rulebook with every file in them, read once.

    Two of them are equal when they have the same names and hold the same bytes, whenever and wherever they were read.
    `digests` are those of rules and knowledge together, and of the shop's own book ('' where there is none).
    """

    names: tuple[str, ...]
    digests: tuple[str, str]
    rules: Mapping[str, Written] = field(compare=False, repr=False)
    knowledge: Mapping[str, Written] = field(compare=False, repr=False)
    own: Mapping[str, Written] | None = field(compare=False, repr=False)


def read_folders(rules: Traversable, knowledge: Traversable, own: Traversable | None = None) -> Folders:
    """Read every file of a rulebook, and of the shop's own book in the folder `own`.

    Raises RulebookError or DocumentError for a file that would be passed over or cannot be read.
    """
    ruling, known = read_files(rules), read_files(knowledge)
    laid = None if own is None else read_files(own)
    digests = digest(ruling, known), "" if laid is None else digest(laid)
    return Folders((str(rules), str(knowledge), str(own or "")), digests, ruling, known, laid)


def read_files(folder: Traversable) -> dict[str, Written]:
    """Return every YAML file below `folder` by its place, such as `limits/load.yaml`, in the order of the places.

    A folder that is not there has no files.
    Raises RulebookError or DocumentError for a file that would be passed over or cannot be read.
    """
    if not folder.is_dir():
        return {}
    return {place: Written(str(file), read_bytes(file, str(file))) for place, file in _places(folder, "")}


def files_in(folder: str, files: Mapping[str, Written]) -> tuple[Written, ...]:
    """Return those of `files` that stand right in `folder`."""
    return tuple(file for place, file in files.items() if place.rpartition("/")[0] == folder)


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
