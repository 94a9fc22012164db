"""Options that several commands take."""

from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.refusals import RefusalError

BookOption = Annotated[
    Path | None,
    typer.Option("--rulebook", metavar="DIR", help="Folder of the shop's own book, laid over the one shipped."),
]
JsonOption = Annotated[bool, typer.Option("--json", help="Print the whole answer as JSON.")]


def given_folder(given: Path | None) -> Path | None:
    """Return the folder a person named, None when none was. Raises RefusalError when it is not there."""
    if given is not None and not given.is_dir():
        raise RefusalError(f"{given}: there is no such folder. Name the folder that holds rulebook.yaml.")
    return given
