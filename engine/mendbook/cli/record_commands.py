"""The commands of the record. Each imports what it needs when it runs."""

from datetime import datetime
from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.book_commands import FAILED
from mendbook.cli.options import BookOption, JsonOption, LawOption, given_folder
from mendbook.cli.refusals import RefusalError
from mendbook.cli.screen import write

record_app = typer.Typer(help="Keep what was decided, and what became of it.", rich_markup_mode=None)

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


class Kind(StrEnum):
    """Kinds of entries."""

    DECISION = "decision"
    FOLLOW_UP = "follow-up"
    ATTACHMENT = "attachment"
    CURE_LOG = "cure log"
    WITHDRAWAL = "withdrawal"


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


@record_app.command("list", short_help="List what is kept.")
def print_list(
    record: RecordOption = USUAL,
    tag: Annotated[str | None, typer.Option(metavar="TAG", help="Only of the tyre with this tag.")] = None,
    kind: Annotated[Kind | None, typer.Option(help="Only entries of this kind.")] = None,
    overruled: Annotated[
        bool, typer.Option("--overruled", help="Only decisions in which a person overruled a reject.")
    ] = False,
    as_json: JsonOption = False,
) -> None:
    """List what is kept, a line for each entry."""
    from mendbook.cli.record_reading import print_lines

    print_lines(record, tag, kind.value if kind else None, is_overruled=overruled, as_json=as_json)


@record_app.command("show", short_help="Show one entry, or the docket in it.")
def print_entry(
    number: NumberArgument,
    record: RecordOption = USUAL,
    docket: Annotated[bool, typer.Option("--docket", help="Print the docket of a decision as JSON.")] = False,
    file: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the file of an attachment or cure log to this one.")
    ] = None,
    as_json: Annotated[bool, typer.Option("--json", help="Print the entry as it is kept.")] = False,
) -> None:
    """Show one entry and what is about it."""
    if file is not None:
        from mendbook.cli.attaching import write_file

        write_file(record, number, file)
        return
    from mendbook.cli.record_reading import print_one

    print_one(record, number, is_docket=docket, as_json=as_json)


@record_app.command("verify", short_help="Walk the chain; name the first entry that is broken.")
def print_verify(
    record: RecordOption = USUAL,
    head: Annotated[
        str | None, typer.Option(metavar="NUMBER:HASH", help="A head that was written down elsewhere.")
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Walk the chain of hashes, name the first entry that is broken, and print the head to write down elsewhere."""
    from mendbook.cli.record_reading import print_verified

    if not print_verified(record, head, as_json=as_json):
        raise typer.Exit(FAILED)


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


@record_app.command("survival", short_help="Tell how long repairs hold, by follow-ups.")
def print_survival(
    record: RecordOption = USUAL,
    early: Annotated[
        list[str] | None,
        typer.Option(metavar="HOURS_OR_KM", help="A loss before it is early; 24 h and 500 km if left out."),
    ] = None,
    at: Annotated[
        list[str] | None, typer.Option(metavar="HOURS_OR_KM", help="Tell how many hold so long; repeatable.")
    ] = None,
    target: Annotated[
        Path | None,
        typer.Option("--write", metavar="DIR", help="Write what is known well enough, as knowledge/survival has it."),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Tell how long repairs hold by class and zone, from the follow-ups, with intervals and from how many."""
    from mendbook.cli.survival_learning import print_survival

    print_survival(record, early or [], at or [], target, as_json=as_json)


@record_app.command("replay", short_help="Judge every decision again; list which flip.")
def print_replay(
    record: RecordOption = USUAL,
    tag: Annotated[str | None, typer.Option(metavar="TAG", help="Only of the tyre with this tag.")] = None,
    as_json: JsonOption = False,
    rulebook: BookOption = None,
) -> None:
    """Judge every decision that counts again, as on its day but by today's book, and list which come out otherwise."""
    from mendbook.cli.rejudging import print_rejudged

    if not print_rejudged(record, tag, given_folder(rulebook), as_json=as_json):
        raise typer.Exit(FAILED)


@record_app.command("export", short_help="Write the record to a file.")
def export_record(
    target: Annotated[Path, typer.Argument(metavar="FILE", help="Ends in .jsonl or .parquet.")],
    record: RecordOption = USUAL,
    after: Annotated[int, typer.Option(metavar="NUMBER", min=0, help="Only what comes after this entry.")] = 0,
    force: Annotated[bool, typer.Option("--force", help="Replace the file when it is there already.")] = False,
) -> None:
    """Write the record to a file, with its files and hashes, to be taken in elsewhere or read by other programs."""
    from mendbook.cli.carrying import export_record

    export_record(record, target, after, is_forced=force)


@record_app.command("import", short_help="Take in what was exported elsewhere.")
def import_record(
    source: Annotated[Path, typer.Argument(metavar="FILE", help="What 'mendbook record export' wrote.")],
    record: RecordOption = USUAL,
) -> None:
    """Take in an exported record that continues this one, or begin one with it; all of it or nothing."""
    from mendbook.cli.carrying import import_record

    import_record(record, source)


@record_app.command("migrate", short_help="Bring an older record to the present form.")
def migrate_record(record: RecordOption = USUAL) -> None:
    """Bring the database of an older program to the present form. What entries say is not touched."""
    from mendbook.cli.record_reading import print_migrated

    print_migrated(record)
