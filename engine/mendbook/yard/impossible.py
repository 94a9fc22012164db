"""Tyres whose figures cannot all be true: suspected by columns, told by the same checks as a single case."""

import json
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import pi
from typing import Any

import polars as pl

from mendbook.facts.case_reading import DEEPEST_TREAD
from mendbook.facts.readings import READ
from mendbook.facts.scenarios import END, INJURY, VARIANT
from mendbook.facts.sectors import CROWN
from mendbook.rulebook.book import Rulebook
from mendbook.terms.case import UNKNOWN, Case
from mendbook.terms.case_model import case_model
from mendbook.triage.passes import Judged
from mendbook.triage.places import GAUGE_ERROR, ImpossibleCase, check_places, check_zones
from mendbook.yard.cell_table import ENDS
from mendbook.yard.cells import as_written, tree_of
from mendbook.yard.overrules import OVERRULE, OVERRULES, entries_of
from mendbook.yard.reading import NAME, TYRE

FAR_OFF = 0.19  # a little less than what is refused: who is suspected is looked at closely
KEYS = (TYRE, INJURY, NAME, "tag", "row")
COUNTS = ("cords cut", "plies damaged", "belts damaged", "inside length", "inside width")


_MEASURED = ("distance from bead", "distance from centreline", "length", "width", "depth", *COUNTS)


@dataclass(frozen=True)
class Impossible:
    """A tyre that cannot be as written, with the place of the fault."""

    tyre: int
    injury: int | None
    column: str
    words: str


def written_case(
    tyre: Mapping[str, Any], injuries: Sequence[Mapping[str, Any]], book: Rulebook, name: str = ""
) -> Case:
    """Return the case that a tyre's row and its injuries' rows write down, called `name`.

    Raises pydantic.ValidationError where a cell cannot be read.
    """
    given = {name: str(cell) for name, cell in tyre.items() if cell is not None and name not in KEYS}
    tree = tree_of(given, of_injury=False)
    if name:
        tree["case"] = name
        part = tree.setdefault("tyre", {})
        assert isinstance(part, dict), "a section is a map"
        part["tag"] = name
    if str(tree.get("earlier repairs", "")).startswith("["):
        tree["earlier repairs"] = json.loads(str(tree["earlier repairs"]))
    if cell := tree.pop(OVERRULES, None):
        tree[OVERRULE] = [entry for entry, _ in entries_of(str(cell), book)]
    tree["injuries"] = [
        {"name": str(row[NAME]), **{n: str(c) for n, c in row.items() if c is not None and n not in KEYS}}
        for row in injuries
    ]
    return case_model(book.vocabulary).model_validate(tree)


def suspect_places(
    tyres: pl.DataFrame, injuries: pl.DataFrame, derived: pl.DataFrame, laid: pl.DataFrame
) -> pl.DataFrame:
    """Return TYRE of those that may be impossible by their figures.

    tyres, injuries : as written; what is left out is never at fault
    derived : derived tyre rows
    laid : injury rows at both ends of their readings
    """
    looked_at = (TYRE, *_OF_TYRE, "tread left", DEEPEST_TREAD)
    numbers = derived.filter(pl.col(END) == READ).select(looked_at).unique(TYRE, keep="any")
    usual = pl.col("rim") + 2.0 * pl.col("section height")
    # Of a range, what is checked is the lower end; as read it lies no lower, so that nobody is missed.
    deepest = pl.max_horizontal("tread left", DEEPEST_TREAD)
    found = [
        numbers.filter(
            ((pl.col("outside diameter") - usual).abs() > FAR_OFF * usual)
            | (deepest > pl.col("tread new") + GAUGE_ERROR)
        ).select(TYRE)
    ]
    if not injuries.is_empty():
        found.append(_suspect_injuries(tyres, injuries, laid, numbers))
    return pl.concat(found).unique()


_OF_TYRE = (
    "half girth", "rim", "height", "section height", "nominal width", "tread new", "outside diameter", "plies", "belts"
)  # fmt: skip


