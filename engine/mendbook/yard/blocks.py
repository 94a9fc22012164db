"""Which facts are read from which columns: a block is the least that must be looked at together."""

from collections.abc import Iterator
from dataclasses import dataclass

from mendbook.facts.case_reading import DEEPEST_TREAD, SIZE_NUMBERS
from mendbook.terms.vocabulary import Fact, Subject, Vocabulary, Worse

SIZED = "sized"  # whether the size of the tyre could be read, as an injury's column
USES, LAW = "uses", "law"

# Facts that follow from more than their own column.
_TYRE = (
    (
        ("tyre.designation", "tyre.construction", "tyre.casing", "tyre.outside diameter"),
        ("size", "size family", "construction", "casing", *SIZE_NUMBERS, "outside diameter", "rim diameter"),
    ),
    (("tyre.load index",), ("load capacity",)),
    (
        ("judged on", "tyre.date code", "tyre.retread date code"),
        ("serial", "retreaded", "age", "age by law"),
    ),
    (("tyre.tread left", "tyre.tread depths"), ("tread left", "tread readings", "tread depth spread", DEEPEST_TREAD)),
    (("tyre.plies", "tyre.ply rating"), ("plies", "ply count")),
    (("earlier repairs",), ("earlier repairs", "earlier repair loose")),
    (
        (
            "service.tkph use", "service.tkph rating", "service.load empty", "service.load loaded",
            "service.cycle length", "service.cycles", "service.shift",
        ),
        ("tkph use",),
    ),
    (("found.pressure at removal",), ("pressure at removal", "pressure record")),
    (("service.use",), (USES,)),
    (("service.country",), (LAW,)),
    (
        (
            "workshop.altitude", "workshop.tyre temperature", "workshop.working pressure", "workshop.setpoint",
            "workshop.compound", "workshop.circuit", "workshop.kit on hand",
        ),
        (),  # the plan looks at them, no rule does: they are read for their faults
    ),
)  # fmt: skip
_INJURY = (
    (("reaches", "plies damaged", "cords cut", "belts damaged"), ("reaches",)),
    (("depth",), ("depth", "depth is known")),
    (("cords cut",), ("cords cut", "cords are counted")),
    (
        (SIZED, "side", "zone", "distance from bead", "distance from centreline"),
        (
            "side", "zone", "placed from", "distance from bead", "opposite distance", "distance from centreline",
            "opposite centreline distance",
        ),
    ),
    (("clock",), ("clock",)),
)  # fmt: skip


# What the readers of a tyre and of an injury look at whatever is asked of them.
ALWAYS = (
    "use", "construction", "casing", "rim diameter", "load capacity", "age", "tread left", "plies", "earlier repairs",
    "tkph use", "reaches", "plies damaged", "cords cut", "belts damaged", "depth", "zone", "distance from bead",
    "distance from centreline",
)  # fmt: skip


@dataclass(frozen=True)
class Block:
    """Columns that are read together, and the facts that follow from them; `is_plain` where each says itself alone."""

    subject: Subject
    inputs: tuple[str, ...]
    outputs: tuple[str, ...]
    is_plain: bool = False


def blocks(vocabulary: Vocabulary, subject: Subject) -> Iterator[Block]:
    """Yield the blocks of `subject`; every fact that is read is the output of exactly one."""
    together: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = _TYRE if subject is Subject.TYRE else _INJURY
    for inputs, outputs in together:
        own = [vocabulary[name] for name in outputs if name in vocabulary and vocabulary[name].is_given]
        yield Block(subject, tuple(dict.fromkeys((*inputs, *_also(own, vocabulary)))), outputs)
    done = {name for _, outputs in together for name in outputs} | {"use"}
    for fact in vocabulary.given(subject):
        if fact.name not in done:
            inputs = (column_of(fact), *_also([fact], vocabulary))
            yield Block(subject, tuple(dict.fromkeys(inputs)), (fact.name,), is_plain=True)


def column_of(fact: Fact) -> str:
    """Return the column in which `fact` is written."""
    return fact.name if fact.subject is Subject.INJURY else f"{fact.section}.{fact.name}"


def _also(facts: list[Fact], vocabulary: Vocabulary) -> Iterator[str]:
    """Yield the columns on which the reading error of `facts` hangs."""
    for fact in facts:
        for other, _, _ in fact.error_if:
            yield column_of(vocabulary[other])


def is_ordered(name: str, vocabulary: Vocabulary) -> bool:
    """Return whether the values of a listed fact run from good to bad."""
    return name in vocabulary and vocabulary[name].worse is Worse.LATER
