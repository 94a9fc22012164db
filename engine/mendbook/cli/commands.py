"""The commands. Each imports what it needs when it runs, so that asking for help costs nothing."""

from enum import StrEnum
from pathlib import Path
from typing import Annotated

import typer

from mendbook.cli.book_commands import FAILED, book_app
from mendbook.cli.cure_command import print_cure
from mendbook.cli.options import LEARNT, BookOption, JsonOption, LawOption, SurvivalOption, given_folder
from mendbook.cli.overruling import Given
from mendbook.cli.papers import Papers, Sheet
from mendbook.cli.record_commands import record_app
from mendbook.cli.refusals import RefusalError
from mendbook.cli.review_command import print_review
from mendbook.cli.screen import show, write
from mendbook.cli.week_command import print_week

app = typer.Typer(
    add_completion=False,
    rich_markup_mode=None,
    pretty_exceptions_enable=False,
    context_settings={"help_option_names": ["-h", "--help"]},
    help="Can this heavy tyre be repaired, how, within which limits, and for how long under heat?",
    epilog="Local code, site rules and makers' instructions override what it says.",
)
app.add_typer(book_app, name="rulebook")
app.add_typer(record_app, name="record")


class Kind(StrEnum):
    """Documents that have a schema."""

    CASE = "case"
    DOCKET = "docket"
    ORDER = "order"


@app.callback(invoke_without_command=True)
def begin(
    context: typer.Context,
    version: Annotated[bool, typer.Option("--version", help="Print the version and leave.")] = False,
) -> None:
    """Say what mendbook is for, or which version it is."""
    if version:
        print_version()
        raise typer.Exit
    if context.invoked_subcommand is None:
        write(context.get_help())


@app.command("version")
def print_version() -> None:
    """Print the version."""
    from mendbook import __version__

    write(f"mendbook {__version__}")


@app.command("triage")
def print_triage(
    case: Annotated[
        str | None, typer.Argument(metavar="CASE", help="A case file, YAML or JSON; - reads standard input.")
    ] = None,
    decisions: Annotated[
        Path | None,
        typer.Option("--from", metavar="DECISIONS", help="Judge a tyre of a review, from what it wrote."),
    ] = None,
    tyre: Annotated[str | None, typer.Option(metavar="TAG", help="The tag of that tyre.")] = None,
    record: Annotated[
        str | None,
        typer.Option(metavar="FILE_OR_URL", help="Keep the decision in this record; --by says who decided."),
    ] = None,
    overrule: Annotated[
        list[str] | None,
        typer.Option(metavar="RULE[@INJURY]", help="Overrule a house reject of this rule, with --by and --why."),
    ] = None,
    by: Annotated[
        str | None, typer.Option(metavar="NAME", help="Who decided, with --record, or overrules, with --overrule.")
    ] = None,
    why: Annotated[str | None, typer.Option(metavar="TEXT", help="The reason of an overrule, in a sentence.")] = None,
    card: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Write the card to work from instead of the report: .html or .pdf."),
    ] = None,
    tag: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the small tag that stays on the tyre: .html or .pdf.")
    ] = None,
    paper: Annotated[Sheet, typer.Option(help="Size of paper; a tag is a quarter of it.")] = Sheet.A4,
    as_json: JsonOption = False,
    law: LawOption = None,
    rulebook: BookOption = None,
) -> None:
    """Judge one tyre: verdict, reasons, plan and cure."""
    papers = Papers(card, tag, paper)
    papers.check()
    if (case is None) == (decisions is None) or (decisions is None) != (tyre is None):
        raise RefusalError("name a case to judge, or a tyre of a review: --from DECISIONS --tyre TAG.")
    given = Given(overrule or (), by if overrule else None, why)
    if (record is not None or bool(given.rules)) != (by is not None):
        raise RefusalError("a decision is kept with the name of whoever made it: --record FILE_OR_URL --by NAME.")
    if decisions is not None and tyre is not None:
        if given.rules:
            raise RefusalError("--from judges as the review did. Overrule in the sheet, and review it again.")
        if law is not None or rulebook is not None:
            raise RefusalError("--from judges as the review did. Leave --law and --rulebook out.")
        from mendbook.cli.judging import judge_again

        docket = judge_again(decisions, tyre)
        if record is not None and by is not None:
            from mendbook.cli.keeping import Kept, keep_docket

            keep_docket(docket, record, Kept(by=by))
    elif record is not None and by is not None:
        from mendbook.cli.keeping import Kept, judge_and_keep

        docket = judge_and_keep(
            str(case), record, Kept(by=by), given_folder(rulebook), law=law.value if law else None, overrule=given
        )
    else:
        from mendbook.cli.judging import judge_case

        docket = judge_case(str(case), given_folder(rulebook), law=law.value if law else None, overrule=given)
    told = papers.write(docket) if papers.are_wanted else ""
    if as_json:
        write(docket.model_dump_json(by_alias=True, indent=2))
        return
    if told:
        write(told)
        return
    from mendbook.card.report import report

    show(lambda width: report(docket, width))


