"""A paper as PDF. It is laid out by a template that takes what stands on the paper as data, never as markup."""

import json
import re
from importlib.resources import files
from importlib.util import find_spec
from pathlib import Path

import typst

from mendbook.card.drawing.svg import as_svg
from mendbook.card.job.blocks import Block, Paper, Part, Picture, Tasks
from mendbook.card.job.sizes import Size

TEMPLATE = "sheet.typ"
FONTS = ("font_roboto", "matplotlib")  # packages that bring the letters: those of the page, and those they lack
_LONG = re.compile(r"\S{25,}")
_PIECE = 8  # letters after which a long word may be broken


def as_pdf(paper: Paper, size: Size) -> bytes:
    """Return `paper` as PDF for a size of sheet; the same bytes for the same paper."""
    told = {"paper": _paper(paper), "size": {**vars(size)}}
    return typst.compile(
        files(__package__).joinpath(TEMPLATE).read_bytes(),
        format="pdf",
        font_paths=typst.Fonts(include_system_fonts=False, font_paths=_font_folders()),
        sys_inputs={"paper": json.dumps(_breakable(told))},
        timestamp=0,
    )


def _font_folders() -> list[str]:
    """Return the folders with fonts, found without loading the packages that hold them."""
    found = (find_spec(package) for package in FONTS)
    places = [Path(place) for spec in found if spec for place in spec.submodule_search_locations or ()]
    inner = ("files", "mpl-data/fonts/ttf")
    return [str(folder) for place in places for name in inner if (folder := place / name).is_dir()]


def _paper(paper: Paper) -> dict[str, object]:
    bands = [
        {
            "form": band.form,
            "parts": [_part(part) for part in band.parts],
            "beside": [_part(part) for part in band.beside],
        }
        for band in paper.bands
    ]
    return {**vars(paper), "bands": bands}


def _part(part: Part) -> dict[str, object]:
    return {"title": part.title, "blocks": [_block(block) for block in part.blocks]}


def _block(block: Block) -> dict[str, object]:
    kind = type(block).__name__.casefold()
    if isinstance(block, Picture):
        drawings = [
            {"svg": as_svg(drawing, f"{block.key}-{number}"), "width": drawing.width, "title": drawing.title}
            for number, drawing in enumerate(block.drawings)
        ]
        return {"kind": kind, "caption": block.caption, "drawings": drawings}
    if isinstance(block, Tasks):
        return {"kind": kind, "items": [vars(item) for item in block.items]}
    return {"kind": kind, **vars(block)}


def _breakable(told: object) -> object:
    """Return what is told with places in long words at which they may be broken; pictures stay as they are."""
    if isinstance(told, str):
        return _LONG.sub(lambda word: "\u200b".join(_pieces(word[0])), told)
    if isinstance(told, dict):
        return {name: value if name == "svg" else _breakable(value) for name, value in told.items()}
    if isinstance(told, list | tuple):
        return [_breakable(value) for value in told]
    return told


def _pieces(word: str) -> list[str]:
    return [word[start : start + _PIECE] for start in range(0, len(word), _PIECE)]
