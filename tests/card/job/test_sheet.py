"""The PDF: the same words as the page, on sheets that are numbered, and nothing of a stranger's read as markup."""

import re
from collections import Counter
from io import BytesIO

import pypdf
import pytest

from mendbook.card.job.blocks import Paper
from mendbook.card.job.card import job_card
from mendbook.card.job.page import as_page
from mendbook.card.job.sheet import as_pdf
from mendbook.card.job.sizes import Format, card_size, tag_size
from mendbook.card.job.tag import limits_tag
from mendbook.terms.docket import Docket
from mendbook.triage import Shop
from tests.card.job.papers import BY_OUTCOME, docket, rude
from tests.card.yard.test_page import Reader


def sheets(given: Docket, form: Format = "a4") -> pypdf.PdfReader:
    return pypdf.PdfReader(BytesIO(as_pdf(job_card(given), card_size(form, given.outcome))))


def letters(said: str) -> Counter[str]:
    """Return the letters of a text: how often each stands in it, whatever was folded, hyphenated or moved."""
    return Counter(re.sub(r"[\s\u200b–]", "", said))


def shown(paper: Paper, given: Docket) -> str:
    """Return the words of the page, without its style sheet and its foot."""
    read = Reader(as_page(paper, card_size("a4", given.outcome)))
    return "".join(said for tag, said in read.said if tag not in ("style", "title", "footer"))


@pytest.mark.parametrize("outcome", BY_OUTCOME)
def test_page_and_sheet_say_the_same(outcome: str, shop: Shop) -> None:
    given = docket(BY_OUTCOME[outcome], shop)
    paper, read = job_card(given), sheets(given)
    running = "".join(
        f"{paper.identity}{paper.foot}sheet{number}of{len(read.pages)}" for number in range(1, len(read.pages) + 1)
    )
    printed = letters("".join(page.extract_text() for page in read.pages))
    printed.subtract(letters(running))
    assert +printed == letters(shown(paper, given))


def test_words_stand_in_the_sheet_as_they_stand_on_the_card(shop: Shop) -> None:
    given = docket(BY_OUTCOME["repair"], shop)
    assert given.plan is not None
    said = re.sub(r"\s", "", "".join(page.extract_text() for page in sheets(given).pages))
    for step in given.plan.repairs[0].steps:
        assert re.sub(r"\s", "", step.do) in said


@pytest.mark.parametrize("form", ["a4", "letter"])
@pytest.mark.parametrize("outcome", BY_OUTCOME)
def test_the_usual_case_takes_two_sides_at_most(outcome: str, form: Format, shop: Shop) -> None:
    read = sheets(docket(BY_OUTCOME[outcome], shop), form)
    assert len(read.pages) <= (1 if outcome == "stop" else 2)
    width, height = {"a4": (595, 842), "letter": (612, 792)}[form]
    for number, page in enumerate(read.pages, 1):
        assert (float(page.mediabox.width), float(page.mediabox.height)) == pytest.approx((width, height), abs=1)
        assert f"sheet {number} of {len(read.pages)}" in page.extract_text()
        assert job_card(docket(BY_OUTCOME[outcome], shop)).identity in page.extract_text()


def test_no_letter_is_smaller_than_seven_points(shop: Shop) -> None:
    sizes: list[float] = []

    def visit(text: str, matrix: list[float], inner: list[float], _font: object, size: float) -> None:
        if text.strip():
            sizes.append(abs(size * inner[3] * matrix[3]))

    for page in sheets(docket(BY_OUTCOME["repair"], shop)).pages:
        page.extract_text(visitor_text=visit)
    assert min(sizes) >= 6.99


def test_a_step_stays_in_one_piece_with_its_box(shop: Shop) -> None:
    given = docket(BY_OUTCOME["repair"], shop)
    assert given.plan is not None
    pages = [re.sub(r"\s", "", page.extract_text()) for page in sheets(given).pages]
    for step in (*given.plan.repairs[0].steps, *given.plan.ladder):
        whole = [re.sub(r"\s", "", words) for words in (step.do, step.hold_point.rstrip(".")) if words]
        assert sum(all(words in page for words in whole) for page in pages) >= 1, step.do


def test_hostile_words_are_printed_as_letters(shop: Shop) -> None:
    said = re.sub(r"[\s\u200b]", "", "".join(page.extract_text() for page in sheets(rude(shop)).pages))
    assert "</p><script>alert(1)</script>#panic()$x$" in said


def test_it_is_the_same_twice_and_a_tag_is_one_small_sheet(shop: Shop) -> None:
    given = docket(BY_OUTCOME["repair"], shop)
    first, second = (as_pdf(limits_tag(given), tag_size("a4")) for _ in range(2))
    assert first == second
    (page,) = pypdf.PdfReader(BytesIO(first)).pages
    assert float(page.mediabox.width) == pytest.approx(298, abs=1)  # A6
    assert "Not on a steered axle" in page.extract_text()


@pytest.mark.parametrize("outcome", BY_OUTCOME)
def test_a_tag_of_every_outcome_is_one_sheet(outcome: str, shop: Shop) -> None:
    for form in ("a4", "letter"):
        written = as_pdf(limits_tag(docket(BY_OUTCOME[outcome], shop)), tag_size(form))
        assert len(pypdf.PdfReader(BytesIO(written)).pages) == 1
