"""Numbers of tables, and columns laid beside rows by a number: whichever way they are found, the same."""

from itertools import product

import polars as pl
from hypothesis import given
from hypothesis import strategies as st
from polars.testing import assert_frame_equal

from mendbook.facts.derive import Derivation
from mendbook.facts.steps import Join, add_by_number, add_columns
from mendbook.rulebook.book import Rulebook


def joins(book: Rulebook) -> list[Join]:
    derivation = Derivation(book)
    steps = (
        *derivation.tyre_steps, *derivation.injury_steps, *derivation.number_steps, *derivation.spacing_steps,
        *derivation.method_steps,
    )  # fmt: skip
    return [step for step in steps if isinstance(step, Join)]


def test_coded_facts_find_the_numbers_that_text_finds(book: Rulebook) -> None:
    found = joins(book)
    assert len(found) >= 5
    for join in found:
        values = [book.vocabulary[key].values for key in join.keys]
        rows = list(product(*((*some, None) for some in values)))
        text = pl.DataFrame(rows, dict.fromkeys(join.keys, pl.String), orient="row")
        coded = text.cast({key: pl.Enum(some) for key, some in zip(join.keys, values, strict=True)})
        assert_frame_equal(join(coded).drop(join.keys), join(text).drop(join.keys), check_exact=True)


def test_a_fact_coded_otherwise_is_not_mistaken(book: Rulebook) -> None:
    join = joins(book)[0]
    key, values = join.keys[0], book.vocabulary[join.keys[0]].values
    others = {other: pl.lit(book.vocabulary[other].values[0]) for other in join.keys[1:]}
    text = pl.DataFrame({key: values}).with_columns(**others)
    turned = text.cast({key: pl.Enum(values[::-1])})
    assert_frame_equal(join(turned).drop(join.keys), join(text).drop(join.keys), check_exact=True)


@given(st.lists(st.integers(0, 20), max_size=12), st.sets(st.integers(0, 20)).map(sorted))
def test_columns_by_a_number_are_those_of_a_join(wanted: list[int], known: list[int]) -> None:
    frame = pl.DataFrame({"row": wanted}, {"row": pl.UInt32})
    right = pl.DataFrame({"row": known, "size": [float(one) for one in known]}, {"row": pl.UInt32, "size": pl.Float64})
    assert_frame_equal(add_by_number(frame, right, "row"), add_columns(frame, right, on=["row"]), check_exact=True)
