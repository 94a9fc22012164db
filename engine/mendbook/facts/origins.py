"""Which given measures each derived fact comes from."""

from mendbook.facts.readings import BAD, GOOD, READ, Reading
from mendbook.terms.vocabulary import Vocabulary

_SIZE_AROUND = ("length", "inside length", "separation halo", "rust", "path angle", "depth")
_SIZE_ACROSS = ("width", "inside width", "separation halo", "rust", "path angle", "depth")
_BOTH = (*_SIZE_AROUND, *_SIZE_ACROSS)
_FACTORS = ("duty", "age", "ambient", "tkph use")

ORIGINS: dict[str, tuple[str, ...]] = {
    "pressure ratio": ("pressure at removal", "pressure specified"),
    "tread ratio": ("tread left", "tread new"),
    "tread over breadth": ("tread left",),
    "age": ("age",),
    "severity factor": _FACTORS,
    "length limit": _FACTORS,
    "width limit": _FACTORS,
    "deciding length": _SIZE_AROUND,
    "deciding width": _SIZE_ACROSS,
    "hole": _BOTH,
    "hole share": _BOTH,
    "outer cut": ("outside length", "length", "width"),
    "outer cut share": ("outside length", "length", "width"),
    "cords cut counted": (*_SIZE_AROUND, "cords cut"),
    "girth share": _SIZE_AROUND,
    "splice share": ("splice gap",),
    "minor zone margin": ("distance from bead", "separation halo", "rust"),
    "share of dual difference": ("dual difference",),
    "ply share": ("plies damaged", "plies"),
    "belt share": ("belts damaged", "belts"),
    "bead clearance": ("distance from bead", "separation halo", "rust"),
    "reinforcement clearance": ("distance from bead", "separation halo", "rust"),
    "belt edge clearance": ("belt edge distance",),
    "share of length limit": (*_SIZE_AROUND, *_FACTORS),
    "share of width limit": (*_SIZE_ACROSS, *_FACTORS),
    "share of area limit": (*_BOTH, *_FACTORS),
    "share of cord limit": (*_SIZE_AROUND, "cords cut", *_FACTORS),
}

FEEDING = frozenset(name for origins in ORIGINS.values() for name in origins)


def unknown_facts(reading: Reading, vocabulary: Vocabulary) -> frozenset[str]:
    """Return the measures of which nothing is known, and the derived facts that hang on one of them alone."""
    unknown = {
        name
        for name, triple in reading.measures.items()
        if name in vocabulary
        and triple[READ] == triple[BAD] != triple[GOOD]
        and {triple[GOOD], triple[BAD]} == {vocabulary[name].low, vocabulary[name].high}
    }
    return frozenset(unknown | {fact for fact, origins in ORIGINS.items() if origins[0] in unknown})
