"""What a derivation starts from, with the direction in which each column is worse."""

from collections.abc import Collection, Iterator

from mendbook.facts.pairs import NONE_NEAR
from mendbook.facts.readings import READ
from mendbook.facts.scenarios import END
from mendbook.proof.copies import Column
from mendbook.terms.vocabulary import Fact, Vocabulary, Worse

# Columns that the designation and the map give beside the vocabulary's facts [mm]; each from the least to the most.
_PLACES = {
    "nominal width": (100.0, 1500.0), "section height": (60.0, 1500.0), "rim": (200.0, 1600.0),
    "inflated width": (100.0, 1500.0), "outside diameter": (300.0, 4500.0),
}  # fmt: skip
_FLAGS = {
    "depth is known": ("yes", "no"),
    "cords are counted": ("yes", "no"),
    "placed from": ("bead", "centreline", "zone"),
}
_OTHER_EDGE = {
    "opposite distance": "distance from bead",
    "opposite centreline distance": "distance from centreline",
}
MOST_TREAD = 130.0


def given_columns(vocabulary: Vocabulary, held: Collection[str]) -> Iterator[Column]:
    """Yield the columns of a frame before anything is derived; facts that are `held` are the same in both cases.

    Of an injury's two edges each has a column of its own: the bad reading moves one down and the other up.
    """
    for fact in vocabulary:
        if not fact.stage:
            yield _column(fact, Worse.NEITHER if fact.name in held else fact.worse)
    for name, (low, high) in _PLACES.items():
        yield Column(name, Worse.NEITHER, low=low, high=high, is_nullable=True)
    for name, values in _FLAGS.items():
        yield Column(name, Worse.NEITHER, values=values)
    yield Column(END, Worse.NEITHER, values=(float(READ),))
    yield Column("tread depth spread", Worse.BIGGER, low=0.0, high=MOST_TREAD)
    yield Column("distance from centreline", Worse.SMALLER, low=0.0, high=vocabulary["distance from centreline"].high)
    for name, tape in (
        ("opposite distance", "distance from bead"),
        ("opposite centreline distance", "distance from centreline"),
    ):
        yield Column(name, Worse.BIGGER, low=0.0, high=vocabulary[tape].high)


def pair_columns() -> Iterator[Column]:
    """Yield the columns of a pair of injuries once they are placed; where they lie has no direction.

    A neighbour whose injury is more serious, or larger, is the worse one.
    """
    for name in ("serious", "other serious", "sectioned", "other sectioned"):
        yield Column(name, Worse.BIGGER, is_condition=True)
    for name in ("in facing walls", "in facing shoulders", "in one place"):
        yield Column(name, Worse.NEITHER, is_condition=True)
    for name, high in (("angle", 180.0), ("arc", NONE_NEAR), ("across", NONE_NEAR)):
        yield Column(name, Worse.NEITHER, low=0.0, high=high)
    yield Column("pair radius", Worse.NEITHER, low=1.0, high=5000.0)
    for name in ("length", "width", "reinforcement length", "reinforcement width"):
        for whose in ("", "other "):
            yield Column(f"{whose}{name}", Worse.BIGGER, low=0.0, high=10_000.0)
    yield Column("other ply share", Worse.BIGGER, low=0.0, high=100.0)


def _column(fact: Fact, worse: Worse) -> Column:
    if fact.is_listed:
        return Column(fact.name, worse, values=fact.values)
    return Column(fact.name, worse, low=fact.low, high=fact.high)
