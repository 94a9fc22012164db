"""One tyre of a reviewed yard, written down again as a case: from its decisions back to its rows in the sheet."""

import json
from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, date, datetime, time
from pathlib import Path
from tempfile import TemporaryDirectory
from typing import Any

import polars as pl

from mendbook.cli.refusals import RefusalError, refusing
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.case import Case
from mendbook.terms.document import DocumentError
from mendbook.terms.spelling import did_you_mean
from mendbook.triage.shop import Shop, open_shop
from mendbook.yard.impossible import written_case
from mendbook.yard.reading import TYRE
from mendbook.yard.run.identity import look_at
from mendbook.yard.run.job import digests_of
from mendbook.yard.sheets import ColumnMap, Sheet, SheetError, open_sheet, read_map

SUMMARY = ".summary.json"
NOON = time(12, tzinfo=UTC)


@dataclass(frozen=True)
class Found:
    """A tyre of a yard, ready to be judged as its review judged it."""

    case: Case
    shop: Shop
    law: str | None
    now: datetime


@dataclass(frozen=True)
class Reviewed:
    """A review that can be looked into again: what was asked for, and the shop that judges as it did then."""

    asked: Mapping[str, Any]
    shop: Shop

    @contextmanager
    def sheet(self) -> Iterator[Sheet]:
        """Open its sheet, the columns understood as then."""
        with refusing(SheetError, DocumentError), TemporaryDirectory(prefix="mendbook-") as scratch:
            column_map = self.column_map(Path(scratch))
            vocabulary = self.shop.book.vocabulary
            with open_sheet(self.asked["inputs"], vocabulary, column_map, self.asked["worksheet"]) as sheet:
                yield sheet

    def column_map(self, scratch: Path) -> ColumnMap:
        """Return how its columns were understood; `scratch` is a folder to write in."""
        written = scratch / "map.yaml"
        written.write_text(self.asked["column map"], encoding="utf-8")
        return read_map(written, self.shop.book.vocabulary)


def find_tyre(decisions: Path, tag: str) -> Found:
    """Return the tyre called `tag` of the review that wrote `decisions`.

    Raises RefusalError when the sheet or the book is no longer what was reviewed, or no such tyre was judged.
    """
    review = open_review(decisions)
    with review.sheet() as sheet:
        case = _find(sheet, tag, review.shop)
    day = date.fromisoformat(review.asked["day"])
    return Found(case, review.shop, review.asked["law"], datetime.combine(day, NOON))


def open_review(decisions: Path) -> Reviewed:
    """Return the review that wrote `decisions`.

    Raises RefusalError when the sheet or the book is no longer what was reviewed.
    """
    told = _read(decisions)
    asked, review = told["asked"], told["review"]
    rulebook = None if asked["rulebook"] is None else Path(asked["rulebook"])
    with refusing(RulebookError, DocumentError, FileNotFoundError):
        shop = open_shop(rulebook)
    book, own = digests_of(shop)
    if (book, own or "none") != (review["rulebook"], review["own rulebook"]):
        raise RefusalError(f"{decisions}: the rulebook is another now than at the review. Review the yard again.")
    for place, name in enumerate(asked["inputs"], start=1):
        if not Path(name).is_file() or look_at(Path(name)) != review[f"input {place}"]:
            raise RefusalError(f"{name}: this sheet is gone, or changed since the review. Review the yard again.")
    if not asked["inputs"]:
        raise RefusalError(f"{decisions}: the sheet came from standard input and is not there any more.")
    return Reviewed(asked, shop)


def _read(decisions: Path) -> dict[str, Any]:
    place = decisions.with_suffix(SUMMARY)
    try:
        told = json.loads(place.read_text(encoding="utf-8"))
        if isinstance(told, dict) and {"asked", "review"} <= told.keys():
            return told
    except (OSError, ValueError):
        pass
    raise RefusalError(
        f"{decisions}: beside the decisions of a review lies '{place.name}', which says what was reviewed; it is not "
        "there, or cannot be read. Name the decisions where the review put them."
    )


def _find(sheet: Sheet, tag: str, shop: Shop) -> Case:
    tags: list[str] = []
    for batch in sheet.batches():
        own = batch.tyres.filter(pl.col("tag") == tag)
        if own.is_empty():
            tags.extend(batch.tyres.get_column("tag").drop_nulls())
            continue
        row = own.row(0, named=True)
        faults = batch.faults.filter(pl.col(TYRE) == row[TYRE])
        if not faults.is_empty():
            raise RefusalError(f"tyre {tag}: row {faults.item(0, 'row')}: {faults.item(0, 'words')}")
        injuries = list(batch.injuries.filter(pl.col(TYRE) == row[TYRE]).iter_rows(named=True))
        return written_case(row, injuries, shop.book, name=tag)
    raise RefusalError(f"no tyre of this yard is called '{tag}'.{did_you_mean(tag, tags)}")
