"""The commands that look after the rulebook. Each imports what it needs when it runs."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.options import BookOption, JsonOption, given_folder
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write

FAILED = 1

book_app = typer.Typer(help="Look after the rulebook.", rich_markup_mode=None)


class SourceKind(StrEnum):
    """Kinds of source that may be asked for."""

    LAW = "law"
    STANDARD = "standard"
    GUIDANCE = "guidance"
    PRACTICE = "practice"
    HOUSE = "house"


class FileKind(StrEnum):
    """Kinds of file that a rulebook is made of."""

    RULE = "rule"
    TABLE = "table"
    COVER = "cover"
    OWN_COVER = "own_cover"
    VOCABULARY = "vocabulary"
    SOURCE = "source"


@book_app.callback(invoke_without_command=True)
def begin_book(context: typer.Context) -> None:
    """Look after the rulebook."""
    if context.invoked_subcommand is None:
        write(context.get_help())


@book_app.command("cite", short_help="List what every line of the rulebook rests on.")
def print_citations(
    kind: Annotated[SourceKind | None, typer.Option(help="Only this kind of source.")] = None,
    as_json: JsonOption = False,
    rulebook: BookOption = None,
) -> None:
    """List what every line of the rulebook rests on: law, standard, guidance, practice or house."""
    from mendbook.folders import folder
    from mendbook.proof.permission import open_permitted
    from mendbook.rulebook.cite import cite
    from mendbook.rulebook.errors import RulebookError
    from mendbook.terms.document import DocumentError

    with refusing(DocumentError, RulebookError, FileNotFoundError):
        book = open_permitted(folder("rules"), folder("knowledge"), given_folder(rulebook))
    kinds = [kind.value] if kind else [one.value for one in SourceKind]
    cited = cite(book)
    if as_json:
        import json
        from dataclasses import asdict

        write(json.dumps([asdict(one) for one in cited if one.kind in kinds], indent=2, ensure_ascii=False))
        return
    from mendbook.card.citations import citations

    show(lambda _: citations(cited, kinds))


@book_app.command("schema", short_help="Print the schema of a rulebook file for an editor.")
def print_file_schema(
    kind: Annotated[FileKind | None, typer.Argument(help="Which file to describe.")] = None,
    target: Annotated[
        Path | None, typer.Option("--write", metavar="DIR", help="Write the schema of every kind into this folder.")
    ] = None,
    rulebook: BookOption = None,
) -> None:
    """Print the JSON schema of a rulebook file, so that an editor completes it and underlines what is wrong."""
    from mendbook.cli.book_schemas import book_schemas, schema_text, write_schemas

    if (kind is None) == (target is None):
        names = ", ".join(one.value for one in FileKind)
        raise RefusalError(f"name one kind of file ({names}), or --write and a folder for all of them.")
    schemas = book_schemas(given_folder(rulebook))
    if target is not None:
        write("\n".join(f"Written: {file}" for file in write_schemas(schemas, target)))
    elif kind is not None:
        write(schema_text(schemas[kind.value]))


@book_app.command("check", short_help="Run all examples; look for gaps, dead lines and slips.")
def print_check(as_json: JsonOption = False, rulebook: BookOption = None) -> None:
    """Run every rule's examples, look for gaps, dead lines and slips, and for changes since the book was sealed."""
    from mendbook.cli.book_check import as_data, as_text, check_whole
    from mendbook.cli.sealing import open_given, read_seal

    book, rules = open_given(given_folder(rulebook))
    checked = check_whole(book, read_seal(rules))
    write(as_data(checked) if as_json else as_text(checked))
    if checked.faults:
        raise typer.Exit(FAILED)


@book_app.command("seal", short_help="Sign the book as it stands, so that changes show.")
def seal_book(rulebook: BookOption = None) -> None:
    """Write down all that the rulebook decides by: the check tells every later change until it is sealed anew."""
    from mendbook.cli.book_check import check_whole
    from mendbook.cli.sealing import open_given, put_seal

    book, rules = open_given(given_folder(rulebook))
    if faults := check_whole(book).faults:
        write("\n".join([*faults, "Not sealed: only a book that holds is worth a seal."]))
        raise typer.Exit(FAILED)
    write(f"Sealed: {put_seal(book, rules)}")


@book_app.command("compare", short_help="Tell what changed between two rulebooks, and which way.")
def print_compare(
    old: Annotated[str, typer.Argument(metavar="OLD", help="The word 'shipped', or the folder of a rulebook.")],
    new: Annotated[str, typer.Argument(metavar="NEW", help="The other one, likewise.")],
    on: Annotated[
        list[Path] | None,
        typer.Option("--on", metavar="CASES", help="Judge this case file, or all in this folder, by both; repeatable."),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Tell what changed between two rulebooks, which way, and which cases come out otherwise."""
    from mendbook.cli.comparing import print_comparison

    print_comparison(old, new, on or [], as_json=as_json)


@book_app.command("prove", short_help="Prove that nothing is missed and worse is never milder.")
def print_prove(
    cases: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Write the cases that refute a claim to this folder.")
    ] = None,
    as_json: JsonOption = False,
    rulebook: BookOption = None,
) -> None:
    """Prove that the rulebook has no hole and worse is never milder; show a case where it fails. Takes a minute."""
    from mendbook.cli.proving import print_proofs

    print_proofs(given_folder(rulebook), cases, as_json=as_json)
