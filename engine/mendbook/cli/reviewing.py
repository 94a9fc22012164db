"""A review from the command line: sheets opened, progress shown, sums told, pages written."""

import sys
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import date
from pathlib import Path

import polars as pl
from rich.console import Console
from rich.progress import BarColumn, Progress, TextColumn

from mendbook import __version__
from mendbook.card.yard.flipped import flips_report
from mendbook.card.yard.note import Note
from mendbook.card.yard.report import yard_report
from mendbook.cli.case_writing import check_target, write_text
from mendbook.cli.columns import name_unread, show_columns, together
from mendbook.cli.documents import DASH
from mendbook.cli.refusals import RefusalError, complain, refusing
from mendbook.cli.screen import show, write
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.answers import VERDICTS
from mendbook.terms.document import DocumentError
from mendbook.terms.vocabulary import Vocabulary
from mendbook.triage.shop import Shop, open_shop
from mendbook.yard.flips import find_flips, sum_flips
from mendbook.yard.run import Options, Outcome, RunError, run_review
from mendbook.yard.run import Progress as Done
from mendbook.yard.sheets import (
    ColumnMap,
    Sheet,
    SheetError,
    guess_sheet,
    map_text,
    open_sheet,
    read_map,
    template,
    write_map,
)

ENDING = ".review.csv"
AGAINST = ".against"
FLIPS = ".flips.csv"
BETWEEN = "; "
MANY = 20_000  # rows; beyond, plans take minutes and are made when they are asked for


@dataclass(frozen=True)
class Asked:
    """What a person asked for, as options of the command."""

    yard: tuple[str, ...]
    out: Path | None
    column_map: Path | None
    worksheet: str | None
    on: date | None
    law: str | None
    page: Path | None
    is_quick: bool | None  # None: as many rows as there are decide
    workers: int | None
    cluster: str | None
    is_fresh: bool
    is_forced: bool
    as_json: bool

    @property
    def output(self) -> Path:
        """Where decisions go. Raises RefusalError where nothing says."""
        if self.out is not None:
            return self.out
        if DASH in self.yard:
            raise RefusalError("a sheet from standard input gives its decisions no name. Say --out FILE.")
        return Path(self.yard[0]).with_suffix(ENDING)


def review_yard(asked: Asked, rulebook: Path | None) -> bool:
    """Review the yard by one book, and tell what came of it. Return whether no row was set aside."""
    target = asked.output
    if asked.page is not None:
        check_target(asked.page, is_forced=asked.is_forced)
    shop = _open(rulebook)
    with _sheet(asked, shop) as sheet:
        outcome = _run(sheet, asked, shop, rulebook, target)
    note = _note(asked, shop, outcome)
    if asked.as_json:
        write(outcome.told.model_dump_json(by_alias=True, indent=2))
    else:
        show(lambda width: yard_report(outcome.told, note, width))
    if asked.page is not None:
        from mendbook.card.yard.page import yard_page

        write_text(yard_page(outcome.told, note), asked.page)
    return _told_all(outcome)


def compare_books(asked: Asked, old: Path | None, new: Path | None) -> bool:
    """Review the yard by two books, and tell which tyres flip. Return whether no row was set aside."""
    if asked.page is not None:
        raise RefusalError("--page tells of one review. Leave it out with --against, or review by each book alone.")
    target = asked.output
    other = target.with_suffix(f"{AGAINST}{target.suffix}")
    flips = target.with_suffix(FLIPS)
    check_target(flips, is_forced=asked.is_forced)
    shops = (_open(old), _open(new))
    with _sheet(asked, shops[0]) as sheet:
        first = _run(sheet, asked, shops[0], old, target.with_suffix(".parquet"))
    with _sheet(asked, shops[1]) as sheet:
        second = _run(sheet, asked, shops[1], new, other.with_suffix(".parquet"))
    then, now = (pl.read_parquet(outcome.places.output) for outcome in (first, second))
    found = find_flips(then, now)
    lists = [name for name, kind in found.schema.items() if isinstance(kind, pl.List)]
    text = found.with_columns(pl.col(name).list.join(BETWEEN) for name in lists).write_csv(include_bom=True)
    write_text(text, flips)
    summed = sum_flips(then, now)
    said = (str(old or "the shipped book"), str(new or "the shipped book"))
    if asked.as_json:
        write(summed.model_dump_json(by_alias=True, indent=2))
    else:
        show(lambda width: flips_report(summed, (shops[0].book, shops[1].book), said, width))
        write(f"\nAll of them: {flips}. Both reviews: {first.places.output}, {second.places.output}.")
    return _told_all(first)


