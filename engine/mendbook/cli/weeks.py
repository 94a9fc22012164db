"""A week from the command line: a review looked into again, its tyres priced, the choice told."""

from dataclasses import dataclass
from pathlib import Path
from tempfile import TemporaryDirectory

import polars as pl
from pydantic import ValidationError

from mendbook.card.yard.week import week_report
from mendbook.cli.case_writing import check_target, write_text
from mendbook.cli.explaining import Reviewed, open_review
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.folders import folder
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.document import DocumentError
from mendbook.terms.quantity import QuantityError, read_quantity
from mendbook.terms.units import Dimension
from mendbook.terms.week import Week
from mendbook.worth import open_survival
from mendbook.yard.impossible import written_case
from mendbook.yard.reading import TYRE
from mendbook.yard.sheets import SheetError
from mendbook.yard.week import Limits, PriceList, WeekError, plan_week, read_labour, read_price_columns, read_price_list
from mendbook.yard.week.jobs import JobMaker, Written
from mendbook.yard.week.planning import to_repair


@dataclass(frozen=True)
class Asked:
    """What a person asked for, as options of the command."""

    decisions: Path
    bench_hours: float
    kit: tuple[str, ...]
    money: Path | None
    prices: Path | None
    survival: Path | None
    out: Path | None
    as_json: bool


def choose_week(asked: Asked) -> None:
    """Choose the tyres of a week, and print them. Raises RefusalError."""
    limits = Limits(asked.bench_hours, dict(map(_kit, asked.kit)))
    if asked.out is not None:
        check_target(asked.out, is_forced=True)
    decisions = _read_decisions(asked.decisions)
    with refusing(WeekError, where=str(asked.decisions)):
        tags = to_repair(decisions)
    review = open_review(asked.decisions)
    book, knowledge = review.shop.book, folder("knowledge")
    with refusing(WeekError, DocumentError, RulebookError, SheetError):
        listed = PriceList() if asked.money is None else read_price_list(asked.money, book.vocabulary)
        labour = read_labour(knowledge)
        maker = JobMaker(book, open_survival(knowledge, asked.survival), labour, listed)
        written, prices = _written(review, tags), _prices(review, asked.prices)
        week = plan_week(decisions, written, prices, maker, limits, labour.basis)
    if asked.out is not None:
        write_text(_table(week).write_csv(include_bom=True), asked.out)
    if asked.as_json:
        write(week.model_dump_json(indent=2))
        return
    show(lambda width: week_report(week, asked.decisions.name, width))


def _kit(given: str) -> tuple[str, float]:
    name, equals, hours = given.partition("=")
    try:
        found = read_quantity(hours, Dimension.DURATION).value if equals else None
    except QuantityError as problem:
        raise RefusalError(f"--kit {given}: {problem}") from problem
    if found is None:
        raise RefusalError(f"--kit {given}: write the kit and its hours, such as 'flexible pads=80 h'.")
    return name.strip(), found


def _read_decisions(path: Path) -> pl.DataFrame:
    """Return the decisions of a review, whatever kind of file it wrote."""
    if not path.is_file():
        raise RefusalError(f"{path}: there is no such file. Name the decisions that a review wrote.")
    try:
        match path.suffix.casefold():
            case ".parquet":
                return pl.read_parquet(path)
            case ".xlsx":
                return pl.read_excel(path, infer_schema_length=None)
            case _:
                return pl.read_csv(path, infer_schema_length=None, schema_overrides={"tag": pl.String})
    except (OSError, ValueError, pl.exceptions.PolarsError) as problem:
        raise RefusalError(f"{path}: these decisions cannot be read. Name what a review wrote.") from problem


def _written(review: Reviewed, tags: set[str]) -> dict[str, Written]:
    """Return what the sheet says of each tyre in `tags`. Raises RefusalError when one of them is not there."""
    found: dict[str, Written] = {}
    with review.sheet() as sheet:
        for batch in sheet.batches():
            own = batch.tyres.filter(pl.col("tag").is_in(tags))
            injuries = batch.injuries.join(own.select(TYRE), on=TYRE, how="semi")
            rust: dict[int, dict[str, bool]] = {}
            for row in injuries.iter_rows(named=True):
                rust.setdefault(row[TYRE], {})[str(row["name"])] = _is_some(row.get("rust"))
            for row in own.iter_rows(named=True):
                with refusing(ValidationError, where=f"tyre {row['tag']}"):
                    case = written_case(row, (), review.shop.book, name=row["tag"])
                found[row["tag"]] = Written(case, rust.get(row[TYRE], {}))
    if lost := tags - found.keys():
        raise RefusalError(f"tyre {min(lost)}: it is not in the sheet that was reviewed. Review the yard again.")
    return found


def _is_some(cell: str | None) -> bool:
    """Return whether rust was found: a length that is more than nothing."""
    try:
        bounds = read_quantity(cell, Dimension.LENGTH).bounds if cell else None
    except QuantityError:
        return False
    return bounds is not None and bounds[1] > 0.0


def _prices(review: Reviewed, given: Path | None) -> dict[str, dict[str, frozenset[str]]]:
    """Return what is written of the money of each tyre; a sheet of prices goes before the yard's own."""
    vocabulary, inputs = review.shop.book.vocabulary, [Path(name) for name in review.asked["inputs"]]
    with TemporaryDirectory(prefix="mendbook-") as scratch:
        column_map = review.column_map(Path(scratch))
    own = read_price_columns(inputs, vocabulary, column_map, review.asked["worksheet"])
    named = {} if given is None else read_price_columns([given], vocabulary)
    return {tag: {**own.get(tag, {}), **named.get(tag, {})} for tag in own.keys() | named.keys()}


def _table(week: Week) -> pl.DataFrame:
    rows = [
        {
            "rank": rank, "tag": job.tag, "this week": "yes" if job.is_chosen else "no",
            f"value {week.currency}": job.value, "bench hours": round(job.bench_hours, 2),
            "value an hour": round(job.value_an_hour, 2), "labour hours": round(job.labour_hours, 2),
            "kit hours": round(sum(job.kit_hours.values()), 2), "repairs": "; ".join(job.repairs),
        }
        for rank, job in enumerate(week.jobs, start=1)
    ]  # fmt: skip
    return pl.DataFrame(rows)