def _suspect_injuries(
    tyres: pl.DataFrame, injuries: pl.DataFrame, laid: pl.DataFrame, numbers: pl.DataFrame
) -> pl.DataFrame:
    measured = [name for name in _MEASURED if name in injuries.columns]
    looked_at = dict.fromkeys((TYRE, INJURY, "reaches", "length", "width", *measured))
    most = laid.filter(pl.col(END) == READ).select(*looked_at).unique([TYRE, INJURY], keep="any")
    written = injuries.select(TYRE, INJURY, *(_is_written(name) for name in measured))
    counted = tyres.select(
        TYRE, *(_is_written(f"tyre.{name}") for name in ("plies", "belts") if f"tyre.{name}" in tyres.columns)
    )
    rows = most.join(numbers, on=TYRE, how="inner", suffix=" of tyre").join(counted, on=TYRE, how="left")
    rows = rows.join(written, on=[TYRE, INJURY], how="left")

    def figure(name: str) -> pl.Expr:
        """Return a measure as read, which lies no lower than what is checked, null where nothing was written."""
        return pl.when(as_written(name)).then(pl.col(name)) if name in measured else pl.lit(None, pl.Float64)

    def there(name: str) -> pl.Expr:
        column = f"tyre.{name}"
        return pl.when(as_written(column)).then(pl.col(name)) if column in tyres.columns else pl.lit(None, pl.Float64)

    half, girth = pl.col("half girth"), pi * (pl.col("rim") + 2.0 * pl.col("height"))
    past = pl.col("nominal width").is_not_null() & pl.any_horizontal(
        figure("distance from bead") > half, figure("distance from centreline") > half, figure("length") > girth,
        figure("width") > 2.0 * half, figure("depth") > 0.6 * pl.col("height"),
    )  # fmt: skip
    shallow = pl.col("reaches").is_in(["rubber", "cord"]) & pl.any_horizontal(figure(name) > 0.0 for name in COUNTS)
    more = pl.any_horizontal(figure("plies damaged") > there("plies"), figure("belts damaged") > there("belts"))
    nothing = pl.any_horizontal(figure(name).is_not_null() & (pl.col(name) <= 0.0) for name in ("length", "width"))
    suspect = pl.any_horizontal(one.fill_null(value=False) for one in (past, shallow, more, nothing))
    return rows.filter(suspect).select(TYRE)


def _is_written(column: str) -> pl.Expr:
    return (pl.col(column).is_not_null() & (pl.col(column) != UNKNOWN)).alias(as_written(column))


def suspect_zones(injuries: pl.DataFrame, judged: Judged) -> pl.DataFrame:
    """Return TYRE of those that name a zone or a side which the tape does not find; `injuries` hold what is written."""
    if judged.injuries.is_empty() or not {"zone", "side"} & {*injuries.columns}:
        return pl.DataFrame(schema={TYRE: pl.Int32})
    there = {*injuries.columns}
    zone, side = (pl.col(name) if name in there else pl.lit(None, pl.String) for name in ("zone", "side"))
    named = injuries.select(
        TYRE, INJURY, pl.when(zone != UNKNOWN).then(zone).alias("named"), (side == "crown").alias("on crown")
    ).filter(pl.col("named").is_not_null() | pl.col("on crown"))
    taped = judged.injuries.select(TYRE, INJURY, "zone", "placed from").filter(pl.col("placed from") != "zone")
    found = taped.join(named, on=[TYRE, INJURY], how="inner").cast({"zone": pl.String})
    by_injury = found.group_by(TYRE, INJURY).agg(
        (pl.col("named").is_null() | (pl.col("named") == pl.col("zone"))).any().alias("is there"),
        (~pl.col("on crown") | pl.col("zone").is_in(CROWN)).fill_null(value=True).any().alias("is on crown"),
    )  # fmt: skip
    return by_injury.filter(~pl.col("is there") | ~pl.col("is on crown")).select(TYRE).unique()


def confirm(
    suspects: pl.DataFrame, tyres: pl.DataFrame, injuries: pl.DataFrame, derived: pl.DataFrame, judged: Judged | None,
    book: Rulebook,
) -> Iterator[Impossible]:  # fmt: skip
    """Yield those of `suspects` that are impossible indeed, in the words of the checks of a single case.

    tyres, injuries : as written
    derived : derived tyre rows
    judged : for the zones; None to check the figures alone
    """
    written = {row[TYRE]: row for row in tyres.join(suspects, on=TYRE, how="semi").iter_rows(named=True)}
    if not written:
        return
    own: dict[int, list[Mapping[str, Any]]] = {number: [] for number in written}
    for row in injuries.join(suspects, on=TYRE, how="semi").iter_rows(named=True):
        own[row[TYRE]].append(row)
    shown = derived.filter(pl.col(END) == READ) if judged is None else judged.injuries
    by_tyre = shown.join(suspects, on=TYRE, how="semi").partition_by(TYRE, as_dict=True)
    for number, row in sorted(written.items()):
        case = written_case(row, own[number], book)
        try:
            if judged is None:
                check_places(case, by_tyre[(number,)].row(0, named=True))
            else:
                check_zones(case, by_tyre[(number,)].with_columns((pl.col(VARIANT) % ENDS).alias(VARIANT)))
        except ImpossibleCase as error:
            yield _told(number, error)


def _told(number: int, error: ImpossibleCase) -> Impossible:
    if error.path[0] == "injuries":
        return Impossible(number, int(error.path[1]), str(error.path[2]), str(error))
    return Impossible(number, None, ".".join(str(step) for step in error.path[:2]), str(error))
