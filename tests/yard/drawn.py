"""Decisions as a review might give them, drawn: of every outcome, with names that strangers could have written."""

from dataclasses import dataclass

import polars as pl
from hypothesis import strategies as st

from mendbook.rulebook.book import Rulebook
from mendbook.yard.batch import FAULT_SCHEMA, Batch
from mendbook.yard.closeness import DECIDED_BY, LINE
from mendbook.yard.review import Reviewed
from mendbook.yard.rooms import MARGIN, MARGIN_OF

SCHEMA = {
    "tyre": pl.Int32, "injury": pl.Int32, "name": pl.String, "row": pl.Int64, "tag": pl.String, "zone": pl.String,
    "verdict": pl.String, "outcome": pl.String, DECIDED_BY: pl.String, LINE: pl.Int32, MARGIN: pl.Float64,
    MARGIN_OF: pl.String, "tyre's verdict": pl.String, "tyre's mildest": pl.String, "tyre's worst": pl.String,
    "tyre's decided by": pl.String, "tyre's line": pl.Int32, "held by": pl.List(pl.String),
    "stopped by": pl.List(pl.String), "measure next": pl.List(pl.String), "process": pl.String, "kit": pl.String,
    "lacking": pl.List(pl.String), "cure minutes": pl.Float64, "release minutes": pl.Float64,
    "pieces": pl.List(pl.String),
}  # fmt: skip
TYRES = {"tyre": pl.Int32, "tag": pl.String, "row": pl.Int64, "tyre.designation": pl.String, "service.duty": pl.String}
INJURIES = {"row": pl.Int64, "tyre": pl.Int32, "injury": pl.Int32, "name": pl.String, "kind": pl.String}
OUT = {"row": pl.Int64, "tag": pl.String, "column": pl.String, "words": pl.String}

LIMITS = (
    ("sidewall/through_steel_radial", "share of length limit", 5), ("crown/nail_hole_off_road", "hole", 20),
    ("rubber/rubber_only_off_road", "rubber left", 9),
)  # fmt: skip
words = st.sampled_from(
    ["A", "cut 2", "<script>alert(1)</script>", '&amp; "x" \' $y$', "\x1b[31mred", "轮胎", "n" * 90, ""]
)
sizes = st.sampled_from(["27.00R49", "27.00 R 49 **", "26.5-25", "unknown", None])
pieces = st.one_of(
    st.none(),
    st.lists(
        st.sampled_from(["pad 250 x 400", "pad 250 x 400, 2 pieces", "strap 75 mm x 4.5 m, 12 pieces"]), unique=True
    ),
)
minutes = st.one_of(st.none(), st.integers(10, 9000).map(lambda tenths: tenths / 10))


Rows = dict[str, list[tuple[object, ...]]]  # of each frame


@dataclass(frozen=True)
class Drawn:
    """Tyres with all that is known of each, so that they can be put into any batches."""

    tyres: tuple[dict[str, object], ...]

    def batches(self, number: int) -> list[tuple[Batch, Reviewed]]:
        """Return them dealt out to `number` batches."""
        return [self.batch(self.tyres[start::number]) for start in range(number)]

    @staticmethod
    def batch(tyres: tuple[dict[str, object], ...]) -> tuple[Batch, Reviewed]:
        def frame(name: str, schema: dict[str, pl.DataType]) -> pl.DataFrame:
            return pl.DataFrame([row for one in tyres for row in one[name]], schema=schema, orient="row")

        batch = Batch(frame("tyre", TYRES), frame("injuries", INJURIES), frame("faults", FAULT_SCHEMA))
        return batch, Reviewed(frame("decisions", SCHEMA), frame("quarantined", OUT), pl.DataFrame())


@st.composite
def drawn(draw: st.DrawFn, book: Rulebook, most: int = 8) -> Drawn:
    """Draw a yard; some of its tyres are in quarantine."""
    return Drawn(tuple(draw(tyre(book, number)) for number in range(draw(st.integers(0, most)))))


@st.composite
def tyre(draw: st.DrawFn, book: Rulebook, number: int) -> Rows:
    first, count = 2 + 10 * number, draw(st.integers(0, 3))
    rows = [first + place for place in range(max(1, count))]
    tag = draw(words)
    injuries = [(rows[n], number, n, draw(words), draw(st.sampled_from(["cut", "chunk", None]))) for n in range(count)]
    one: Rows = {
        "tyre": [(number, tag, first, draw(sizes), draw(st.sampled_from(["grader", "truck", None])))],
        "injuries": injuries, "faults": [], "decisions": [], "quarantined": [],
    }  # fmt: skip
    if draw(st.integers(0, 4)) == 0:
        column, said = draw(st.sampled_from(["length", "", "<b>depth</b>"])), draw(words)
        one["faults"] = [(row, number, column, said) for row in rows]
        one["quarantined"] = [(row, tag, column, said) for row in rows]
        return one
    outcome = draw(st.sampled_from(["stop", "reject", "hold", "repair", "serve"]))
    ends = sorted(draw(st.tuples(*[st.integers(0, 5)] * 3)))
    of_tyre = [None] * 3 if outcome == "stop" else [book.verdicts[end] for end in (ends[1], ends[0], ends[2])]
    rule, fact, line = draw(st.sampled_from(LIMITS))
    held = draw(st.lists(st.sampled_from(["tread/readings_road", "casing/moisture"]), unique=True))
    looks = draw(st.lists(st.sampled_from(["A: depth", "B: depth", "serial"]), max_size=3))
    for place, row in enumerate(rows):
        is_injury, is_open = place < count, outcome != "stop"
        verdict = of_tyre[0] if is_injury and is_open else None
        is_planned = is_open and is_injury and draw(st.booleans())
        one["decisions"].append(
            (
                number, place if is_injury else None, injuries[place][3] if is_injury else None, row, tag,
                draw(st.sampled_from(["shoulder", "bead"])) if verdict else None, verdict, outcome,
                rule if verdict else None, line if verdict else None,
                draw(st.integers(-300, 300)) / 10 if verdict else None, fact if verdict else None,
                *of_tyre, rule if is_open else None, line if is_open else None,
                held if outcome == "hold" else None, ["people/valve_core"] if outcome == "stop" else None,
                looks if outcome == "hold" else None, "hot, one stage" if is_planned else None,
                draw(st.sampled_from(["flexible pads", "arm press", None])) if is_planned else None,
                draw(st.sampled_from([[], ["no bag"]])) if is_planned else None,
                draw(minutes) if is_planned else None, draw(minutes) if is_planned else None,
                draw(pieces) if is_planned else None,
            )
        )  # fmt: skip
    return one
