"""The review command: a sheet of tyres in, a row of decisions for each injury out."""

from datetime import datetime
from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.options import BookOption, JsonOption, LawOption, given_folder
from mendbook.cli.refusals import REFUSED, RefusalError


def print_review(
    yard: Annotated[
        list[str] | None,
        typer.Argument(
            metavar="YARD...",
            help="A sheet with a row for each injury (CSV, XLSX, Parquet, JSON lines), or one of tyres and one of "
            "injuries; - reads CSV from standard input.",
        ),
    ] = None,
    out: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Where decisions go: .csv, .xlsx or .parquet; YARD.review.csv if left out."),
    ] = None,
    column_map: Annotated[
        Path | None, typer.Option("--map", metavar="FILE", help="Says what columns hold, where headings do not.")
    ] = None,
    save_map: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write down how the columns are understood, and stop there.")
    ] = None,
    worksheet: Annotated[
        str | None, typer.Option("--sheet", metavar="NAME", help="The sheet of a workbook that has several.")
    ] = None,
    on: Annotated[
        datetime | None,
        typer.Option(formats=["%Y-%m-%d"], metavar="DATE", help="The day that ages are counted to; today if left out."),
    ] = None,
    law: LawOption = None,
    page: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the summary as a page of HTML with pictures.")
    ] = None,
    against: Annotated[
        Path | None,
        typer.Option(metavar="DIR", help="Review by this shop's own book too, and tell which tyres flip, and why."),
    ] = None,
    quick: Annotated[
        bool | None,
        typer.Option(
            "--quick/--full",
            help="Verdicts alone, or also the plan of each repair and what to measure next. Full up to 20,000 rows.",
        ),
    ] = None,
    workers: Annotated[
        int | None, typer.Option(min=1, max=256, metavar="NUMBER", help="Processes; as many as pay if left out.")
    ] = None,
    cluster: Annotated[
        str | None, typer.Option(metavar="ADDRESS", help="Scheduler of a Dask cluster that does the work.")
    ] = None,
    fresh: Annotated[bool, typer.Option("--fresh", help="Begin anew, not where a review was interrupted.")] = False,
    force: Annotated[bool, typer.Option("--force", help="Replace output that is there already.")] = False,
    template: Annotated[
        Path | None, typer.Option(metavar="FILE.xlsx", help="Write an empty sheet to fill in, and stop there.")
    ] = None,
    rulebook: BookOption = None,
    as_json: JsonOption = False,
) -> None:
    """Review a yard: many tyres in one go, each row decided, held or set aside with its reason."""
    from mendbook.cli.reviewing import Asked, compare_books, review_yard, write_map_of, write_template

    if template is not None:
        write_template(template, given_folder(rulebook), is_forced=force)
        return
    if not yard:
        raise RefusalError("a review needs a sheet. Write 'mendbook review YARD.csv', or --template yard.xlsx for one.")
    asked = Asked(
        yard=tuple(yard),
        out=out,
        column_map=column_map,
        worksheet=worksheet,
        on=None if on is None else on.date(),
        law=None if law is None else law.value,
        page=page,
        is_quick=quick,
        workers=workers,
        cluster=cluster,
        is_fresh=fresh,
        is_forced=force,
        as_json=as_json,
    )
    if save_map is not None:
        write_map_of(asked, save_map, given_folder(rulebook))
        return
    if against is not None:
        is_whole = compare_books(asked, given_folder(rulebook), given_folder(against))
    else:
        is_whole = review_yard(asked, given_folder(rulebook))
    if not is_whole:
        raise typer.Exit(REFUSED)
