"""What the commands of the record have in common."""

from typing import Annotated

import typer

RecordOption = Annotated[
    str,
    typer.Option(
        "--record",
        metavar="FILE_OR_URL",
        envvar="MENDBOOK_RECORD",
        help="A SQLite file, or postgresql://USER@HOST/DATABASE.",
    ),
]
ByOption = Annotated[str, typer.Option("--by", metavar="NAME", help="Who decided or saw it.")]
NoteOption = Annotated[str, typer.Option("--note", metavar="TEXT", help="Whatever else should be known.")]
CorrectsOption = Annotated[
    int | None, typer.Option("--corrects", metavar="NUMBER", min=1, help="The entry that this one stands in for.")
]
NumberArgument = Annotated[int, typer.Argument(metavar="NUMBER", min=1, help="Number of the entry.")]
USUAL = "mendbook-record.sqlite"
