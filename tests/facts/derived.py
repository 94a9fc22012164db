"""Derived facts of a case at its three readings, for the tests."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date
from typing import Any

import polars as pl

from mendbook.facts.case_reading import read_readings
from mendbook.facts.readings import READ
from mendbook.facts.scenarios import INJURY, THREE_READINGS, USE, VARIANT, Frames, lay_out
from mendbook.facts.spacing import CLASS, TYRE_CLASS
from mendbook.triage import Shop
from tests.triage.cases import read

JUDGED = date(2026, 11, 25)


@dataclass(frozen=True)
class Derived:
    """Frames of one case in off-road use."""

    tyres: pl.DataFrame
    injuries: pl.DataFrame

    def tyre(self, fact: str, at: int = READ) -> Any:
        """Return one fact of the tyre at one reading."""
        return self.tyres.row(at, named=True)[fact]

    def zones(self, at: int = READ, injury: int = 0) -> set[str]:
        """Return the zones that an injury touches at one reading."""
        return set(self._rows(at, injury).get_column("zone"))

    def injury(self, fact: str, at: int = READ, injury: int = 0, zone: str = "") -> Any:
        """Return one fact of an injury at one reading, in `zone` or in the only one it touches."""
        rows = self._rows(at, injury)
        if zone:
            rows = rows.filter(pl.col("zone") == zone)
        (value,) = set(rows.get_column(fact).to_list())
        return value

    def _rows(self, at: int, injury: int) -> pl.DataFrame:
        return self.injuries.filter((pl.col(VARIANT) == at) & (pl.col(INJURY) == injury))


def derive(tree: Mapping[str, Any], shop: Shop, repair_class: str = "") -> Derived:
    """Return the facts of a case; with `repair_class` for every injury, those of number and spacing as well."""
    vocabulary = shop.book.vocabulary
    case = read(tree, vocabulary)
    readings = read_readings(case, vocabulary, case.judged_on or JUDGED, "none")
    frames = lay_out(readings, THREE_READINGS, vocabulary, ("off-road",))
    tyres = shop.derivation.tyres(frames.tyres)
    rows = shop.derivation.injuries(frames.injuries, tyres)
    if repair_class:
        tyres = tyres.with_columns(pl.lit(repair_class).alias(TYRE_CLASS))
        if not rows.is_empty():
            rows = rows.with_columns(pl.lit(repair_class).alias(CLASS))
        paired = shop.derivation.pairs(Frames(tyres, rows), case.mapped_repairs)
        tyres, rows = paired.tyres, paired.injuries
    assert set(tyres.get_column(USE)) == {"off-road"}
    return Derived(tyres, rows)
