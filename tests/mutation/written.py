"""The files of a rulebook as trees of text, and ways to write one of them otherwise."""

import random
from collections.abc import Callable, Iterator, Mapping
from copy import deepcopy
from dataclasses import dataclass
from functools import cached_property, partial
from typing import Any

import yaml

from mendbook.terms.document import parse_document
from mendbook.terms.vocabulary import Vocabulary

Path = tuple[str | int, ...]
Tree = dict[str, Any]
Change = Callable[[], Tree]  # makes the tree of a changed file; most places are never drawn
Files = Mapping[str, bytes | Change | None]  # None: the file is gone
RULE_WORDS = {
    "rule", "asks", "applies to", "chart", "otherwise", "when", "examples", "verdict", "hold", "stop", "rule out",
    "cap", "do", "caution", "because", "source", "also", "cleared by",
}  # fmt: skip


@dataclass(frozen=True)
class Break:
    """One thing broken: the way, where and what, and the changed files."""

    way: str
    where: str
    files: Files

    def pages(self, whole: Mapping[str, bytes]) -> dict[str, bytes]:
        """Return the files of the broken book."""
        changed = {place: dump(text()) if callable(text) else text for place, text in self.files.items()}
        return {place: text for place, text in {**whole, **changed}.items() if text is not None}


@dataclass(frozen=True)
class Written:
    """A whole rulebook as it is written."""

    files: Mapping[str, bytes]
    vocabulary: Vocabulary

    @cached_property
    def trees(self) -> dict[str, dict[str, Any]]:
        return {
            place: dict(parse_document(text, place).tree)
            for place, text in self.files.items()
            if place.endswith(".yaml")
        }

    @cached_property
    def rules(self) -> dict[str, dict[str, Any]]:
        return {place: tree for place, tree in self.trees.items() if place.startswith("rules/") and "rule" in tree}

    @cached_property
    def tables(self) -> dict[str, dict[str, Any]]:
        return {place: tree for place, tree in self.trees.items() if "table" in tree}

    @cached_property
    def facts(self) -> dict[tuple[str, str], dict[str, Any]]:
        """Every fact by its file and name."""
        return {
            (place, name): fact
            for place, tree in self.trees.items()
            if place.startswith("knowledge/vocabulary/")
            for name, fact in tree["facts"].items()
        }

    @cached_property
    def sources(self) -> dict[str, dict[str, Any]]:
        return {place: tree for place, tree in self.trees.items() if place.startswith("knowledge/sources/")}

    @cached_property
    def verdicts(self) -> list[str]:
        return list(self.trees["rules/rulebook.yaml"]["verdicts"])

    def lines(self) -> Iterator[tuple[str, Path, dict[str, Any]]]:
        """Yield (file, path, line): what says something, wherever it stands in a rule."""
        for place, tree in self.rules.items():
            for path in line_paths(tree):
                yield place, path, at(tree, path)

    def limits(self) -> Iterator[tuple[str, Path, str, Any]]:
        """Yield (file, path, fact, what is written): every limit of every line."""
        for place, tree in self.rules.items():
            for path in line_paths(tree):
                own = (*path, "when") if "when" in at(tree, path) else path
                for name, written in at(tree, own).items():
                    if name not in RULE_WORDS:
                        yield place, (*own, name), name, written

    def cells(self) -> Iterator[tuple[str, Path, str]]:
        """Yield (file, path, what is written): every cell of every limit table."""
        for place, tree in self.tables.items():
            for row, cells in tree["rows"].items():
                if isinstance(cells, dict):
                    for column, cell in cells.items():
                        yield place, ("rows", row, column), cell
                else:
                    yield place, ("rows", row), cells


def line_paths(tree: Mapping[str, Any]) -> list[Path]:
    """Return where the lines of a rule stand; () is a when-rule itself."""
    if "chart" not in tree:
        return [()]
    return [*(("chart", number) for number in range(len(tree["chart"]))), ("otherwise",)]


def at(tree: Any, path: Path) -> Any:
    """Return what stands at `path`."""
    for step in path:
        tree = tree[step]
    return tree


def put(tree: Mapping[str, Any], path: Path, value: Any) -> Change:
    """Return a copy of `tree` with `value` at `path`, made when it is asked for."""
    return partial(_changed, tree, {path: value})


def swapped(tree: Mapping[str, Any], one: Path, other: Path) -> Change:
    """Return a copy of `tree` in which what stands at two places has changed places."""
    return partial(_changed, tree, {one: at(tree, other), other: at(tree, one)})


def drop(tree: Mapping[str, Any], path: Path) -> Change:
    """Return a copy of `tree` without what stands at `path`."""

    def changed() -> Tree:
        copy = deepcopy(dict(tree))
        del at(copy, path[:-1])[path[-1]]
        return copy

    return changed


def renamed(tree: Mapping[str, Any], path: Path, name: str) -> Change:
    """Return a copy of `tree` in which the key at the end of `path` is called `name`, in its old place."""

    def changed() -> Tree:
        copy = deepcopy(dict(tree))
        inner = at(copy, path[:-1])
        items = [(name if key == path[-1] else key, value) for key, value in inner.items()]
        inner.clear()
        inner.update(items)
        return copy

    return changed


def _changed(tree: Mapping[str, Any], values: Mapping[Path, Any]) -> Tree:
    copy = deepcopy(dict(tree))
    for path, value in values.items():
        at(copy, path[:-1])[path[-1]] = deepcopy(value)
    return copy


def dump(tree: Mapping[str, Any]) -> bytes:
    """Return a tree as the text of a file."""
    text: str = yaml.safe_dump(dict(tree), sort_keys=False, allow_unicode=True, width=120)
    return text.encode()


def spell(path: Path) -> str:
    """Return a path in words: 'chart 2, crack length'."""
    words = [f"{step + 1}" if isinstance(step, int) else str(step) for step in path]
    return ", ".join(words).replace("chart, ", "chart ").replace("examples, ", "example ") or "the rule"


def chance(*names: str) -> random.Random:
    """Return a source of chance that hangs on `names` alone, so that a break elsewhere changes nothing here."""
    return random.Random("/".join(names))
