"""A rulebook in memory: its files as text, read through the same door as those of a disk."""

import io
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable
from pathlib import PurePosixPath
from typing import Any

from mendbook.folders import folder

TOPS = ("rules", "knowledge")


@dataclass(frozen=True)
class Page(Traversable):
    """A file or folder among `files`, which are kept by their place: 'rules/crown/through.yaml'."""

    place: str
    files: Mapping[str, bytes] = field(repr=False)

    @property
    def name(self) -> str:
        return PurePosixPath(self.place).name

    def __str__(self) -> str:
        return self.place

    def iterdir(self) -> Iterator["Page"]:
        start = f"{self.place}/"
        heads = dict.fromkeys(place[len(start) :].split("/")[0] for place in self.files if place.startswith(start))
        return (Page(f"{start}{head}", self.files) for head in heads)

    def is_file(self) -> bool:
        return self.place in self.files

    def is_dir(self) -> bool:
        return not self.is_file() and any(place.startswith(f"{self.place}/") for place in self.files)

    def joinpath(self, *parts: Any) -> "Page":
        return Page("/".join((self.place, *map(str, parts))), self.files)

    def __truediv__(self, part: Any) -> "Page":
        return self.joinpath(part)

    def open(self, mode: str = "rb", *_: Any, **__: Any) -> Any:
        if mode != "rb":
            raise ValueError(f"pages are read as bytes, not in the mode '{mode}'")
        if not self.is_file():
            raise FileNotFoundError(self.place)
        return io.BytesIO(self.files[self.place])

    def read_bytes(self) -> bytes:
        return bytes(self.open().read())


def shipped() -> dict[str, bytes]:
    """Return the files of the shipped rulebook by their places."""
    return {place: file.read_bytes() for top in TOPS for place, file in _files(top, folder(top))}


def _files(place: str, entry: Traversable) -> Iterator[tuple[str, Traversable]]:
    for inner in sorted(entry.iterdir(), key=lambda e: e.name):
        below = f"{place}/{inner.name}"
        if inner.is_dir():
            yield from _files(below, inner)
        else:
            yield below, inner
