"""The rows of some tyres made a batch: what is said of the tyre once, its injuries, and what does not agree."""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.facts.runs import Runs
from mendbook.yard.batch import Batch, no_faults
from mendbook.yard.overrules import CELLS, OVERRULES, gather
from mendbook.yard.sheets.fault import COLUMN, FAULTS, ROW, TYRE, WORDS
from mendbook.yard.sheets.fields import NAME, TAG
from mendbook.yard.sheets.layout import REFUSED, Layout
from mendbook.yard.sheets.numbering import NUMBER
from mendbook.yard.sheets.table import WHOLE_ROW, letters

INJURY = "injury"
_DIFFERS = (
    "'{}' stands here, and '{}' in row {} of the same tyre. Write the same in both, or give each tyre its own tag."
)
_SAYS_NOTHING = (
    "other rows of this tyre tell of an injury, and this one of none. Delete the row, or write what is known of it."
)
_SAME_NAME = "two injuries of this tyre are called '{}'. Give each its own name."


def assemble(rows: pl.DataFrame, layout: Layout, tags: pl.Series) -> Batch:
    """Return the batch in `rows` of one sheet, which hold whole tyres in the order of their NUMBER."""
    rows = rows.rename({NUMBER: TYRE})
    written = [pl.col(name).is_not_null() for name in (*layout.injury_columns, NAME) if name in rows.columns]
    is_injury = pl.any_horizontal(written) if written else pl.lit(value=False)
    rows = rows.with_columns(is_injury.alias("is injury"))
    injuries, other = rows.filter("is injury"), rows.filter(~pl.col("is injury"))
    numbered = _injuries(injuries, layout.injury_columns)
    repeated = other.join(injuries, on=TYRE, how="semi", maintain_order="left")
    again = other.join(injuries, on=TYRE, how="anti").filter(~pl.col(TYRE).is_first_distinct())
    tyres, disagreeing = _tyres(rows, layout, tags)
    overruling = [pl.col(name).is_not_null() for name in CELLS.values() if name in rows.columns]
    idle = repeated.filter(~pl.any_horizontal(overruling)) if overruling else repeated
    forgotten = _forgotten(idle, injuries, layout.tyre_columns)
    faults = pl.concat([*_refused(rows, layout), disagreeing, forgotten, _same_names(numbered, layout)])
    joined = pl.concat([repeated.select(ROW), again.select(ROW)]).join(faults, on=ROW, how="anti").height
    tyres = _with_overrules(tyres, gather(rows, numbered, TYRE, ROW, NAME))
    return Batch(_at_first_injury(tyres, numbered), numbered, faults, joined)


def assemble_two(
    tyres: pl.DataFrame, tyre_layout: Layout, injuries: pl.DataFrame, injury_layout: Layout, tags: pl.Series
) -> Iterator[Batch]:
    """Yield the batches in the rows of a sheet of `tyres` and in those of a sheet of their `injuries`.

    One has the tyres with injuries and counts the rows of the sheet of injuries, another those without and counts the
    rows of the sheet of tyres: a row number means one row of a batch. What is wrong in the sheet of tyres says so.
    """
    rows = tyres.rename({NUMBER: TYRE})
    known, disagreeing = _tyres(rows, tyre_layout, tags)
    numbered = _injuries(injuries.rename({NUMBER: TYRE}), injury_layout.injury_columns)
    nameless = numbered.clear()  # a row of the sheet of tyres has no injury
    known = _with_overrules(
        known,
        gather(rows, nameless, TYRE, ROW, NAME),
        gather(injuries.rename({NUMBER: TYRE}), numbered, TYRE, ROW, NAME),
    )
    placed = _at_first_injury(known, numbered)
    told = pl.format("in {}, row {}: {}", pl.lit(tyre_layout.table.name), ROW, WORDS).alias(WORDS)
    of_tyres = pl.concat([*_refused(rows, tyre_layout), disagreeing]).with_columns(told)
    of_tyres = of_tyres.drop(ROW).join(placed.select(TYRE, ROW), on=TYRE, maintain_order="left").select(FAULTS.names())
    own = [*_refused(injuries.rename({NUMBER: TYRE}), injury_layout), _same_names(numbered, injury_layout)]
    hurt = pl.col(TYRE).is_in(numbered.get_column(TYRE).unique().implode())
    for is_meant, found in ((hurt, numbered), (~hurt, numbered.clear())):
        here = placed.filter(is_meant)
        if here.height or found.height or not rows.height:
            faults = pl.concat([of_tyres.filter(is_meant), *(part.filter(is_meant) for part in own)])
            more = rows.filter(is_meant).height - (0 if found.height else here.height)
            yield Batch(here, found, faults, more)


def _with_overrules(tyres: pl.DataFrame, *found: pl.DataFrame) -> pl.DataFrame:
    """Return `tyres` with what their rows overrule."""
    said = [one for one in found if not one.is_empty()]
    if not said:
        return tyres
    lists = pl.col(OVERRULES).str.strip_prefix("[").str.strip_suffix("]")
    told = pl.concat(said).group_by(TYRE).agg(pl.format("[{}]", lists.str.join(", ")).alias(OVERRULES))
    return tyres.drop(OVERRULES, strict=False).join(told, on=TYRE, how="left", maintain_order="left")


