"""One item of a knowledge file, read figure by figure; every fault with its file and line."""

import re
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.plan.size import Size
from mendbook.rulebook.errors import RulebookError, refuse
from mendbook.terms.document import Document, Tree, read_document
from mendbook.terms.quantity import QuantityError, read_quantity
from mendbook.terms.units import Dimension

_SIZE = re.compile(r"(\d+(?:\.\d+)?) x (\d+(?:\.\d+)?) mm")
_RATE = re.compile(r"(\d+(?:\.\d+)?) (l|m2)/m2\b.*")
_DENSITY = re.compile(r"(\d+(?:\.\d+)?) kg/l")


@dataclass(frozen=True)
class Item:
    """One map of figures in a file."""

    document: Document
    path: tuple[str | int, ...]
    tree: Mapping[str, Tree]

    def has(self, key: str) -> bool:
        """Return whether `key` stands here."""
        return key in self.tree

    def word(self, key: str, default: str | None = None) -> str:
        """Return the text of `key`. Raises RulebookError when it is missing and there is no default."""
        text = self.tree.get(key, default)
        if isinstance(text, str):
            return text
        raise self.fault(key, f"'{key}' is missing or no text", f"Write '{key}: ...' here.")

    def words(self, key: str) -> tuple[str, ...]:
        """Return the texts of `key`, a text or a list of texts; none when it is missing."""
        found = self.tree.get(key, [])
        texts = [found] if isinstance(found, str) else found
        if isinstance(texts, list) and all(isinstance(text, str) for text in texts):
            return tuple(str(text) for text in texts)
        raise self.fault(key, f"'{key}' is not a list of texts", f"Write '{key}: [..., ...]'.")

    def number(self, key: str, dimension: Dimension) -> float:
        """Return the plain reading of `key` [own unit of `dimension`]."""
        low, high = self.span(key, dimension)
        if low != high:
            raise self.fault(key, f"'{key}' is a range", "Write one figure.")
        return low

    def span(self, key: str, dimension: Dimension) -> tuple[float, float]:
        """Return the ends of the range of `key` [own unit of `dimension`]."""
        try:
            bounds = read_quantity(self.word(key), dimension).bounds
        except QuantityError as problem:
            raise self.fault(key, str(problem)) from None
        if bounds is None:
            raise self.fault(key, f"'{key}' is unknown", "Write the figure: a catalogue knows its items.")
        return bounds

    def size(self, key: str) -> Size:
        """Return `key` as a size, around x across [mm]."""
        around, across = self._match(key, _SIZE, "200 x 300 mm")
        return Size(float(around), float(across))

    def rate(self, key: str) -> float:
        """Return the use of a material for each square metre [l or m2]."""
        return float(self._match(key, _RATE, "0.30 l/m2")[0])

    def density(self) -> float:
        """Return the density [kg/l]."""
        return float(self._match("density", _DENSITY, "1.12 kg/l")[0])

    def fault(self, key: str, what: str, instead: str = "") -> RulebookError:
        """Return the error for the place of `key`."""
        return refuse(self.document, (*self.path, key), what, instead)

    def _match(self, key: str, pattern: re.Pattern[str], example: str) -> tuple[str, ...]:
        if found := pattern.fullmatch(self.word(key)):
            return found.groups()
        raise self.fault(key, f"'{key}: {self.word(key)}' cannot be read", f"Write it like '{key}: {example}'.")


def read_items(source: Traversable) -> tuple[Item, Iterator[Item]]:
    """Return the head of the file `source`, and its items. Raises RulebookError or DocumentError."""
    document = read_document(source)
    listed = document.tree.get("items")
    if not isinstance(listed, list):
        raise refuse(document, ("items",), "this file lists no items", "Write 'items:' and a list below it.")

    def each() -> Iterator[Item]:
        for place, tree in enumerate(listed):
            if not isinstance(tree, dict):
                raise refuse(document, ("items", place), "this item is no map", "Write 'name: value' lines.")
            yield Item(document, ("items", place), tree)

    return Item(document, (), document.tree), each()
