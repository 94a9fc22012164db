"""The PDF: the same words as the page, on sheets that are numbered, and nothing of a stranger's read as markup."""

import re
from collections import Counter
from dataclasses import dataclass
from functools import cache
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


@dataclass(frozen=True)
class Printed:
    """What stands on each sheet, how large it is, and the smallest of its letters [points]."""

    said: tuple[str, ...]
    sizes: tuple[tuple[float, float], ...]
    smallest: float

    @property
    def run_on(self) -> tuple[str, ...]:
        """The sheets without blanks and marks of folding."""
        return tuple(re.sub(r"[\s\u200b]", "", sheet) for sheet in self.said)


@cache
def printed(given: str, form: Format, shop: Shop) -> Printed:
    """Return the card of an example, or the hostile one, read back from its PDF."""
    made = rude(shop) if given == "rude" else docket(given, shop)
    reader = pypdf.PdfReader(BytesIO(as_pdf(job_card(made), card_size(form, made.outcome))))
    smallest = [100.0]

    def visit(text: str, matrix: list[float], inner: list[float], _font: object, size: float) -> None:
        if text.strip():
            smallest[0] = min(smallest[0], abs(size * inner[3] * matrix[3]))

    said = tuple(page.extract_text(visitor_text=visit) for page in reader.pages)
    sizes = tuple((float(page.mediabox.width), float(page.mediabox.height)) for page in reader.pages)
    return Printed(said, sizes, smallest[0])


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
    paper, said = job_card(given), printed(BY_OUTCOME[outcome], "a4", shop).said
    running = "".join(f"{paper.identity}{paper.foot}sheet{number}of{len(said)}" for number in range(1, len(said) + 1))
    left = letters("".join(said))
    left.subtract(letters(running))
    assert +left == letters(shown(paper, given))


def test_words_stand_in_the_sheet_as_they_stand_on_the_card(shop: Shop) -> None:
    given = docket(BY_OUTCOME["repair"], shop)
    assert given.plan is not None
    said = "".join(printed(BY_OUTCOME["repair"], "a4", shop).run_on)
    for step in given.plan.repairs[0].steps:
        assert re.sub(r"\s", "", step.do) in said


@pytest.mark.parametrize(
    ("outcome", "form"), [*((outcome, "a4") for outcome in BY_OUTCOME), ("repair", "letter"), ("reject", "letter")]
)
def test_the_usual_case_takes_two_sides_at_most(outcome: str, form: Format, shop: Shop) -> None:
    read = printed(BY_OUTCOME[outcome], form, shop)
    assert len(read.said) <= (1 if outcome == "stop" else 2)
    identity = job_card(docket(BY_OUTCOME[outcome], shop)).identity
    for number, (said, size) in enumerate(zip(read.said, read.sizes, strict=True), 1):
        assert size == pytest.approx({"a4": (595, 842), "letter": (612, 792)}[form], abs=1)
        assert f"sheet {number} of {len(read.said)}" in said
        assert identity in said


def test_no_letter_is_smaller_than_seven_points(shop: Shop) -> None:
    assert printed(BY_OUTCOME["repair"], "a4", shop).smallest >= 6.99


def test_a_step_stays_in_one_piece_with_its_box(shop: Shop) -> None:
    given = docket(BY_OUTCOME["repair"], shop)
    assert given.plan is not None
    for step in (*given.plan.repairs[0].steps, *given.plan.ladder):
        whole = [re.sub(r"\s", "", words) for words in (step.do, step.hold_point.rstrip(".")) if words]
        sheets = printed(BY_OUTCOME["repair"], "a4", shop).run_on
        assert any(all(words in sheet for words in whole) for sheet in sheets), step.do


def test_hostile_words_are_printed_as_letters(shop: Shop) -> None:
    assert "</p><script>alert(1)</script>#panic()$x$" in "".join(printed("rude", "a4", shop).run_on)


def test_it_is_the_same_twice_and_a_tag_is_one_small_sheet(shop: Shop) -> None:
    given = docket(BY_OUTCOME["repair"], shop)
    first, second = (as_pdf(limits_tag(given), tag_size("a4", "repair")) for _ in range(2))
    assert first == second
    (page,) = pypdf.PdfReader(BytesIO(first)).pages
    assert float(page.mediabox.width) == pytest.approx(298, abs=1)  # A6
    assert "Not on a steered axle" in page.extract_text()


@pytest.mark.parametrize("outcome", BY_OUTCOME)
def test_a_tag_of_every_outcome_is_one_sheet(outcome: str, shop: Shop) -> None:
    for form in ("a4", "letter"):
        given = docket(BY_OUTCOME[outcome], shop)
        written = as_pdf(limits_tag(given), tag_size(form, given.outcome))
        assert len(pypdf.PdfReader(BytesIO(written)).pages) == 1
