"""The group of the record's commands, and those that add to it. Each imports what it needs when it runs."""

from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.options import BookOption, LawOption, given_folder
from mendbook.cli.record_options import (
    USUAL,
    ByOption,
    CorrectsOption,
    NoteOption,
    NumberArgument,
    RecordOption,
)
from mendbook.cli.refusals import RefusalError
from mendbook.cli.screen import write

record_app = typer.Typer(help="Keep what was decided, and what became of it.", rich_markup_mode=None)


class State(StrEnum):
    """What became of a repair."""

    IN_SERVICE = "in-service"
    FAILED = "failed"
    REMOVED = "removed"


@record_app.callback(invoke_without_command=True)
def begin_record(context: typer.Context) -> None:
    """Keep what was decided, and what became of it; nothing is ever changed or deleted."""
    if context.invoked_subcommand is None:
        write(context.get_help())


@record_app.command("add", short_help="Judge a case and keep the decision, or keep a docket.")
def add_decision(
    given: Annotated[
        str, typer.Argument(metavar="CASE_OR_DOCKET", help="A case file, or a docket as JSON; - reads standard input.")
    ],
    by: ByOption,
    record: RecordOption = USUAL,
    before_skive: Annotated[
        bool, typer.Option("--before-skive", help="It was judged before the injury was cut clean.")
    ] = False,
    after_skive_of: Annotated[
        int | None,
        typer.Option(min=1, metavar="NUMBER", help="It was judged after the skive; this entry was before it."),
    ] = None,
    note: NoteOption = "",
    corrects: CorrectsOption = None,
    law: LawOption = None,
    rulebook: BookOption = None,
) -> None:
    """Judge a case and keep the decision with it, or keep a docket that was printed before."""
    from mendbook.cli.keeping import Kept, keep_given

    if before_skive and after_skive_of is not None:
        raise RefusalError("a tyre is judged before the skive or after it. Leave one of the two out.")
    kept = Kept(by=by, note=note, corrects=corrects, is_before_skive=before_skive, after_skive_of=after_skive_of)
    keep_given(given, record, kept, given_folder(rulebook), law=law.value if law else None)


@record_app.command("follow-up", short_help="Keep what became of a repair.")
def add_follow_up(
    number: NumberArgument,
    ran: Annotated[str, typer.Option(metavar="HOURS_OR_KM", help="Since the repair, such as '412 h' or '9000 km'.")],
    state: Annotated[State, typer.Option(help="What was found.")],
    by: ByOption,
    record: RecordOption = USUAL,
    injury: Annotated[str, typer.Option(metavar="NAME", help="Which repair; all of them if left out.")] = "",
    cause: Annotated[str, typer.Option(metavar="TEXT", help="Why it failed or was removed.")] = "",
    on: Annotated[
        datetime | None,
        typer.Option(formats=["%Y-%m-%d"], metavar="DATE", help="The day it was seen; today if left out."),
    ] = None,
    note: NoteOption = "",
    corrects: CorrectsOption = None,
) -> None:
    """Keep how long the repair by the decision NUMBER has run, and whether it still serves."""
    from mendbook.cli.keeping import keep_follow_up

    seen = None if on is None else on.date()
    said = {"by": by, "injury": injury, "cause": cause, "note": note, "corrects": corrects}
    keep_follow_up(record, number, ran, state.value.replace("-", " "), seen, said)


@record_app.command("attach", short_help="Keep photos or papers with a decision.")
def add_attachments(
    number: NumberArgument,
    files: Annotated[list[Path], typer.Argument(metavar="FILE...", help="What to keep, each up to 64 MB.")],
    by: ByOption,
    record: RecordOption = USUAL,
    note: NoteOption = "",
    corrects: CorrectsOption = None,
) -> None:
    """Keep photos or papers with the decision NUMBER; they lie in the record itself, found by their hash."""
    from mendbook.cli.attaching import keep_files

    keep_files(record, number, files, {"by": by, "note": note, "corrects": corrects})


@record_app.command("cure-log", short_help="Keep the log of a cure, and what it says.")
def add_cure_log(
    number: NumberArgument,
    log: Annotated[Path, typer.Argument(metavar="LOG", help="What the logger wrote, CSV.")],
    by: ByOption,
    record: RecordOption = USUAL,
    injury: Annotated[str, typer.Option(metavar="NAME", help="Whose repair; the longest if left out.")] = "",
    order: Annotated[
        str | None, typer.Option(metavar="FILE", help="The cure order, where it is not that of the docket.")
    ] = None,
    columns: Annotated[
        list[str] | None, typer.Option("--column", metavar="HEADING=MEANING", help="What a column is; repeatable.")
    ] = None,
    note: NoteOption = "",
    corrects: CorrectsOption = None,
) -> None:
    """Keep what the logger wrote while the repair by the decision NUMBER cured, and where the cure stood in the end."""
    from mendbook.cli.attaching import keep_log

    said = {"by": by, "note": note, "corrects": corrects, "injury": injury}
    keep_log(record, number, log, order, columns or [], said)


@record_app.command("withdraw", short_help="Say that an entry should never have been made.")
def add_withdrawal(
    number: NumberArgument,
    because: Annotated[str, typer.Option(metavar="TEXT", help="Why.")],
    by: ByOption,
    record: RecordOption = USUAL,
) -> None:
    """Say that an entry should never have been made, such as one on the wrong tyre. It stays, and counts no more."""
    from mendbook.cli.keeping import keep_withdrawal

    keep_withdrawal(record, number, because, by)
