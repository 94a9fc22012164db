"""The section: what lies at a place of the tape is drawn there, and nothing is guessed."""

from collections.abc import Sequence
from itertools import combinations, pairwise
from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.card.drawing.marks import site_marks
from mendbook.card.drawing.section_view import draw_section
from mendbook.card.drawing.shapes import Drawing, Line, Point, Words
from mendbook.terms.plan import Repair
from mendbook.terms.tyre_map import TyreMap
from tests.card.drawing.outlines import REPAIR, SIZES, outline, site, tyre


def drawn(of: TyreMap, repair: Repair | None = None) -> Drawing:
    section = draw_section(of, site_marks(of.sites), repair)
    assert isinstance(section, Drawing)
    return section


def line(section: Drawing, name: str) -> tuple[Point, ...]:
    (shape,) = section.named(name)
    assert isinstance(shape, Line)
    return shape.points


def run(points: Sequence[Point]) -> float:
    return sum(dist(one, other) for one, other in pairwise(points))


def along(section: Drawing, point: Point) -> float:
    """Return how far a point lies from the bead toe along the drawn surface [mm of tyre]."""
    surface = line(section, "surface")
    nearest = min(range(len(surface)), key=lambda index: dist(surface[index], point))
    assert section.scale is not None
    return run(surface[: nearest + 1]) * section.scale


def test_an_injury_330_mm_from_the_bead_is_drawn_there() -> None:
    section = drawn(tyre(site("A", 330, 118)))
    injury = line(section, "injury A")
    surface = line(section, "surface")
    on_surface = [point for point in injury if min(dist(point, other) for other in surface) < 0.3]
    places = [along(section, point) for point in on_surface]
    assert min(places) == pytest.approx(330, abs=5)  # points of the drawn surface lie some millimetres apart
    assert max(places) == pytest.approx(448, abs=5)


@given(st.sampled_from(SIZES), st.floats(0.02, 0.75), st.floats(0.01, 0.2))
def test_wherever_it_lies_it_is_as_long_as_it_is_wide(size: str, start: float, share: float) -> None:
    girth = outline(size).half_girth_mm
    section = drawn(tyre(site("A", start * girth, share * girth, side="serial side"), size=size))
    injury = line(section, "injury A")
    half = len(injury) // 2  # out along the surface, back along its floor
    assert section.scale is not None
    assert run(injury[:half]) * section.scale == pytest.approx(share * girth, rel=0.01, abs=0.5)
    assert along(section, injury[0]) == pytest.approx(start * girth, abs=0.03 * girth)


def test_the_scale_bar_is_true() -> None:
    for size in SIZES:
        section = drawn(tyre(site("A", 100, 20), size=size))
        (start, end) = line(section, "scale bar")
        (said,) = (word.text for word in section.words if word.name == "scale")
        length = float(said.partition(" mm")[0])
        assert section.scale is not None
        assert dist(start, end) * section.scale == pytest.approx(length)
        assert f"1 : {section.scale:g}" in said


def test_the_band_without_repair_ends_where_its_zone_ends() -> None:
    of = tyre(site())
    section = drawn(of)
    assert of.outline is not None
    band = line(section, "no-repair band")
    places = [along(section, point) for point in band[: len(band) // 2]]
    assert max(places) == pytest.approx(of.outline.zones[0].ends_mm, abs=5)


def test_what_is_laid_over_it_lies_round_its_middle() -> None:
    section = drawn(tyre(site()), REPAIR)
    for patch in REPAIR.patches:
        if patch.what == "outside pad":
            pad = line(section, patch.what)
            ends = sorted((along(section, pad[0]), along(section, pad[-1])))
            assert sum(ends) / 2 == pytest.approx(330 + 59 + patch.shift_mm, abs=12)  # along the surface under the pad
            assert ends[1] - ends[0] == pytest.approx(patch.across_mm, abs=20)
    assert section.named("reinforcement")
    assert section.named("inside bag")


def test_only_the_repair_that_is_asked_for_is_laid_out() -> None:
    section = drawn(tyre(site(), site("B", 500, 30)))
    assert not section.named("outside pad")
    assert section.named("injury A")
    assert section.named("injury B")


def test_both_sides_are_drawn_when_both_are_hurt_each_on_its_own() -> None:
    section = drawn(tyre(site("A", side="serial side"), site("B", 300, 40)))
    middle = section.width / 2
    assert all(x < middle for x, _ in line(section, "injury A"))
    assert all(x > middle for x, _ in line(section, "injury B"))


def test_what_was_not_measured_is_listed_and_not_drawn() -> None:
    of = tyre(
        site("A", None, None, zone="shoulder"), site("B", 300, None), site("C", 200, 40, side=""),
        site("D", 850, 20, side="crown"), site("E", 250, 30, reaches=""),
    )  # fmt: skip
    section = drawn(of)
    assert not section.named("injury A")
    assert not section.named("injury C")
    told = " ".join(section.left_out)
    assert "Injury A is not drawn: its place was not measured. Its zone was named: shoulder." in told
    assert "Injury C is not drawn: nobody wrote on which side it lies." in told
    assert "Of injury b only one edge is drawn" in told.replace("injury B", "injury b")
    assert "Injury D lies in the crown; nobody wrote on which side of the centreline." in told
    (edge,) = section.named("injury B")
    assert isinstance(edge, Line)
    assert edge.look == "surface"


def test_without_an_outline_it_says_why() -> None:
    assert draw_section(TyreMap(why_not="the size of the tyre was not read"), {}) == (
        "The section is not drawn: the size of the tyre was not read."
    )
    odd = TyreMap(outline=outline("26.5R25").model_copy(update={"half_girth_mm": 9000.0}))
    assert "do not fit one another" in str(draw_section(odd, {}))


CASES = {
    "usual": (tyre(site()), REPAIR),
    "crown": (tyre(site("A", 850, 30, side="crown")), None),
    "near the bead": (tyre(site("A", 40, 30)), None),
    "twelve": (tyre(*(site(f"injury {number}", 100 + 50 * number, 40) for number in range(12))), None),
    "twelve on two sides": (
        tyre(*(site(f"{n}", 90 + 55 * n, 50, side=("serial side", "opposite side")[n % 2]) for n in range(12))), None,
    ),
    "counted wider": (tyre(site("A", 330, 60, counted_mm=(290, 430))), None),
}  # fmt: skip


@pytest.mark.parametrize("case", CASES)
def test_no_label_lies_over_another_or_off_the_picture(case: str) -> None:
    section = drawn(*CASES[case])
    boxes = [(word.text, word.box) for word in section.words]
    for (one, first), (other, second) in combinations(boxes, 2):
        assert not first.meets(second), f"{one} / {other}"
    for text, box in boxes:
        assert box.left >= 0, text
        assert box.right <= section.width, text
        assert box.top >= -0.2, text
        assert box.bottom <= section.height + 0.2, text
    assert all(word.size >= 7 for word in section.words)


@given(st.sampled_from(SIZES))
def test_labels_keep_apart_on_every_size(size: str) -> None:
    girth = outline(size).half_girth_mm
    section = drawn(tyre(site("A", 0.4 * girth, 0.1 * girth), size=size), REPAIR)
    words = list(section.words)
    assert not any(isinstance(word, Words) and one.box.meets(word.box) for one, word in combinations(words, 2))
