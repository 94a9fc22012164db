"""What a paper consists of, before anybody lays it out: blocks in parts, parts in bands, bands from top to foot."""

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Literal

from mendbook.card.drawing.shapes import Drawing
from mendbook.terms.docket import Outcome


@dataclass(frozen=True)
class Text:
    """A paragraph."""

    said: str
    strong: bool = False


@dataclass(frozen=True)
class Pairs:
    """Labels with what belongs to them."""

    rows: tuple[tuple[str, str], ...]


@dataclass(frozen=True)
class Points:
    """Things to read, one after another."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class RunOn:
    """Things to read, run on in one paragraph."""

    items: tuple[str, ...]


@dataclass(frozen=True)
class Task:
    """Something to do, with a box to tick.

    hold_point : what must be so before anybody goes on; it takes a signature
    room : what to write down, each with a line
    """

    said: str
    number: int | None = None
    figures: str = ""
    caution: str = ""
    hold_point: str = ""
    room: tuple[str, ...] = ()


@dataclass(frozen=True)
class Tasks:
    """Things to do, in order."""

    items: tuple[Task, ...]


@dataclass(frozen=True)
class Grid:
    """Rows of cells under their headings; an empty cell is there to be written into. `shares` are of the width."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    shares: tuple[int, ...]


@dataclass(frozen=True)
class Blanks:
    """Labels with a line to write on."""

    labels: tuple[str, ...]


@dataclass(frozen=True)
class Picture:
    """Drawings side by side over their caption. `key` names them within the paper."""

    key: str
    drawings: tuple[Drawing, ...]
    caption: str = ""


Block = Text | Pairs | Points | RunOn | Tasks | Grid | Blanks | Picture


@dataclass(frozen=True)
class Part:
    """Blocks under a title."""

    title: str
    blocks: tuple[Block, ...]


@dataclass(frozen=True)
class Band:
    """Parts across the sheet: two columns side by side, one wide column, or a run that fills columns in turn."""

    form: Literal["pair", "wide", "run"]
    parts: tuple[Part, ...]
    beside: tuple[Part, ...] = ()  # the narrow column of a pair


@dataclass(frozen=True)
class Paper:
    """A whole paper.

    name : what kind of paper it is; `identity` stands on every sheet of it
    word, answer : the outcome in a word, and in a sentence
    """

    name: str
    outcome: Outcome
    identity: str
    title: str
    subtitle: str
    word: str
    answer: str
    bands: tuple[Band, ...]
    foot: str

    @property
    def parts(self) -> Iterator[Part]:
        """Every part, in the order in which they are read."""
        for band in self.bands:
            yield from (*band.parts, *band.beside)

    @property
    def pictures(self) -> Iterator[Picture]:
        """Every picture."""
        yield from (block for part in self.parts for block in part.blocks if isinstance(block, Picture))


def tasks(items: tuple[str, ...], room: tuple[str, ...] = ()) -> Tasks:
    """Return things to do, each with a box and the same room to write."""
    return Tasks(tuple(Task(item, room=room) for item in items))
