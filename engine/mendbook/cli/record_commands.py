"""The commands that read the record, carry it and bring it up to date. Each imports what it needs when it runs."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.book_commands import FAILED
from mendbook.cli.options import BookOption, JsonOption, given_folder
from mendbook.cli.record_adding import record_app
from mendbook.cli.record_options import USUAL, NumberArgument, RecordOption

__all__ = ["record_app"]  # with all its commands


class Kind(StrEnum):
    """Kinds of entries."""

    DECISION = "decision"
    FOLLOW_UP = "follow-up"
    ATTACHMENT = "attachment"
    CURE_LOG = "cure log"
    WITHDRAWAL = "withdrawal"


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
