"""The map of the tyre for the docket: its outline as the zones were laid out, its injuries as they were measured."""

from collections.abc import Iterator

import polars as pl

from mendbook.facts.readings import READ, Reading, Readings
from mendbook.facts.scenarios import INJURY, VARIANT
from mendbook.facts.section import ZONES
from mendbook.facts.zones import HIGH, LOW
from mendbook.terms.case import UNKNOWN, Case, Repair, Section
from mendbook.terms.quantity import Quantity
from mendbook.terms.tyre_map import Outline, Site, TyreMap, ZoneEnd
from mendbook.triage.passes import Judged

_MEASURES = ("rim", "height", "inflated width", "tread width", "half girth")
_ENDS = tuple(f"{zone} ends" for zone in ZONES)


def map_tyre(case: Case, judged: Judged, readings: Readings) -> TyreMap:
    """Return the map of a tyre that was `judged`. What was not measured has no place on it; nothing is guessed."""
    outline, why_not = _outline(case, judged.tyres)
    sites = [_injury_site(case, number, judged.injuries, readings, outline) for number in range(len(case.injuries))]
    return TyreMap(outline=outline, why_not=why_not, sites=(*sites, *map(_repair_site, case.mapped_repairs)))


def _outline(case: Case, tyres: pl.DataFrame) -> tuple[Outline | None, str]:
    if case.tyre.size is None:
        return None, "the size of the tyre was not read"
    rows = tyres.filter(pl.col(VARIANT) == READ).select(*_MEASURES, *_ENDS).unique(maintain_order=True)
    if rows.height != 1:
        return None, "nobody wrote whether it is radial or bias, and its zones hang on that"
    row = rows.row(0, named=True)
    tape = case.tyre.outside_diameter
    outline = Outline(
        rim_mm=row["rim"],
        height_mm=round(row["height"], 1),
        width_mm=round(row["inflated width"], 1),
        tread_width_mm=round(row["tread width"], 1),
        half_girth_mm=round(row["half girth"], 1),
        zones=tuple(ZoneEnd(zone=zone, ends_mm=round(row[f"{zone} ends"], 1)) for zone in ZONES),
        is_taped=tape is not None and tape.value is not None,
    )
    return outline, ""


def _injury_site(case: Case, number: int, rows: pl.DataFrame, readings: Readings, outline: Outline | None) -> Site:
    injury, reading = case.injuries[number], readings.injuries[number]
    placed = reading.listed["placed from"][0]
    own = rows.filter((pl.col(VARIANT) == READ) & (pl.col(INJURY) == number))
    width = _larger(injury, reading, "width", "inside width")
    lower, upper = _edges(reading, placed, width, outline)
    counted = None
    if placed != "zone" and width is not None and outline is not None:
        counted = (round(min(own.get_column(LOW).to_list()), 1), round(max(own.get_column(HIGH).to_list()), 1))
    zone = injury.written("zone")
    return Site(
        name=injury.name,
        side=injury.side or "",
        clock_deg=_value(injury.clock),
        lower_mm=lower,
        upper_mm=upper,
        length_mm=_larger(injury, reading, "length", "inside length"),
        counted_mm=counted,
        reaches=reading.listed["reaches"][0] if len(reading.listed["reaches"]) == 1 else "",
        zone=zone if isinstance(zone, str) and zone != UNKNOWN else "",
    )


def _edges(
    reading: Reading, placed: str, width: float | None, outline: Outline | None
) -> tuple[float | None, float | None]:
    """Return the edges nearer the bead and nearer the crown [mm from the bead toe], as read."""
    if placed == "bead":
        lower = reading.measures["distance from bead"][READ]
        return lower, None if width is None or lower is None else lower + width
    from_crown = reading.measures["distance from centreline"][READ]
    if placed == "centreline" and outline is not None and from_crown is not None:
        upper = outline.half_girth_mm - from_crown
        return None if width is None else upper - width, upper
    return None, None


def _larger(injury: Section, reading: Reading, *facts: str) -> float | None:
    """Return the larger of the sizes that were measured [mm], None when none was."""
    return max(_measured(injury, reading, facts), default=None)


def _measured(injury: Section, reading: Reading, facts: tuple[str, ...]) -> Iterator[float]:
    for fact in facts:
        written, value = injury.written(fact), reading.measures[fact][READ]
        if isinstance(written, Quantity) and not written.is_unknown and value:
            yield value


def _repair_site(repair: Repair) -> Site:
    lower, width = _value(repair.distance_from_bead), _value(repair.width)
    return Site(
        name=repair.name,
        side=repair.side or "",
        clock_deg=_value(repair.clock),
        lower_mm=lower,
        upper_mm=None if lower is None or width is None else lower + width,
        length_mm=_value(repair.length),
        zone=repair.zone or "",
        is_repair=True,
    )


def _value(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.value
