"""A YAML or JSON file as a tree of plain text, every piece with its line.

A loader that guesses would turn the tyre size 12.00 into 12.0 and the answer 'no' into False. Here every
scalar stays the text that was written; what it means is for the vocabulary to say. What YAML can do beyond
maps, lists and text (anchors, tags, merge keys, several documents) is refused: nobody in a shop needs it, and
it is how a small file becomes a large one. JSON is read as the part of YAML that it is; `null` is absent.
"""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from importlib.resources.abc import Traversable
from typing import NoReturn

import yaml

LIMIT = 1_000_000  # bytes
DEEPEST = 30  # maps and lists inside each other
STANDARD_INPUT = "standard input"  # the name of a document that comes from no file
WHOLE_FILE = 0  # the line of a fault that has none: there is no such file

Tree = dict[str, "Tree"] | list["Tree"] | str
Way = tuple[str | int, ...]  # keys and places in lists, from the top

_LOADER: type = getattr(yaml, "CBaseLoader", yaml.BaseLoader)  # the C parser is ten times as fast

_ADVICE: Mapping[str, str] = {
    "mapping values are not allowed": (
        "a ': ' stands inside a text, or the line before is not finished. "
        'Put the text in "quotes", or write it without the colon'
    ),
    "cannot start any token": "a text may not begin with a tab, @, ` or %. Use spaces to indent, or quote it",
    "block sequence entries are not allowed": "a list begins on the line of its name. Begin it below",
    "alphabetic or numeric character": 'a text that begins with * or & needs "quotes", such as "**"',
    "<document start>": "text follows the '...' that ends a document. Delete one of them",
    "unexpected end of stream": "a quote is opened and never closed. Close it",
    "expected ',' or": "a '[' or '{' is opened and never closed, or a comma is missing. Close it",
    "did not find expected key": "this line does not fit the ones above. Check quotes and the indent",
    "could not find expected ':'": "this line has no ': '. Write 'name: value'",
    "did not find expected '-'": "this line does not fit the list above it. Check the indent",
    "exceeded maximum nesting depth": "too many maps and lists stand inside each other. Write it flatter",
    "control characters": "there is a character that cannot be seen. Delete it",
    "invalid Unicode character escape": "this escape is no character. Write the character itself",
}


class DocumentError(ValueError):
    """A file that cannot be read, with the place of the fault.

    `file` is the name as given, `line` and `column` count from 1, `message` says what, why and what to write.
    `line` is WHOLE_FILE when the file could not be opened.
    """

    def __init__(self, file: str, line: int, column: int, message: str) -> None:
        super().__init__(f"{file}: {message}" if line == WHOLE_FILE else f"{file}:{line}: {message}")
        self.file, self.line, self.column, self.message = file, line, column, message


@dataclass(frozen=True)
class Document:
    """A file as maps, lists and text, and where each key and item of it stands."""

    name: str
    tree: dict[str, Tree]
    lines: Mapping[Way, int] = field(repr=False)

    def line(self, path: Way = ()) -> int:
        """Return the line, from 1, of the key or item at `path`, or of the nearest one above it."""
        while path not in self.lines:
            path = path[:-1]
        return self.lines[path]


def read_document(source: Traversable, *, name: str = "", limit: int = LIMIT) -> Document:
    """Return the file `source`; a pathlib path will do. `name` is what errors call it, else the path itself.

    Raises DocumentError when it is missing, longer than `limit` bytes, not text, or not one map.
    """
    name = name or str(source)
    return parse_document(read_bytes(source, name, limit=limit), name, limit=limit)


def read_bytes(source: Traversable, name: str, *, limit: int = LIMIT) -> bytes:
    """Return what is in the file `source`, no more than one byte over `limit`. Raises DocumentError."""
    try:
        with source.open("rb") as file:
            return file.read(limit + 1)
    except FileNotFoundError:
        raise DocumentError(name, WHOLE_FILE, 1, "there is no such file. Check the name and the folder.") from None
    except IsADirectoryError:
        raise DocumentError(name, WHOLE_FILE, 1, "this is a folder. Name one file in it.") from None
    except OSError as problem:
        reason = problem.strerror or problem
        raise DocumentError(name, WHOLE_FILE, 1, f"the file cannot be read: {reason}.") from None


