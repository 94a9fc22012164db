"""The cure command: an order, or a few figures, to a cure sheet."""

from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING, Annotated, Any

import typer

from mendbook.cli.options import JsonOption
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write

if TYPE_CHECKING:
    from mendbook.cli.advising import Counsel
    from mendbook.cli.picturing import Gallery
    from mendbook.terms.cure_order import CureOrder


class Counted(StrEnum):
    """Ways to count the cool-down."""

    SAFE = "safe"
    ECONOMY = "economy"


class Cooled(StrEnum):
    """Ways to cool after power-off."""

    STILL_AIR = "still air"
    FAN = "fan"
    WATER = "water"


class Faces(StrEnum):
    """Faces that are heated."""

    BOTH = "both"
    OUTSIDE = "outside"
    INSIDE = "inside"


class Cord(StrEnum):
    """Cord of the casing."""

    TEXTILE = "textile"
    STEEL = "steel"


class Moisture(StrEnum):
    """Moisture of the cords."""

    DRY = "dry"
    DAMP = "damp"
    WET = "wet"


LIVE = ("log", "column", "follow", "every")  # what tells of a cure that runs
# what goes with an order, too
BESIDES = ("order", "save", "pictures", "picture", "draws", "batch", "edge", "advice", "shift", "as_json", *LIVE)


def _by_hand(help_text: str, metavar: str | None = None) -> Any:
    return typer.Option(help=help_text, metavar=metavar)


def print_cure(
    context: typer.Context,
    order: Annotated[
        str | None, typer.Argument(metavar="ORDER", help="A cure order, JSON or YAML; - reads standard input.")
    ] = None,
    thickness: Annotated[str | None, _by_hand("Of the whole wall between the pads, '74 mm'.", "LENGTH")] = None,
    fill: Annotated[str, _by_hand("Fill rubber: a compound by name, or its file.", "NAME")] = "fill rubber",
    reinforcement: Annotated[str | None, _by_hand("Thickness of the reinforcement.", "LENGTH")] = None,
    precured: Annotated[bool, typer.Option("--precured", help="The reinforcement is cured already.")] = False,
    casing: Annotated[str | None, _by_hand("Old casing left under the new rubber.", "LENGTH")] = None,
    cord: Annotated[Cord, _by_hand("Cord of that casing.")] = Cord.TEXTILE,
    gum: Annotated[str | None, _by_hand("Cushion gum; 2 mm when left out.", "LENGTH")] = None,
    ambient: Annotated[str | None, _by_hand("What a thermometer in the shop reads, '5 °C'.", "TEMPERATURE")] = None,
    tyre: Annotated[str | None, _by_hand("Coldest reading on the tyre.", "TEMPERATURE")] = None,
    setpoint: Annotated[str | None, _by_hand("Of the pads; 140 °C when left out.", "TEMPERATURE")] = None,
    rate: Annotated[float | None, _by_hand("Rise of the pads in °C a minute.", "NUMBER")] = None,
    preheated: Annotated[bool, typer.Option("--preheated", help="The pads are hot when they are put on.")] = False,
    faces: Annotated[Faces, _by_hand("Which faces are heated.")] = Faces.BOTH,
    covered: Annotated[bool, typer.Option("--covered", help="A face that is not heated is covered well.")] = False,
    pressure: Annotated[str | None, _by_hand("Of the clamp, gauge, '2.0 bar'.", "PRESSURE")] = None,
    altitude: Annotated[str | None, _by_hand("Of the shop above the sea.", "LENGTH")] = None,
    moisture: Annotated[Moisture | None, _by_hand("Moisture of the cords; damp when left out.")] = None,
    schedule: Annotated[Counted, _by_hand("How to count the cool-down.")] = Counted.SAFE,
    cooling: Annotated[Cooled, _by_hand("How it cools after power-off.")] = Cooled.STILL_AIR,
    save: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Write the order to this file, to be changed by hand.")
    ] = None,
    pictures: Annotated[
        Path | None, typer.Option(metavar="DIR", help="Draw the cure into this folder, each picture as SVG and PNG.")
    ] = None,
    picture: Annotated[
        Path | None, typer.Option(metavar="FILE", help="Draw all of it on one sheet, .svg or .png.")
    ] = None,
    draws: Annotated[
        int, typer.Option(min=0, max=20000, help="Check how sure it is by so many random orders.", metavar="NUMBER")
    ] = 0,
    batch: Annotated[
        bool, typer.Option("--batch", help="ORDER holds many, one a line as JSON, or a YAML list: a CSV row for each.")
    ] = False,
    edge: Annotated[
        bool, typer.Option("--edge", help="Check reach and overlap of the pads in two dimensions, some seconds.")
    ] = False,
    advice: Annotated[bool, typer.Option("--advice", help="Say what else could be done, and what if.")] = False,
    shift: Annotated[
        float | None, typer.Option(metavar="HOURS", help="With --advice: hours to fit a cure in; 8.")
    ] = None,
    log: Annotated[
        Path | None, typer.Option(metavar="LOG", help="CSV with time, pads, sensors inside, pressure: where it stands.")
    ] = None,
    column: Annotated[
        list[str] | None, typer.Option(metavar="HEADING=MEANING", help="What a column is, such as 'T3=25 mm [°C]'.")
    ] = None,
    follow: Annotated[bool, typer.Option("--follow", help="Read the log again while it grows.")] = False,
    every: Annotated[float, typer.Option(metavar="SECONDS", min=0.2, max=3600, help="Between two looks at it.")] = 10,
    as_json: JsonOption = False,
) -> None:
    """Work out the cure time of one repair, from an order or from a few figures; with a log, where it stands."""
    if (order is None) == (thickness is None):
        raise RefusalError(
            "a cure is worked out from an order or from a thickness. Write 'mendbook cure ORDER', or "
            '\'mendbook cure --thickness "74 mm" --ambient "5 °C"\'.'
        )
    from mendbook.cli.advising import Counsel

    counsel = Counsel(advice, shift)
    counsel.check()
    if batch:
        _refuse_figures(context)
        is_more_asked = any((save, pictures, picture, draws, edge, advice, log, column, follow))
        _print_rows(order, is_more_asked=is_more_asked, as_json=as_json)
        return
    from mendbook.cli.picturing import Gallery

    gallery = Gallery(pictures, picture)
    gallery.check()
    if order is not None:
        _refuse_figures(context)
        wanted, name = _read(order)
    else:
        from mendbook.cli.plain_cure import read_figures

        wanted, name = read_figures(context.params), "this wall"
    if save is not None:
        from mendbook.cli.plain_cure import save_order

        save_order(wanted, save)
    if log or column or follow:
        if any((draws, pictures, picture, edge, advice)):
            raise RefusalError(
                "--draws, --pictures, --picture, --edge and --advice are of a whole cure. Leave them out beside --log."
            )
        from mendbook.cli.following import answer_log

        answer_log(wanted, log, column or (), every if follow else None, as_json=as_json)
        return
    _answer(wanted, name, draws, counsel, gallery, edge=edge, as_json=as_json)


