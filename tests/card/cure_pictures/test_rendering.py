"""Files of a picture: valid, readable as text, and the same on every run."""

import struct
import subprocess
import sys
from xml.etree import ElementTree

import matplotlib
import pytest

from mendbook.card.cure_pictures import as_png, as_svg, draw_cure
from tests.card.cure_pictures.orders import ORDERS, drawn, sheet

SVG = "{http://www.w3.org/2000/svg}"


def words(svg: str) -> list[str]:
    return ["".join(text.itertext()) for text in ElementTree.fromstring(svg).iter(f"{SVG}text")]


@pytest.mark.parametrize("name", ["usual", "odd names"])
def test_the_svg_is_valid_and_its_letters_are_letters(name: str) -> None:
    svg = as_svg(drawn(name))
    root = ElementTree.fromstring(svg)
    assert root.tag == f"{SVG}svg"
    assert (root.get("width"), root.get("height")) == ("180.00mm", "267.00mm")
    assert {"timer starts", "slowest point", "switch off", "release", "fill" if name == "usual" else "gum"} <= {
        *words(svg)
    }
    assert ("$a_b$ 名" in " ".join(words(svg))) == (name == "odd names")


def test_it_can_be_set_into_a_page_of_any_width() -> None:
    root = ElementTree.fromstring(as_svg(drawn("thin", "temperatures"), width_mm=120))
    assert (root.get("width"), root.get("height")) == ("120.00mm", "70.00mm")
    assert root.get("viewBox") == ElementTree.fromstring(as_svg(drawn("thin", "temperatures"))).get("viewBox")


def test_the_same_order_gives_the_same_bytes_whatever_the_machine_is_set_to() -> None:
    def files() -> tuple[str, bytes]:
        figure = draw_cure("through_wall", ORDERS["thin"], sheet("thin"))
        return as_svg(figure), as_png(figure)

    with matplotlib.rc_context({"font.size": 30, "savefig.bbox": "tight", "svg.fonttype": "path", "figure.dpi": 50}):
        elsewhere = files()
    assert files() == elsewhere
    assert "date" not in elsewhere[0]


def test_the_bitmap_has_200_dots_an_inch() -> None:
    head = as_png(drawn("thin", "through_wall"))[:24]
    assert head[:8] == b"\x89PNG\r\n\x1a\n"
    width, height = struct.unpack(">II", head[16:24])
    assert width == pytest.approx(180 / 25.4 * 200, abs=1)
    assert height == pytest.approx(105 / 25.4 * 200, abs=1)


def test_nobody_who_draws_nothing_loads_the_drawing_library() -> None:
    code = "import sys, mendbook.cli.commands, mendbook.card, mendbook.triage; sys.exit('matplotlib' in sys.modules)"
    assert subprocess.run([sys.executable, "-P", "-c", code], check=False).returncode == 0