def parse_document(text: str | bytes, name: str, *, limit: int = LIMIT) -> Document:
    """Return the document written in `text`; `name` is what errors call it.

    Raises DocumentError with the first fault found.
    """
    data = text.encode("utf-8", "surrogatepass") if isinstance(text, str) else text
    if len(data) > limit:
        raise DocumentError(name, 1, 1, f"the file is longer than {limit:,} bytes. Split it into smaller ones.")
    try:
        written = data.decode("utf-8-sig")
    except UnicodeDecodeError as problem:
        line = data.count(b"\n", 0, problem.start) + 1
        raise DocumentError(name, line, 1, "this is not UTF-8 text. Save the file as UTF-8.") from None
    if "\0" in written:
        line = written.count("\n", 0, written.index("\0")) + 1
        raise DocumentError(name, line, 1, "there is a NUL byte: this is no text file. Name a YAML or JSON file.")
    return _Builder(name).build(written)


class _Builder:
    """Puts a document together from the parser's events, one at a time, so that depth costs nothing."""

    def __init__(self, name: str) -> None:
        self.name = name
        self.lines: dict[Way, int] = {(): 1}
        self.events: Iterator[yaml.Event]

    def build(self, text: str) -> Document:
        root: Tree | None = None
        self.events = yaml.parse(text, Loader=_LOADER)
        try:
            for event in self.events:
                if isinstance(event, yaml.DocumentStartEvent):
                    if root is not None:
                        self.refuse(event, "a second document begins here ('---'). Put it in a file of its own.")
                    root = self.node(next(self.events), ())
        except yaml.MarkedYAMLError as problem:
            mark = problem.problem_mark or problem.context_mark
            place = (mark.line + 1, mark.column + 1) if mark else (1, 1)
            raise DocumentError(self.name, *place, _explain(str(problem.problem))) from None
        except yaml.YAMLError as problem:
            raise DocumentError(self.name, 1, 1, _explain(str(problem))) from None
        if root is None or root == "":
            raise DocumentError(self.name, 1, 1, "the file is empty. Write 'name: value' lines.")
        if not isinstance(root, dict):
            kind = "a list" if isinstance(root, list) else "a single text"
            raise DocumentError(self.name, 1, 1, f"the file is {kind}. Write 'name: value' lines.")
        return Document(self.name, root, self.lines)

    def node(self, event: yaml.Event, path: Way) -> Tree | None:
        """Return what begins at `event`; None for a null."""
        if isinstance(event, yaml.AliasEvent):
            self.refuse(event, "a '*' refers to another place. Write the text out, or quote it if it begins with *.")
        if getattr(event, "anchor", None):
            self.refuse(event, "an '&' names this place. Leave it out, or quote the text if it begins with &.")
        if getattr(event, "tag", None):
            self.refuse(event, "a '!' gives a type. Leave it out, or quote the text if it begins with !.")
        if isinstance(event, yaml.ScalarEvent):
            is_null = event.implicit[0] and event.value in ("null", "~")
            return None if is_null else event.value
        if len(path) >= DEEPEST:
            self.refuse(event, f"more than {DEEPEST} maps and lists stand inside each other. Write it flatter.")
        return self.map(path) if isinstance(event, yaml.MappingStartEvent) else self.list(path)

    def map(self, path: Way) -> dict[str, Tree]:
        found: dict[str, Tree] = {}
        seen: dict[str, int] = {}
        while not isinstance(event := next(self.events), yaml.MappingEndEvent):
            key = self.key(event)
            if key in seen:
                self.refuse(event, f"'{key}' stands on line {seen[key]} already. Keep one of the two.")
            seen[key] = _place(event)[0]
            self.lines[*path, key] = seen[key]
            if (value := self.node(next(self.events), (*path, key))) is not None:
                found[key] = value
        return found

    def key(self, event: yaml.Event) -> str:
        key = self.node(event, ("",) * DEEPEST) if isinstance(event, yaml.ScalarEvent | yaml.AliasEvent) else None
        if not isinstance(key, str) or not key:
            self.refuse(event, "this is no name. Write 'name: value', with a plain word or words as the name.")
        if key == "<<":
            self.refuse(event, "'<<' merges another place into this one. Write the lines out.")
        return key

    def list(self, path: Way) -> list[Tree]:
        found: list[Tree] = []
        while not isinstance(event := next(self.events), yaml.SequenceEndEvent):
            place = (*path, len(found))
            self.lines[place] = _place(event)[0]
            if (item := self.node(event, place)) is None:
                self.refuse(event, "an item of this list is null. Delete it, or write 'unknown'.")
            found.append(item)
        return found

    def refuse(self, event: yaml.Event, message: str) -> NoReturn:
        raise DocumentError(self.name, *_place(event), message)


def _place(event: yaml.Event) -> tuple[int, int]:
    mark = event.start_mark
    return (mark.line + 1, mark.column + 1) if mark else (1, 1)


def _explain(problem: str) -> str:
    for known, advice in _ADVICE.items():
        if known in problem:
            return f"{advice}."
    return f"this is not YAML: {problem}. Check the indent, the quotes and the brackets."