def _print_rows(order: str | None, *, is_more_asked: bool, as_json: bool) -> None:
    if order is None or is_more_asked:
        raise RefusalError(
            "--batch reads orders from a file and writes rows, no more. Write 'mendbook cure FILE --batch'."
        )
    from mendbook.cli.cure_rows import print_rows

    print_rows(order, as_json=as_json)


def _refuse_figures(context: typer.Context) -> None:
    """Refuse a figure beside an order: the order has its own."""
    for name in context.params:
        source = context.get_parameter_source(name)
        if name not in BESIDES and source is not None and source.name == "COMMANDLINE":
            raise RefusalError(
                f"--{name.replace('_', '-')}: an order says this itself, and both cannot hold. Change it in the order."
            )


def _read(given: str) -> tuple["CureOrder", str]:
    from mendbook.cli.documents import open_document
    from mendbook.terms.document import DocumentError

    with refusing(DocumentError):
        document = open_document(given)
    from mendbook.cli.orders import OrderError, read_order

    with refusing(OrderError):
        return read_order(document), document.name


def _answer(
    wanted: "CureOrder", name: str, draws: int, counsel: "Counsel", gallery: "Gallery", *, edge: bool, as_json: bool
) -> None:
    from mendbook.cure import NeverCuredError, PadTooSmallError, compute
    from mendbook.cure.scatter import spread

    with refusing(NeverCuredError, PadTooSmallError, where=name):
        sheet = compute(wanted)
        longer = sheet.reach.factor if sheet.reach else 1.0
        sheet = sheet.model_copy(update={"band": spread(wanted, sheet.schedule, draws, longer=longer)})
        if edge:
            from mendbook.cure.edge_check import check_edge

            sheet = sheet.model_copy(update={"edge": check_edge(wanted)})
        sheet = counsel.add(wanted, sheet)
    drawn = gallery.fill(wanted, sheet)
    if as_json:
        write(sheet.model_dump_json(by_alias=True, indent=2))
        return
    from mendbook.card.cure_report import cure_report

    show(lambda width: cure_report(sheet, width, wanted.rationale))
    if drawn:
        write(f"\nDrawn: {drawn}")