@app.command("worth", short_help="Say whether a repair is worth its money.")
def print_worth(
    case: Annotated[
        str, typer.Argument(metavar="CASE", help="A case file with 'money:' in it; - reads standard input.")
    ],
    picture: Annotated[
        Path | None,
        typer.Option(metavar="FILE", help="Draw the largest levers to this file, .svg or .png; replaced when there."),
    ] = None,
    survival: SurvivalOption = None,
    as_json: JsonOption = False,
    law: LawOption = None,
    rulebook: BookOption = None,
) -> None:
    """Say what a repair is worth against a new tyre, a retread and selling the casing; it never changes a verdict."""
    from mendbook.cli.weighing import print_page

    print_page(
        case,
        picture,
        given_folder(rulebook),
        given_folder(survival, LEARNT),
        law=law.value if law else None,
        as_json=as_json,
    )


@app.command("replay", short_help="Judge the case in a docket again; say what differs.")
def print_replay(
    docket: Annotated[str, typer.Argument(metavar="DOCKET", help="A docket as JSON; - reads standard input.")],
    as_json: Annotated[bool, typer.Option("--json", help="Print the docket as it comes out now.")] = False,
    rulebook: BookOption = None,
) -> None:
    """Judge the case in a docket again, as on the day it was judged, and say what differs."""
    from mendbook.cli.replaying import print_differences

    if not print_differences(docket, given_folder(rulebook), as_json=as_json):
        raise typer.Exit(FAILED)


@app.command("inspect", short_help="Ask only what can still change the answer; write the case.")
def hold_inspection(
    start: Annotated[
        str | None, typer.Argument(metavar="START", help="A case file to go on from; what it tells is not asked.")
    ] = None,
    out: Annotated[
        Path | None, typer.Option(metavar="CASE", help="Write the case to this file; otherwise it is printed.")
    ] = None,
    force: Annotated[bool, typer.Option("--force", help="Replace the file when it is there already.")] = False,
    law: LawOption = None,
    rulebook: BookOption = None,
) -> None:
    """Ask for one tyre, question by question, only what can still change the answer; write the case."""
    from mendbook.cli.inspecting import inspect_tyre

    inspect_tyre(start, out, given_folder(rulebook), law=law.value if law else None, is_forced=force)


app.command("cure", short_help="Work out the cure time of one repair, or follow it.")(print_cure)
app.command("review", short_help="Review a yard: many tyres in one go.")(print_review)
app.command("week", short_help="Choose which tyres of a reviewed yard to repair.")(print_week)


@app.command("curve", short_help="Read t90 and its activation energy from cure curves.")
def print_curve(
    files: Annotated[
        list[str],
        typer.Argument(
            metavar="FILE[@TEMPERATURE]...",
            help="Curves of one batch, CSV with time and torque, such as 'batch.csv@150 °C'; - reads standard input.",
        ),
    ],
    at: Annotated[
        str | None, typer.Option("--at", metavar="TEMPERATURE", help="Of the tests that do not say theirs.")
    ] = None,
    compound: Annotated[str, typer.Option(metavar="NAME", help="What the compound is called.")] = "fill rubber",
    activation: Annotated[
        float | None,
        typer.Option(
            metavar="KJ_MOL", help="Activation energy where all curves are of one temperature; 90 if left out."
        ),
    ] = None,
    as_json: JsonOption = False,
) -> None:
    """Read minimum, maximum, scorch and t90 from cure curves of one batch, and how they change with temperature."""
    from mendbook.cli.curves import print_batch

    print_batch(files, at, compound, activation, as_json=as_json)


@app.command("schema")
def print_schema(kind: Annotated[Kind, typer.Argument(help="What to describe.")], rulebook: BookOption = None) -> None:
    """Print the JSON schema of a case, a docket or a cure order."""
    import json

    from mendbook.cli.schemas import schema

    write(json.dumps(schema(kind.value, given_folder(rulebook)), indent=2, ensure_ascii=False))


@app.command("new")
def print_blank(
    full: Annotated[
        bool, typer.Option("--full", help="Show every field; those seldom needed stand behind a #.")
    ] = False,
    rulebook: BookOption = None,
) -> None:
    """Print a case file to fill in."""
    from mendbook.cli.blank_case import blank_case
    from mendbook.cli.schemas import open_vocabulary

    write(blank_case(open_vocabulary(given_folder(rulebook)), is_full=full))
