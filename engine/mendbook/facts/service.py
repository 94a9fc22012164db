"""Facts of the whole tyre: width class, pressure at one temperature, tread, and the factor on limits."""

from collections.abc import Iterator

import polars as pl

from mendbook.facts.lookup import Lookup
from mendbook.facts.section import OUTLINE_NUMBERS
from mendbook.facts.steps import Step, columns
from mendbook.rulebook.book import Rulebook

KELVIN = 273.15
ATMOSPHERE_BAR = 1.01325
REFERENCE_C = 20.0  # the temperature a pressure sheet is meant at; common practice, no source
SMALLEST_DIAMETER = 100.0  # mm; one that nobody knows is set against the smallest difference of a dual pair
SMALLEST_CLASS = "W1"  # a width that could not be read is judged in the class with the smallest limits


def tyre_steps(book: Rulebook, lookup: Lookup) -> Iterator[Step]:
    """Yield the steps to every base fact of the tyre."""
    yield from lookup.steps("duty factor", "factor floor", *OUTLINE_NUMBERS)
    width, name, is_near = width_class(book)
    yield columns(
        section_width=width,
        width_class=name.fill_null(SMALLEST_CLASS),
        class_edge=pl.when(is_near).then(pl.lit("near")).otherwise(pl.lit("clear")),
        pressure_ratio=pressure_ratio(),
        tread_ratio=(pl.col("tread left") / pl.col("tread new") * 100.0).clip(0.0, 100.0).round(6),
        tread_spread=(pl.col("tread depth spread") / pl.col("tread new") * 100.0).clip(0.0, 100.0),
        tread_over_breadth=pl.col("tread left"),
        overall_diameter=pl.coalesce(
            pl.col("outside diameter"), pl.col("rim") + 2.0 * pl.col("section height"), pl.lit(SMALLEST_DIAMETER)
        ),
    )
    yield from lookup.steps(
        "age factor", "ambient factor", "tkph factor", "minor zone share", "dual difference permitted"
    )  # fmt: skip
    yield columns(
        minor_zone_width=minor_zone_width(),
        share_of_dual_difference=(pl.col("dual difference") / pl.col("dual difference permitted") * 100.0).round(6),
    )
    product = (
        pl.col("duty factor").fill_null(1.0)
        * pl.col("age factor").fill_null(1.0)
        * pl.min_horizontal("ambient factor", "tkph factor").fill_null(1.0)
    ).round(6)
    is_below = product < pl.col("factor floor")
    yield columns(
        severity_factor=pl.max_horizontal(product, "factor floor"),
        severity_floor=pl.when(is_below).then(pl.lit("below")).otherwise(pl.lit("above")),
    )


def width_class(book: Rulebook) -> tuple[pl.Expr, pl.Expr, pl.Expr]:
    """Return nominal width [mm], its class, and whether it lies near an edge of a class."""
    rows = book.tables_giving("class from")[0].rows
    edges = sorted(
        ((value, row.numbers[0]) for row in rows for value in row.bounds[-1].values), key=lambda edge: edge[1]
    )
    near = book.tables_giving("class edge share")[0].rows[0].numbers[0] / 100.0
    # A width from a code in inches is a rounded product; a tenth of a millimetre is finer than any class edge.
    width = pl.col("nominal width").round(1)
    name: pl.Expr = pl.lit(None, pl.String)
    for value, start in edges:
        name = pl.when(width >= start).then(pl.lit(value)).otherwise(name)
    return width, name, pl.any_horizontal([(width - at).abs() <= near * at for _, at in edges if at > 0.0])


def minor_zone_width() -> pl.Expr:
    """Return the width of the crown in which a minor repair lies [mm]: a share of section width, half rounded up.

    BS AU 159, minor repair zone, as a trade association's summary gives it.
    """
    return ((pl.col("minor zone share") * pl.col("section width") / 100.0).round(6) + 0.5).floor()


def pressure_ratio() -> pl.Expr:
    """Return pressure at removal, brought to the reference temperature, as a share of specified [%].

    Ideal gas at constant volume: p2 = p1 T2 / T1 in absolute pressure and kelvin.
    """
    absolute = pl.col("pressure at removal") + ATMOSPHERE_BAR
    warmth = (REFERENCE_C + KELVIN) / (pl.col("temperature at removal") + KELVIN)
    at_reference = (absolute * warmth - ATMOSPHERE_BAR).clip(0.0)
    # A thousandth of a per cent is finer than any gauge.
    return (at_reference / pl.col("pressure specified") * 100.0).clip(0.0, 150.0).round(3)