def write_map_of(asked: Asked, out: Path, rulebook: Path | None) -> None:
    """Write down how the columns of the yard are understood, and show it."""
    check_target(out, is_forced=asked.is_forced)
    vocabulary = _open(rulebook).book.vocabulary
    given = _map(asked, vocabulary)
    with refusing(SheetError, OSError):
        guesses = guess_sheet(asked.yard, vocabulary, given, asked.worksheet)
        write_map(out, together(guesses))
    show_columns(guesses, sys.stdout)


def write_template(out: Path, rulebook: Path | None, *, is_forced: bool) -> None:
    """Write an empty sheet to fill in."""
    check_target(out, is_forced=is_forced)
    if out.suffix.casefold() != ".xlsx":
        raise RefusalError(f"{out}: a template is a workbook. Name it with the ending .xlsx.")
    out.write_bytes(template(_open(rulebook).book.vocabulary))


def _open(rulebook: Path | None) -> Shop:
    with refusing(RulebookError, DocumentError):
        return open_shop(rulebook)


def _map(asked: Asked, vocabulary: Vocabulary) -> ColumnMap | None:
    if asked.column_map is None:
        return None
    with refusing(DocumentError, SheetError):
        return read_map(asked.column_map, vocabulary)


@contextmanager
def _sheet(asked: Asked, shop: Shop) -> Iterator[Sheet]:
    vocabulary = shop.book.vocabulary
    given = _map(asked, vocabulary)
    with refusing(SheetError), open_sheet(asked.yard, vocabulary, given, asked.worksheet) as sheet:
        if sys.stderr.isatty():
            show_columns(sheet.guess, sys.stderr)
        else:
            name_unread(sheet.guess)
        yield sheet


def _run(sheet: Sheet, asked: Asked, shop: Shop, rulebook: Path | None, output: Path) -> Outcome:
    is_quick = sheet.rows > MANY if asked.is_quick is None else asked.is_quick
    if asked.is_quick is None and is_quick:
        sys.stderr.write(
            f"{sheet.rows} rows: verdicts alone; a repair whose kit is lacking is not held back. --full adds plans, "
            "which see to that, and what to measure next, in some 3 ms a row.\n"
        )
    options = Options(
        shop=shop,
        on=asked.on or date.today(),
        law=asked.law,
        rulebook=rulebook,
        inputs=tuple(Path(name) for name in asked.yard if name != DASH),
        column_map=map_text(together(sheet.guess)),
        worksheet=asked.worksheet,
        plan=not is_quick,
        ask=not is_quick,
        workers=asked.workers,
        cluster=asked.cluster,
        force=asked.is_forced,
        fresh=asked.is_fresh,
        verdict_words=VERDICTS,
    )
    with refusing(RunError, SheetError), _progress() as report:
        return run_review(sheet, output, options, report)


@contextmanager
def _progress() -> Iterator[Callable[[Done], None]]:
    """Yield where progress is reported: a bar on a terminal, nothing elsewhere."""
    console = Console(stderr=True)
    if not console.is_terminal:
        yield lambda _: None
        return
    columns = (BarColumn(), TextColumn("{task.percentage:3.0f} %"), TextColumn("{task.description}"))
    with Progress(*columns, console=console, transient=True) as bar:
        task = bar.add_task("", total=None)

        def report(done: Done) -> None:
            left = "" if done.left is None else f", {done.left:.0f} s left"
            bar.update(
                task, total=done.rows, completed=done.done,
                description=f"{done.done} rows, {done.rate:.0f} a second{left}",
            )  # fmt: skip

        yield report


def _note(asked: Asked, shop: Shop, outcome: Outcome) -> Note:
    return Note(
        sheet=" and ".join(Path(name).name for name in asked.yard),
        day=str(outcome.summary["asked"]["day"]),
        law=asked.law or "",
        evaluator="columns",
        mendbook=__version__,
        book=shop.book,
        decisions=str(outcome.places.output),
        quarantine=str(outcome.places.quarantine),
    )


def _told_all(outcome: Outcome) -> bool:
    """Say how many rows were set aside, and return whether none was."""
    number = outcome.sums.quarantined
    if number:
        are = "row is" if number == 1 else "rows are"
        complain(f"{number} {are} set aside. {outcome.places.quarantine} says of each what to write instead.")
    return not number
