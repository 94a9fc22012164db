"""The page: whole HTML of one file, nothing from outside, no markup but ours, on sheets of paper as on a phone."""

import re
import subprocess
from collections import Counter
from pathlib import Path

import pypdf
import pytest
from PIL import Image

from mendbook.card.drawing.shapes import Line
from mendbook.card.drawing.svg import as_svg
from mendbook.card.job.card import job_card
from mendbook.card.job.page import as_page
from mendbook.card.job.sizes import card_size, tag_size
from mendbook.card.job.tag import limits_tag
from mendbook.terms.docket import Docket
from mendbook.triage import Shop
from tests.card.job.papers import BY_OUTCOME, docket, rude
from tests.card.yard.test_page import CHROMIUM, NO_BROWSER, QUIET, Reader


def page(given: Docket) -> str:
    return as_page(job_card(given), card_size("a4", given.outcome))


@pytest.fixture(params=BY_OUTCOME)
def written(request: pytest.FixtureRequest, shop: Shop) -> str:
    return page(docket(BY_OUTCOME[request.param], shop))


def test_it_is_whole_and_the_same_twice(written: str, shop: Shop) -> None:
    Reader(written)
    assert written.startswith("<!DOCTYPE html>\n<html lang=")
    repaired = docket(BY_OUTCOME["repair"], shop)
    assert page(repaired) == page(repaired)


def test_nothing_is_fetched_and_nothing_runs(written: str) -> None:
    read = Reader(written)
    assert {"script", "link", "img", "iframe", "object", "embed", "form"} & {tag for tag, _ in read.tags} == set()
    drawn = re.sub(r'xmlns="[^"]*"', "", written)
    assert "http" not in drawn
    assert "@import" not in drawn
    assert all(url.startswith("#") for url in re.findall(r"url\(([^)]*)\)", drawn))
    assert not any(name.startswith("on") for _, attributes in read.tags for name in attributes)


def test_names_within_pictures_lead_somewhere_and_are_given_once(written: str) -> None:
    read = Reader(written)
    ids = Counter(attributes["id"] for _, attributes in read.tags if attributes.get("id"))
    assert [name for name, number in ids.items() if number > 1] == []
    assert set(re.findall(r"url\(#([^)]*)\)", written)) <= set(ids)
    assert all(svg["role"] == "img" and svg["aria-label"] for svg in read.named("svg"))


def test_what_strangers_wrote_never_becomes_markup(shop: Shop) -> None:
    for one in (page(rude(shop)), as_page(limits_tag(rude(shop)), tag_size("a4", "serve"))):
        assert "<script" not in one
        assert "<style>*" not in one
        assert one.count("</style>") == 1
        assert Reader(one).named("script") == []
        assert "&lt;script&gt;" in one


def test_identity_and_number_of_the_sheet_stand_on_each(shop: Shop) -> None:
    written = page(docket(BY_OUTCOME["repair"], shop))
    (style,) = re.findall(r"<style>(.*?)</style>", written, re.DOTALL)
    assert 'content: "Job card, FH\\2d 117, 26.5R25, 2026' in style
    assert 'content: "sheet " counter(page) " of " counter(pages)' in style


def browse(tmp_path: Path, written: str, *how: str) -> None:
    assert CHROMIUM is not None
    (tmp_path / "card.html").write_text(written, encoding="utf-8")
    command = (CHROMIUM, *QUIET, f"--user-data-dir={tmp_path / 'profile'}", *how, (tmp_path / "card.html").as_uri())
    subprocess.run(command, check=True, capture_output=True, timeout=60)


@NO_BROWSER
def test_a_browser_prints_the_usual_job_on_two_sides_each_with_its_identity(tmp_path: Path, shop: Shop) -> None:
    browse(
        tmp_path, page(docket(BY_OUTCOME["repair"], shop)),
        f"--print-to-pdf={tmp_path / 'card.pdf'}", "--no-pdf-header-footer",
    )  # fmt: skip
    printed = pypdf.PdfReader(tmp_path / "card.pdf")
    assert len(printed.pages) == 2
    for number, sheet in enumerate(printed.pages, 1):
        said = sheet.extract_text()
        assert "Job card, FH-117, 26.5R25" in said
        assert f"sheet {number} of 2" in said


@NO_BROWSER
def test_a_browser_shows_the_injury_where_it_lies(tmp_path: Path, shop: Shop) -> None:
    """The section alone, four dots to the millimetre: black at the injury, white in the cavity, grey in the wall."""
    paper = job_card(docket(BY_OUTCOME["hold"], shop))
    section = next(picture.drawings[0] for picture in paper.pictures if picture.key == "section")
    zoom = 4 * 25.4 / 96  # of CSS pixels, for four dots to a millimetre
    shown = f'<body style="margin:0">{as_svg(section)}'
    size = (round(section.width * 96 / 25.4) + 1, round(section.height * 96 / 25.4) + 1)
    shot = (f"--screenshot={tmp_path / 'shot.png'}", f"--window-size={max(500, size[0])},{size[1]}")
    browse(tmp_path, shown, *shot, f"--force-device-scale-factor={zoom}")
    image = Image.open(tmp_path / "shot.png").convert("L")
    (injury,) = section.named("injury A")
    (surface,) = section.named("surface")
    assert isinstance(injury, Line)
    assert isinstance(surface, Line)

    def grey(x: float, y: float) -> int:
        value = image.getpixel((round(x * 4), round(y * 4)))
        assert isinstance(value, int)
        return value

    xs, ys = zip(*injury.points, strict=True)
    assert grey(sum(xs) / len(xs), sum(ys) / len(ys)) < 40
    assert grey(sum(xs) / len(xs), max(ys) + 2.0) > 200  # the wall beside it
    assert grey(section.width / 5, section.height / 2) > 250  # the cavity
    middle = sum(ys) / len(ys)
    across = sum(xs) / len(xs)
    ends = [next(step for step in range(400) if grey(across, middle + way * step / 4) > 40) for way in (-1, 1)]
    assert middle - ends[0] / 4 == pytest.approx(min(ys), abs=0.8)
    assert middle + ends[1] / 4 == pytest.approx(max(ys), abs=0.8)
