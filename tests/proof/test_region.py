from itertools import product

from hypothesis import given
from hypothesis import strategies as st

from mendbook.proof.region import Box, is_inhabited, spell_box, subtract
from mendbook.rulebook.tree import Bound, Op, Value
from mendbook.terms.vocabulary import Fact, Subject, Vocabulary, Worse

KINDS = ("ash", "spruce", "metal")
SIZES = (0.0, 1.0, 2.0, 3.0, 4.0)
POINTS = [{"kind": kind, "size": size} for kind, size in product(KINDS, SIZES)]
WORDS = Vocabulary(
    {
        "kind": Fact("kind", "kind", Subject.TYRE, Worse.NEITHER, values=KINDS),
        "size": Fact("size", "size", Subject.TYRE, Worse.BIGGER, unit="mm", low=0.0, high=4.0),
    },
    {},
)


def listed(*values: str) -> Bound:
    return Bound("kind", Op.IN, values=values, others=tuple(kind for kind in KINDS if kind not in values))


lists = st.lists(st.sampled_from(KINDS), min_size=1, unique=True).map(lambda values: listed(*values))
measures = st.builds(
    Bound, st.just("size"), st.sampled_from([Op.UP_TO, Op.BELOW, Op.AT_LEAST, Op.OVER]), st.sampled_from(SIZES)
)
boxes = st.lists(lists | measures, max_size=3).map(tuple)


def holds(box: Box, point: dict[str, Value]) -> bool:
    return all(bound.holds(point[bound.fact]) for bound in box)


@given(boxes, st.lists(boxes, max_size=4))
def test_what_is_left_is_what_no_cut_holds_and_only_once(whole: Box, cuts: list[Box]) -> None:
    left: tuple[Box, ...] = (whole,)
    for cut in cuts:
        left = subtract(left, cut, WORDS)
    for point in POINTS:
        expected = holds(whole, point) and not any(holds(cut, point) for cut in cuts)
        assert sum(holds(box, point) for box in left) == expected


@given(boxes)
def test_a_box_that_holds_a_point_is_inhabited(box: Box) -> None:
    if any(holds(box, point) for point in POINTS):
        assert is_inhabited(box, WORDS)


def test_a_box_outside_the_range_is_empty() -> None:
    assert not is_inhabited((Bound("size", Op.OVER, 4.0),), WORDS)
    assert not is_inhabited((listed("ash"), listed("metal")), WORDS)
    assert is_inhabited((Bound("size", Op.AT_LEAST, 4.0),), WORDS)


def test_a_box_is_spelled_as_a_rule_writes_it() -> None:
    box = (listed("ash"), Bound("size", Op.OVER, 2.5))
    assert spell_box(box, WORDS) == "kind: ash, size: over 2.5 mm"
    assert spell_box((listed("ash", "metal"),), WORDS) == "kind: [ash, metal]"
    assert spell_box((), WORDS) == "anything"
