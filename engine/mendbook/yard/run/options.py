"""What a review is asked for."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import date
from enum import StrEnum
from pathlib import Path

from mendbook.triage.shop import Shop
from mendbook.yard.run.fault import RunError

TYRES_A_PART = 25_000  # some 0.5 GB while they are judged


class Form(StrEnum):
    """What the decisions are written as, by the ending of the output."""

    PARQUET = ".parquet"
    CSV = ".csv"
    WORKBOOK = ".xlsx"


@dataclass(frozen=True)
class Options:
    """How to run a review. What changes an answer also stands in its identity (`identity.py`).

    shop, rulebook : the rules, and the folder of the shop's own book that lies over them, if any
    on, law : the day and the law by which tyres are judged that do not say theirs
    inputs : the files that are read; what is in them must not change between interruption and resumption
    column_map : how columns were understood, as text; worksheet : the sheet of a workbook that was named
    tyres_a_part : tyres that are judged together, and lost together when a process dies
    workers : processes on this machine; None for one a processor, where the yard is large enough
    cluster : address of the scheduler of a cluster, instead of processes on this machine
    plan : whether to say how each repair is done; ask : whether to say what to measure next
    force : whether output that exists may be replaced; fresh : whether to begin anew rather than to go on
    verdict_words : what a verdict is called in a sentence
    """

    shop: Shop
    on: date
    law: str | None = None
    rulebook: Path | None = None
    inputs: tuple[Path, ...] = ()
    column_map: str = ""
    worksheet: str | None = None
    tyres_a_part: int = TYRES_A_PART
    workers: int | None = None
    cluster: str | None = None
    plan: bool = True
    ask: bool = True
    force: bool = False
    fresh: bool = False
    verdict_words: Mapping[str, str] = field(default_factory=dict)


@dataclass(frozen=True)
class Places:
    """Where the files of a review lie: all beside its output."""

    output: Path
    form: Form

    @property
    def quarantine(self) -> Path:
        """The rows that could not be judged."""
        return self.output.with_suffix(".quarantine.csv")

    @property
    def summary(self) -> Path:
        """The sums."""
        return self.output.with_suffix(".summary.json")

    @property
    def work(self) -> Path:
        """The folder of finished parts, which goes when the review is done."""
        return self.output.with_name(f"{self.output.name}.parts")


def places_of(output: Path) -> Places:
    """Return where the files of a review lie. Raises RunError for an ending that says nothing, or for a folder."""
    if output.is_dir():
        raise RunError(f"{output}: this is a folder. Name a file in it, such as {output / 'review.parquet'}.")
    try:
        return Places(output, Form(output.suffix.casefold()))
    except ValueError:
        raise RunError(f"{output}: its ending must say what to write: {', '.join(Form)}.") from None
