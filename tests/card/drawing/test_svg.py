"""SVG: valid, of its size, the same twice, and no markup but ours."""

from xml.etree import ElementTree

from mendbook.card.drawing.clock_view import draw_clocks
from mendbook.card.drawing.inks import INKS
from mendbook.card.drawing.section_view import draw_section
from mendbook.card.drawing.shapes import Drawing, Line, Words
from mendbook.card.drawing.svg import as_svg
from tests.card.drawing.outlines import HOSTILE, REPAIR, site, tyre

SVG = "{http://www.w3.org/2000/svg}"


def pictures() -> list[Drawing]:
    of = tyre(site())
    section = draw_section(of, {"A": HOSTILE}, REPAIR)
    assert isinstance(section, Drawing)
    return [section, *draw_clocks(of, {"A": HOSTILE}, REPAIR)]


def test_it_is_valid_and_of_its_size_and_the_same_twice() -> None:
    for picture in pictures():
        svg = as_svg(picture, "k")
        root = ElementTree.fromstring(svg)
        assert (root.get("width"), root.get("height")) == (f"{picture.width:g}mm", f"{picture.height:g}mm")
        assert root.get("viewBox") == f"0 0 {picture.width:g} {picture.height:g}"
        assert svg == as_svg(picture, "k")


def test_what_strangers_wrote_stays_text() -> None:
    for picture in pictures():
        root = ElementTree.fromstring(as_svg(picture))
        assert {child.tag for child in root.iter()} <= {
            f"{SVG}{tag}" for tag in ("svg", "defs", "pattern", "path", "circle", "text")
        }
        words = ["".join(text.itertext()) for text in root.iter(f"{SVG}text")]
        assert any("</text><script>" in word for word in words)
        assert not any("\u202e" in word for word in words)


def test_names_of_hatchings_are_set_apart_by_the_key() -> None:
    picture = pictures()[0]
    assert 'id="one-slant"' in as_svg(picture, "one")
    assert "url(#one-slant)" in as_svg(picture, "one")
    assert "url(#two-slant)" in as_svg(picture, "two")


def test_every_look_can_be_drawn() -> None:
    for look in INKS:
        shapes = (Line("a", ((0, 0), (1, 0), (1, 1)), look, closed=True), Words("b", (1, 1), "x", look=look))
        ElementTree.fromstring(as_svg(Drawing("all", 10, 10, shapes)))
