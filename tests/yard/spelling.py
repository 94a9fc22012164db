"""How whole numbers come to stand in cells: mostly in one unit, at times in another, as a range, or not at all."""

from collections.abc import Sequence

import polars as pl

from tests.yard.dice import Dice, Ints

Styles = tuple[int, ...]
USUAL: Styles = (860, 50, 50, 20, 10, 10)  # millimetres, centimetres, inches, a range, unknown, blank; in a thousand
ALWAYS: Styles = (900, 50, 50, 0, 0, 0)
PRESSURE: Styles = (800, 120, 60, 8, 12)  # bar, psi, kPa, unknown, blank
SPEED: Styles = (900, 70, 10, 20)  # km/h, mph, unknown, blank


def lengths(dice: Dice, name: str, millimetres: Ints, styles: Styles = USUAL) -> pl.Series:
    """Return lengths [mm] as people write them."""
    mm = pl.col("n")
    inches = (mm * 1000 + 127) // 254  # hundredths of an inch
    spread = 1 + mm // 25
    forms = [
        pl.format("{} mm", mm),
        pl.format("{} cm", _decimal(mm, 1)),
        pl.format("{} in", _decimal(inches, 2)),
        pl.format("{} to {} mm", pl.max_horizontal(mm - spread, pl.lit(1)), mm + spread),
        pl.lit("unknown"),
    ]
    return _chosen(dice, name, millimetres, forms, styles)


def pressures(dice: Dice, name: str, tenths: Ints, styles: Styles = PRESSURE) -> pl.Series:
    """Return pressures [0.1 bar] as people write them."""
    forms = [
        pl.format("{} bar", _decimal(pl.col("n"), 1)),
        pl.format("{} psi", (pl.col("n") * 145_038 + 50_000) // 100_000),
        pl.format("{} kPa", pl.col("n") * 10),
        pl.lit("unknown"),
    ]
    return _chosen(dice, name, tenths, forms, styles)


def speeds(dice: Dice, name: str, kilometres: Ints) -> pl.Series:
    """Return speeds [km/h] as people write them."""
    mph = (pl.col("n") * 62_137 + 50_000) // 100_000
    return _chosen(
        dice, name, kilometres, [pl.format("{} km/h", pl.col("n")), pl.format("{} mph", mph), pl.lit("unknown")], SPEED
    )


def clocks(dice: Dice, name: str, degrees: Ints) -> pl.Series:
    """Return places round the tyre [deg] as people write them."""
    hour = pl.col("n") // 30
    hours = pl.format("{} o'clock", pl.when(hour == 0).then(12).otherwise(hour))
    return _chosen(
        dice, name, degrees, [pl.format("{} deg", pl.col("n")), hours, pl.lit("unknown")], (800, 130, 10, 60)
    )


def counts(dice: Dice, name: str, numbers: Ints, blank: int = 20) -> pl.Series:
    """Return counts, some of them left out (`blank` in a thousand)."""
    return _chosen(dice, name, numbers, [pl.col("n").cast(pl.String)], (1000 - blank, blank))


def words(dice: Dice, name: str, count: int, said: Sequence[str | None], weights: Sequence[int]) -> pl.Series:
    """Return words, each as often as it weighs; None is a blank."""
    return pl.Series(name, said, pl.String).gather(dice.pick(name, count, weights)).alias(name)


def _decimal(number: pl.Expr, places: int) -> pl.Expr:
    whole, rest = number // 10**places, number % 10**places
    return pl.format("{}.{}", whole, rest.cast(pl.String).str.zfill(places))


def _chosen(dice: Dice, name: str, numbers: Ints, forms: Sequence[pl.Expr], styles: Styles) -> pl.Series:
    """Return each number in the form that falls to it; beyond the last form nothing is written."""
    text: pl.Expr = pl.lit(None, pl.String)
    for style, form in enumerate(forms):
        text = pl.when(pl.col("style") == style).then(form).otherwise(text)
    drawn = pl.DataFrame({"n": numbers, "style": dice.pick(f"{name} as written", len(numbers), styles)})
    return drawn.select(text.alias(name)).to_series()