def _at_first_injury(tyres: pl.DataFrame, injuries: pl.DataFrame) -> pl.DataFrame:
    """Return `tyres` with the row of the first injury, where there is one."""
    first = injuries.filter(pl.col(INJURY) == 0).select(TYRE, pl.col(ROW).alias("first"))
    found = tyres.join(first, on=TYRE, how="left", maintain_order="left")
    return found.with_columns(pl.coalesce("first", ROW).alias(ROW)).drop("first")


def _tyres(rows: pl.DataFrame, layout: Layout, tags: pl.Series) -> tuple[pl.DataFrame, pl.DataFrame]:
    """Return what is written of each tyre, and the rows that do not agree."""
    columns = layout.tyre_columns
    is_same = (pl.col(TYRE) == pl.col(TYRE).shift(1)).fill_null(value=False)
    firsts = rows.filter(~is_same)
    own = firsts.get_column(TAG) if TAG in rows.columns else tags.gather(firsts.get_column(TYRE))
    named = firsts.select(TYRE, own.alias(TAG))
    firsts = firsts.select(TYRE, ROW, *columns)
    faults = no_faults()
    differing = _differing(rows.select(TYRE, *columns), rows.select(is_same).to_series())
    if len(differing):
        doubtful = rows.filter(pl.col(TYRE).is_in(differing.implode()))
        settled = doubtful.group_by(TYRE, maintain_order=True).agg(
            pl.col(ROW).first(), pl.col(columns).drop_nulls().first()
        )
        firsts = pl.concat([firsts.filter(~pl.col(TYRE).is_in(settled.get_column(TYRE).implode())), settled]).sort(TYRE)
        faults = pl.concat([no_faults(), *_disagreeing(doubtful, columns, layout)])
    return named.hstack(firsts.drop(TYRE)), faults


def _differing(rows: pl.DataFrame, is_same: pl.Series) -> pl.Series:
    """Return TYRE of those whose rows do not say the same, where `is_same` tells that the row before is of the tyre."""
    places = is_same.arg_true()
    row, before = rows[places], rows[places - 1]
    differs = [row.get_column(name).ne_missing(before.get_column(name)) for name in rows.columns if name != TYRE]
    said = pl.select(pl.any_horizontal(differs)).to_series() if differs else pl.Series([], dtype=pl.Boolean)
    return row.get_column(TYRE).filter(said).unique() if len(said) else row.get_column(TYRE).clear()


def _disagreeing(rows: pl.DataFrame, columns: Sequence[str], layout: Layout) -> Iterator[pl.DataFrame]:
    for name in columns:
        written = rows.filter(pl.col(name).is_not_null()).with_columns(
            pl.col(name).first().over(TYRE).alias("first"), pl.col(ROW).first().over(TYRE).alias("at")
        )
        other = written.filter(pl.col(name) != pl.col("first"))
        if other.height:
            yield _faults(other, layout.headings[name], pl.format(_DIFFERS, name, "first", "at"))


def _forgotten(repeated: pl.DataFrame, injuries: pl.DataFrame, columns: Sequence[str]) -> pl.DataFrame:
    """Return a fault for each row without an injury, where the rows with one say all about the tyre as well."""
    if not repeated.height:
        return no_faults()
    is_said = pl.any_horizontal(pl.col(name).is_not_null() for name in columns) if columns else pl.lit(value=True)
    saying = injuries.filter(is_said).get_column(TYRE).unique().implode()
    return _faults(repeated.filter(pl.col(TYRE).is_in(saying)), None, pl.lit(_SAYS_NOTHING))


def _injuries(rows: pl.DataFrame, columns: Sequence[str]) -> pl.DataFrame:
    found = rows.with_columns(Runs(rows, (TYRE,)).places().alias(INJURY))
    most = found.get_column(INJURY).max()
    called = pl.Series([letters(number) for number in range(most + 1 if isinstance(most, int) else 0)], dtype=pl.String)
    own = called.gather(found.get_column(INJURY)).alias("called")
    name = pl.coalesce(NAME, "called") if NAME in found.columns else pl.col("called")
    return found.with_columns(own).select(TYRE, INJURY, name.alias(NAME), ROW, *columns)


def _same_names(injuries: pl.DataFrame, layout: Layout) -> pl.DataFrame:
    twice = injuries.filter(pl.struct(TYRE, NAME).is_duplicated())
    return _faults(twice, layout.headings.get(NAME), pl.format(_SAME_NAME, NAME))


def _refused(rows: pl.DataFrame, layout: Layout) -> Iterator[pl.DataFrame]:
    """Yield the cells that were refused when they were read, and those that could not be read at all."""
    for name in rows.columns:
        if name.startswith(REFUSED):
            column = name.removeprefix(REFUSED)
            yield _faults(rows.filter(pl.col(name).is_not_null()), layout.headings[column], pl.col(name))
    broken = layout.table.broken.filter(pl.col("place") != WHOLE_ROW)
    if broken.height:
        for one in layout.guess.read:
            cells = broken.filter(pl.col("place") == one.place).select(ROW, pl.col(WORDS).alias("said"))
            hit = rows.join(cells, on=ROW, maintain_order="left")
            yield _faults(hit, one.heading, pl.col("said"))


def _faults(rows: pl.DataFrame, column: str | None, words: pl.Expr) -> pl.DataFrame:
    chosen = rows.select(ROW, TYRE, pl.lit(column, pl.String).alias(COLUMN), words.alias(WORDS))
    return chosen.cast(FAULTS)
