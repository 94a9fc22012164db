"""Options that several commands take."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.refusals import RefusalError

BookOption = Annotated[
    Path | None,
    typer.Option("--rulebook", metavar="DIR", help="Folder of the shop's own book, laid over the one shipped."),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print the whole answer as JSON.")]


class Law(StrEnum):
    """Road law that may be asked for: to run on the road, to be sold used, or to be retreaded."""

    US = "us"
    UK = "uk"
    UK_PART_WORN = "uk-part-worn"
    UN_R109 = "un-r109"
    NONE = "none"


LawOption = Annotated[
    Law | None,
    typer.Option(
        help="Road law to judge by: us, uk; uk-part-worn for a sale as a used tyre; un-r109 for a casing to be "
        "retreaded; none. Otherwise the country in the case decides."
    ),
]


LEARNT = "that 'mendbook record survival --write' wrote"  # for given_folder
SurvivalOption = Annotated[
    Path | None,
    typer.Option(
        "--survival",
        metavar="DIR",
        help="How long the shop's own repairs held, as 'mendbook record survival --write DIR' tells it.",
    ),
]


def given_folder(given: Path | None, which: str = "that holds rulebook.yaml") -> Path | None:
    """Return the folder a person named, None when none was. Raises RefusalError when it is not there."""
    if given is not None and not given.is_dir():
        raise RefusalError(f"{given}: there is no such folder. Name the folder {which}.")
    return given
