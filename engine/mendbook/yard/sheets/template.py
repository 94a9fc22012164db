"""An empty sheet to fill in: a column for each fact, its answers to choose from, its meaning and its unit."""

from collections.abc import Iterator, Sequence
from datetime import datetime
from io import BytesIO

import xlsxwriter
from xlsxwriter.format import Format
from xlsxwriter.worksheet import Worksheet

from mendbook.terms.case import UNKNOWN
from mendbook.terms.vocabulary import Vocabulary
from mendbook.yard.overrules import OVERRULE, OVERRULES
from mendbook.yard.sheets.fields import Field, Kind, fields
from mendbook.yard.sheets.table import letters
from mendbook.yard.sheets.workbook import MEANING

YARD = "yard"
LAST_ROW = 1_048_575  # of a workbook, from 0 (ECMA-376; from memory)

# Without these a tyre can hardly be judged; they come first, in the order in which a person meets them.
USUAL = (
    "tag", "judged on", "tyre.designation", "tyre.date code", "tyre.casing", "tyre.tread left", "tyre.tread new",
    "found.valve core", "found.heat event", "found.inside inspected", "found.pressure at removal",
    "service.pressure specified", "service.use", "service.duty", "service.position", "service.speed",
    "earlier repairs", "name", "kind", "side", "clock", "zone", "distance from bead", "reaches", "length", "width",
    "depth", "plies damaged", "cords cut", "skived",
)  # fmt: skip
GROUPS = {
    "": "the yard", "tyre": "the tyre", "found": "found on the tyre", "service": "its service",
    "injuries": "the injury", "workshop": "the workshop", OVERRULE: "an overrule",
}  # fmt: skip

_HEAD = ("column", "about", "what it means", "how it is found out", "how it is written")
_FIRST_ANSWER = len(_HEAD)
_HOW = {
    Kind.DATE: "year-month-day, such as 2026-11-25",
    Kind.CODE: "four digits, week and year, as text: 0321",
    Kind.LISTED: "one of these:",
    Kind.TEXT: "text",
}
_WIDTH, _WIDEST = 12, 60
_COLOURS = ("#DDE7EE", "#E8E4D8", "#DDE9DD", "#EEE0DD", "#E6E0EC", "#E4E4E4", "#F0DCDC")
_BIRTH = datetime(2026, 1, 1)  # so that the same vocabulary gives the same bytes


def template(vocabulary: Vocabulary) -> bytes:
    """Return an empty workbook (XLSX) for the facts of `vocabulary`; filled in, it is read without a map."""
    file = BytesIO()
    columns = ordered(vocabulary)
    with xlsxwriter.Workbook(file, {"in_memory": True}) as book:
        book.set_properties({"created": _BIRTH})
        bands = dict(zip(GROUPS, _COLOURS, strict=True))
        heads = {
            section: book.add_format({"bold": True, "text_wrap": True, "bg_color": colour, "border": 1})
            for section, colour in bands.items()
        }
        kinds = {
            Kind.DATE: book.add_format({"num_format": "yyyy-mm-dd"}),
            Kind.CODE: book.add_format({"num_format": "@"}),
            Kind.TEXT: book.add_format({"num_format": "@"}),
        }
        sheet, meaning = book.add_worksheet(YARD), book.add_worksheet(MEANING)
        _write_meaning(meaning, columns, book.add_format({"bold": True}), book.add_format({"text_wrap": True}))
        _write_yard(sheet, columns, heads, kinds)
    return file.getvalue()


def ordered(vocabulary: Vocabulary) -> list[Field]:
    """Return the columns of the template: the usual ones first, the others by what they are about."""
    known = {column: field for column, field in fields(vocabulary).items() if column != OVERRULES}
    first = [known[column] for column in USUAL if column in known]
    rest = [field for section in GROUPS for field in known.values() if field.section == section]
    return list({field.column: field for field in (*first, *rest)}.values())


def heading_of(field: Field) -> str:
    """Return the heading of the column of `field`: its name, and the unit of its bare numbers."""
    return f"{field.name} [{field.unit}]" if field.kind is Kind.MEASURE and field.unit else field.name


def _write_yard(
    sheet: Worksheet, columns: Sequence[Field], heads: dict[str, Format], kinds: dict[Kind, Format]
) -> None:
    sheet.freeze_panes(1, 1)
    sheet.set_row(0, 45)
    for place, field in enumerate(columns):
        is_usual = field.column in USUAL
        sheet.set_column(place, place, _WIDTH, kinds.get(field.kind), {} if is_usual else {"level": 1})
        sheet.write_string(0, place, heading_of(field), heads[field.section])
        sheet.write_comment(0, place, "\n".join(_said(field)), {"x_scale": 2, "y_scale": 1.5})
        if answers := _answers(field):
            last = _FIRST_ANSWER + len(answers) - 1
            source = f"='{MEANING}'!${letters(_FIRST_ANSWER)}${place + 2}:${letters(last)}${place + 2}"
            sheet.data_validation(
                1,
                place,
                LAST_ROW,
                place,
                {
                    "validate": "list",
                    "source": source,
                    "error_title": field.name,
                    "error_message": "Choose one of the answers, or leave the cell empty.",
                },
            )


def _write_meaning(sheet: Worksheet, columns: Sequence[Field], head: Format, wrapped: Format) -> None:
    sheet.freeze_panes(1, 1)
    sheet.set_column(0, 1, 2 * _WIDTH)
    sheet.set_column(2, _FIRST_ANSWER - 1, _WIDEST, wrapped)
    sheet.write_row(0, 0, _HEAD, head)
    for row, field in enumerate(columns, 1):
        told = (heading_of(field), GROUPS[field.section], field.means, field.measure, _how(field), *_answers(field))
        for place, text in enumerate(told):
            sheet.write_string(row, place, text)


def _answers(field: Field) -> list[str]:
    if field.kind is not Kind.LISTED:
        return []
    return [*field.values, *([UNKNOWN] if field.takes_unknown else [])]


def _said(field: Field) -> Iterator[str]:
    yield from filter(None, (field.means, field.measure, _how(field)))
    if answers := _answers(field):
        yield ", ".join(answers)


def _how(field: Field) -> str:
    if field.kind is Kind.MEASURE:
        unit = f"a number in {field.unit}, or one with its own unit" if field.unit else "a number"
        return f"{unit}; also as a range, or with its error: 45 to 60, 48 ± 2"
    return _HOW[field.kind]
