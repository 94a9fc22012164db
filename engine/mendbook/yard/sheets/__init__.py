"""The sheets of a yard: files of many kinds in, whole tyres in columns of text out, and every fault with its row."""

from mendbook.yard.sheets.column_map import ColumnMap, map_text, read_map, write_map
from mendbook.yard.sheets.fault import FAULTS, SheetError
from mendbook.yard.sheets.guess import Guess, Guessed
from mendbook.yard.sheets.sheet import Sheet, guess_sheet, open_sheet
from mendbook.yard.sheets.template import template

__all__ = [
    "FAULTS",
    "ColumnMap",
    "Guess",
    "Guessed",
    "Sheet",
    "SheetError",
    "guess_sheet",
    "map_text",
    "open_sheet",
    "read_map",
    "template",
    "write_map",
]
