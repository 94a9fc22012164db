"""The week command: a reviewed yard, its prices and a bench in, the tyres to repair out."""

from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.options import LEARNT, JsonOption, SurvivalOption, given_folder


def print_week(
    decisions: Annotated[
        Path, typer.Argument(metavar="DECISIONS", help="What a review with plans wrote: .csv, .xlsx or .parquet.")
    ],
    bench_hours: Annotated[
        float, typer.Option("--bench-hours", min=0.0, metavar="HOURS", help="Hours of work at the bench in the week.")
    ],
    kit: Annotated[
        list[str] | None,
        typer.Option(
            metavar="KIT=HOURS",
            help="Hours that a kit is there to cure with, such as 'flexible pads=80 h' for two sets; several times for "
            "several. What is not named has no limit.",
        ),
    ] = None,
    money: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="A price list: money for every tyre, by size, and by repair class (YAML)."),
    ] = None,
    prices: Annotated[
        Path | None,
        typer.Option(
            metavar="SHEET",
            help="A sheet with the tag of each tyre and columns of money; those in the yard's own sheet count too.",
        ),
    ] = None,
    survival: SurvivalOption = None,
    out: Annotated[
        Path | None, typer.Option(metavar="FILE.csv", help="Write the ranked tyres as CSV; replaced when there.")
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Choose which tyres of a reviewed yard to repair this week: worth most within the hours and the kit there are."""
    from mendbook.cli.weeks import Asked, choose_week

    choose_week(
        Asked(decisions, bench_hours, tuple(kit or ()), money, prices, given_folder(survival, LEARNT), out, as_json)
    )
