"""The page: whole HTML, nothing from outside, and no markup but ours."""

import re
import shutil
import subprocess
from collections import Counter
from html.parser import HTMLParser
from pathlib import Path

import pytest

from mendbook.card.yard.page import yard_page
from mendbook.yard.summary import Summary
from tests.card.yard.samples import RUDE, note, rude, summary

VOID = {"meta", "col", "link", "br", "hr", "img", "input"}
CHROMIUM = shutil.which("chromium")
NO_BROWSER = pytest.mark.skipif(  # only a browser can say how a page looks; the gate installs one where it may
    CHROMIUM is None, reason="no Chromium here to render the page with"
)
QUIET = (
    "--headless", "--no-sandbox", "--disable-gpu", "--disable-quic", "--no-first-run",
    "--disable-background-networking", "--disable-component-update", "--disable-sync", "--hide-scrollbars",
)  # fmt: skip


class Reader(HTMLParser):
    """Reads a page strictly: what is opened is closed, in its order."""

    def __init__(self, page: str) -> None:
        super().__init__()
        self.open: list[str] = []
        self.tags: list[tuple[str, dict[str, str | None]]] = []
        self.text: dict[str, list[str]] = {}
        self.said: list[tuple[str, str]] = []
        self.feed(page)
        self.close()
        assert self.open == []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.append((tag, dict(attrs)))

    def handle_endtag(self, tag: str) -> None:
        assert self.open, tag
        assert self.open.pop() == tag

    def handle_data(self, data: str) -> None:
        if self.open:
            self.text.setdefault(self.open[-1], []).append(data)
            self.said.append((self.open[-1], data))

    def named(self, tag: str) -> list[dict[str, str | None]]:
        return [attributes for name, attributes in self.tags if name == tag]


@pytest.fixture(scope="module")
def page() -> str:
    return yard_page(summary(), note())


@pytest.fixture(scope="module")
def read(page: str) -> Reader:
    return Reader(page)


def test_it_is_whole_and_the_same_twice(page: str) -> None:
    Reader(page)
    assert page == yard_page(summary(), note())
    assert page.startswith("<!DOCTYPE html>\n<html lang=")


def test_nothing_is_fetched_and_nothing_runs(page: str, read: Reader) -> None:
    assert {"script", "link", "img", "iframe", "object", "embed", "form"} & {tag for tag, _ in read.tags} == set()
    drawn = re.sub(r'xmlns(:xlink)?="[^"]*"', "", page)
    assert "http" not in drawn
    assert "@import" not in drawn
    assert all(url.startswith("#") for url in re.findall(r"url\(([^)]*)\)", drawn))
    for _, attributes in read.tags:
        assert not any(name.startswith("on") for name in attributes)
        assert (attributes.get("xlink:href") or "#").startswith("#")


def test_it_can_be_read_aloud(read: Reader) -> None:
    assert read.named("html")[0]["lang"] == "en"
    assert len(read.named("h1")) == 1
    assert all(svg["role"] == "img" and svg["aria-label"] for svg in read.named("svg"))
    assert len(read.named("svg")) == len(read.named("figcaption")) == 7
    assert all(head.get("scope") in ("col", "row") for head in read.named("th"))
    ids = Counter(attributes["id"] for _, attributes in read.tags if attributes.get("id"))
    assert [name for name, number in ids.items() if number > 1] == []
    assert all(one["aria-labelledby"] in ids for tag in ("section", "table") for one in read.named(tag))


def test_names_within_pictures_lead_somewhere(page: str, read: Reader) -> None:
    ids = {attributes["id"] for _, attributes in read.tags if attributes.get("id")}
    assert {*re.findall(r"url\(#([^)]*)\)", page), *re.findall(r'href="#([^"]*)"', page)} <= ids


def test_the_table_has_the_numbers_of_the_summary(read: Reader) -> None:
    cells = read.text["td"]
    for tally in (*summary().sizes.values(), *summary().zones.values()):
        assert f"{tally.number}" in cells


@pytest.mark.parametrize("sheet", [RUDE, "yard.csv"])
def test_what_strangers_wrote_never_becomes_markup(sheet: str) -> None:
    written = yard_page(rude(), note(sheet))
    assert "<script" not in written
    assert "\x1b" not in written
    assert "&lt;script&gt;" in written
    read = Reader(written)
    assert read.named("script") == []
    assert any('<script>alert("x")</script>' in said for said in read.text["td"])


def test_nothing_reviewed_is_still_a_page() -> None:
    read = Reader(yard_page(Summary(), note()))
    assert read.named("svg") == []


@NO_BROWSER
def test_a_browser_shows_and_prints_it(tmp_path: Path, page: str) -> None:
    (tmp_path / "yard.html").write_text(page, encoding="utf-8")
    assert CHROMIUM is not None
    browser = (CHROMIUM, *QUIET, f"--user-data-dir={tmp_path / 'profile'}")
    outputs = {
        "shown.png": (f"--screenshot={tmp_path / 'shown.png'}", "--window-size=500,900"),
        "printed.pdf": (f"--print-to-pdf={tmp_path / 'printed.pdf'}", "--no-pdf-header-footer"),
    }
    for name, how in outputs.items():
        subprocess.run([*browser, *how, (tmp_path / "yard.html").as_uri()], check=True, capture_output=True, timeout=60)
        assert (tmp_path / name).stat().st_size > 10_000
