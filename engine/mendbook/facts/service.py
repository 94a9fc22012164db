"""Facts of the whole tyre: width class, pressure at one temperature, tread, and the factor on limits."""

import polars as pl

from mendbook.facts.lookup import Lookup
from mendbook.rulebook.book import Rulebook

KELVIN = 273.15
ATMOSPHERE_BAR = 1.01325
REFERENCE_C = 20.0  # the temperature a pressure sheet is meant at; common practice, no source


def width_class(book: Rulebook) -> list[pl.Expr]:
    """Return the class of the nominal width and whether that width lies near an edge of a class."""
    edges = [(row.bounds[-1].values[0], row.numbers[0]) for row in book.tables_giving("class from")[0].rows]
    near = book.tables_giving("class edge share")[0].rows[0].numbers[0] / 100.0
    # A width from a code in inches is a rounded product; a tenth of a millimetre is finer than any class edge.
    width = pl.col("nominal width").round(1)
    name: pl.Expr = pl.lit(None, pl.String)
    for value, start in edges:
        name = pl.when(width >= start).then(pl.lit(value)).otherwise(name)
    close = pl.any_horizontal([(width - start).abs() <= near * start for _, start in edges if start > 0.0])
    return [
        name.alias("width class"),
        pl.when(close).then(pl.lit("near")).otherwise(pl.lit("clear")).alias("class edge"),
        width.alias("section width"),
    ]


def pressure_ratio() -> pl.Expr:
    """Return pressure at removal, brought to the reference temperature, as a share of specified [%].

    Ideal gas at constant volume: p2 = p1 T2 / T1 in absolute pressure and kelvin.
    """
    absolute = pl.col("pressure at removal") + ATMOSPHERE_BAR
    at_reference = absolute * (REFERENCE_C + KELVIN) / (pl.col("temperature at removal") + KELVIN) - ATMOSPHERE_BAR
    # A reading of a tenth of a per cent is finer than any gauge.
    return (at_reference.clip(0.0) / pl.col("pressure specified") * 100.0).clip(0.0, 150.0).round(3)


def derive_tyres(frame: pl.DataFrame, book: Rulebook, lookup: Lookup) -> pl.DataFrame:
    """Return the tyre rows with every base fact of the tyre."""
    frame = frame.with_columns(
        *width_class(book),
        pressure_ratio().alias("pressure ratio"),
        (pl.col("tread left") / pl.col("tread new") * 100.0).clip(0.0, 100.0).round(6).alias("tread ratio"),
        (pl.col("tread depth spread") / pl.col("tread new") * 100.0).clip(0.0, 100.0).alias("tread spread"),
        pl.col("tread left").alias("tread over breadth"),
    )
    # A width that could not be read is judged in the class with the smallest limits.
    frame = frame.with_columns(pl.col("width class").fill_null("W1"))
    frame = lookup.attach(
        frame, "duty factor", "age factor", "ambient factor", "tkph factor", "factor floor",
    )  # fmt: skip
    product = (
        pl.col("duty factor").fill_null(1.0)
        * pl.col("age factor").fill_null(1.0)
        * pl.min_horizontal("ambient factor", "tkph factor").fill_null(1.0)
    ).round(6)
    return frame.with_columns(
        pl.max_horizontal(product, "factor floor").alias("severity factor"),
        pl.when(product < pl.col("factor floor"))
        .then(pl.lit("below"))
        .otherwise(pl.lit("above"))
        .alias("severity floor"),
    )
