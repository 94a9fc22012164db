"""The columns of a made yard: what stands in the sheet of every tyre, and of every injury on it."""

from dataclasses import dataclass

import numpy as np
import polars as pl

from tests.yard.dice import Dice, Ints, along
from tests.yard.fleet import DAY, MACHINES, SITES, SIZES, WEEK, YEAR
from tests.yard.spelling import ALWAYS, clocks, counts, lengths, pressures, speeds, words
from tests.yard.wounds import DEPTHS, GROUNDS, KINDS, LENGTHS, PLACES, REACHES, ZONES

PLACE = {size.designation: place for place, size in enumerate(SIZES)}
WEEKS_OLD = (0, 40, 90, 140, 200, 270, 380, 620)
WEAR = (2, 20, 38, 52, 66, 80, 98)  # hundredths of the tread
INJURIES = (30, 660, 200, 70, 30, 10)  # none, one, two ... on a tyre, in a thousand


@dataclass(frozen=True)
class Drawn:
    """The tyres of a yard as text, and what their injuries need to know of them as numbers."""

    text: pl.DataFrame
    machine: Ints
    size: Ints
    tread: Ints  # left [mm]


def draw_tyres(dice: Dice, count: int) -> Drawn:
    """Return the columns of `count` tyres."""
    machine = dice.pick("machine", count, [one.share for one in MACHINES])
    site = dice.pick_by("site", machine, [one.sites for one in MACHINES])
    size = dice.pick_by("size", machine, [[one.sizes.get(s.designation, 0) for s in SIZES] for one in MACHINES])

    def of_size(values: list[int]) -> Ints:
        return np.array(values, dtype=np.int64)[size]

    new = dice.between("tread new", of_size([s.tread[0] for s in SIZES]), of_size([s.tread[1] for s in SIZES]), count)
    hard = dice.roll("how hard a life", count)
    left = new * (100 - dice.knots("wear", WEAR, count, leaning=hard)) // 100
    specified = dice.between(
        "pressure", of_size([s.pressure[0] for s in SIZES]), of_size([s.pressure[1] for s in SIZES]), count
    )
    soft = dice.pick("soft", count, (905, 45, 30, 20))
    share = np.choose(
        soft,
        [
            dice.between(f"pressure found {place}", *ends, count)
            for place, ends in enumerate(((94, 104), (82, 94), (60, 82), (5, 60)))
        ],
    )
    slow, fast = (np.array([one.speed[end] for one in MACHINES])[machine] for end in (0, 1))
    on_road = dice.chance("use", count, np.array([one.on_road for one in MACHINES])[machine])
    steered = dice.chance("position", count, np.array([one.steered for one in MACHINES])[machine])
    plies, belts = of_size([s.plies for s in SIZES]), of_size([s.belts for s in SIZES])

    text = pl.DataFrame(
        [
            _named("site", [name for name, _, _ in SITES], site),
            _tags(site, dice.first + 1),
            _named("tyre.designation", [s.designation for s in SIZES], size),
            _but(dice, _named("tyre.construction", ["radial" if s.is_radial else "bias" for s in SIZES], size), 60),
            _but(dice, _named("tyre.casing", [s.casing for s in SIZES], size), 25),
            counts(dice, "tyre.plies", plies, blank=70),
            _where(counts(dice, "tyre.belts", belts, blank=40), belts > 0),
            _date_codes(dice, count, hard),
            lengths(dice, "tyre.tread new", new, ALWAYS),
            lengths(dice, "tyre.tread left", left),
            _named("service.use", ["off-road", "road"], on_road.astype(np.int64)),
            _named("service.country", [country for _, _, country in SITES], site),
            _but(dice, _named("service.duty", [one.duty for one in MACHINES], machine), 8),
            _but(dice, _named("service.position", ["not steered", "steered"], steered.astype(np.int64)), 15),
            speeds(dice, "service.speed", dice.between("speed", slow, fast, count)),
            pressures(dice, "service.pressure specified", specified, (850, 100, 50, 0, 0)),
            words(dice, "found.valve core", count, ("out", "in", "unknown"), (980, 12, 8)),
            words(dice, "found.heat event", count, ("none", "suspected", "confirmed", "unknown"), (985, 6, 3, 6)),
            words(dice, "found.inside inspected", count, ("yes", "no", None), (915, 65, 20)),
            pressures(dice, "found.pressure at removal", specified * share // 100),
            words(dice, "found.moisture", count, ("dry", "damp", "wet", None), (850, 30, 10, 110)),
            _run_flat(dice, soft),
            words(dice, "earlier repairs", count, ("none", "not mapped", "unknown"), (945, 35, 20)),
            _named("judged on", [DAY], np.zeros(count, dtype=np.int64)),
        ]
    )
    return Drawn(text, machine, size, left)


def count_injuries(dice: Dice, tyres: int) -> tuple[Ints, Ints]:
    """Return for each injury the place of its tyre among `tyres`, and its number on it, from 0."""
    each = dice.pick("injuries", tyres, INJURIES)
    tyre = np.repeat(np.arange(tyres), each)
    return tyre, np.arange(len(tyre)) - np.repeat(np.cumsum(each) - each, each)


def draw_injuries(dice: Dice, drawn: Drawn, tyre: Ints, number: Ints) -> pl.DataFrame:
    """Return the columns of the injuries, `number` (from 0) on tyre `tyre`."""
    count = len(tyre)
    size, machine = drawn.size[tyre], drawn.machine[tyre]
    ground = np.array([GROUNDS.index(one.ground) for one in MACHINES])[machine]
    kind = dice.pick_by("kind", ground, [[k.grounds[place] for k in KINDS] for place in range(len(GROUNDS))])
    zone = dice.pick_by("zone", kind, [k.zones for k in KINDS])
    reaches = dice.pick_by("reaches", kind, [k.reaches for k in KINDS])
    is_crown, is_cut = zone < 2, reaches > 1
    width = np.array([s.width for s in SIZES])[size]
    plies, belts = (np.array([getattr(s, name) for s in SIZES])[size] for name in ("plies", "belts"))

    rank = dice.roll("how bad", count)
    own = (3 * rank + dice.roll("length", count)) >> 2
    large = np.choose(reaches, [along(own, knots) for knots in LENGTHS]) * np.array([k.size for k in KINDS])[kind]
    length = np.maximum(3, large * width // 100_000)
    across = (
        length * dice.between("shape", *(np.array([k.shape[e] for k in KINDS])[kind] for e in (0, 1)), count) // 100
    )
    across = np.clip(across, 3, width // 3)
    through = np.where(is_crown, drawn.tread[tyre] + 18 + width // 30, 10 + width // 18)
    depth = np.maximum(1, through * np.choose(reaches, [along(own, knots) for knots in DEPTHS]) // 100)
    is_radial = np.array([s.is_radial for s in SIZES])[size]
    cords = np.where(is_crown, 0, length * 10 // (18 + width // 40))
    share = dice.between("plies damaged", 8, 45, count) + 40 * (reaches == 3)
    torn = np.where(is_radial, 1, np.clip(plies * share // 100, 1, plies))
    broken = np.clip(dice.between("belts damaged", 0, 2, count) + (reaches == 3), 0, belts)
    half = np.array([s.half_girth for s in SIZES])[size]
    ends = np.array(PLACES)[zone]
    place = dice.between("place", ends[:, 0], ends[:, 1], count)
    side = np.where(is_crown, 0, dice.between("side", 1, 2, count))
    placed = dice.pick("placed", count, (560, 400, 40))  # by the tape, by a word, not at all

    return pl.DataFrame(
        [
            pl.Series("name", list("ABCDEFGH")).gather(number),
            _but(dice, _named("kind", [k.name for k in KINDS], kind), 15),
            _named("side", ["crown", "serial side", "opposite side"], side),
            clocks(dice, "clock", dice.between("clock", 0, 359, count)),
            _where(_named("zone", list(ZONES), zone), placed == 1),
            _where(
                lengths(dice, "distance from bead", place * half // 1000, ALWAYS),
                placed == 0,
            ),
            _but(dice, _named("reaches", list(REACHES), reaches), 25),
            lengths(dice, "length", length),
            lengths(dice, "width", across),
            lengths(dice, "depth", depth),
            _where(counts(dice, "cords cut", cords, blank=120), is_cut & is_radial & ~is_crown),
            _where(counts(dice, "plies damaged", torn, blank=80), is_cut & (~is_radial | ~is_crown)),
            _where(counts(dice, "belts damaged", broken, blank=80), is_cut & is_radial & is_crown),
            _where(
                lengths(dice, "belt edge distance", dice.between("belt edge", 15, 45, count) * width // 100, ALWAYS),
                is_radial & is_crown & (reaches > 0),
            ),
            _where(
                lengths(dice, "rubber left", dice.between("rubber left", 1, 12, count), ALWAYS), reaches == 0
            ),
            _where(lengths(dice, "rust", dice.knots("rust", (0, 0, 0, 2, 25), count, rank), ALWAYS), reaches > 0),
            words(dice, "skived", count, ("yes", "no", None), (700, 240, 60)),
        ]
    )  # fmt: skip


def _named(name: str, said: list[str], places: Ints) -> pl.Series:
    return pl.Series(name, said, pl.String).gather(places).alias(name)


def _where(column: pl.Series, is_written: np.ndarray) -> pl.Series:
    return (
        pl.DataFrame([column, pl.Series("w", is_written)])
        .select(pl.when("w").then(column.name).alias(column.name))
        .to_series()
    )


def _but(dice: Dice, column: pl.Series, lost: int) -> pl.Series:
    """Return `column`, where `lost` in a thousand is left out or unknown."""
    fate = pl.Series("fate", dice.pick(f"{column.name} lost", len(column), (1000 - lost, lost - lost // 2, lost // 2)))
    text = pl.when(pl.col("fate") == 0).then(column.name).when(pl.col("fate") == 1).then(pl.lit("unknown"))
    return pl.DataFrame([column, fate]).select(text.alias(column.name)).to_series()


def _tags(site: Ints, first: int) -> pl.Series:
    numbers = pl.DataFrame(
        {"n": np.arange(first, first + len(site)), "s": pl.Series([sign for _, sign, _ in SITES]).gather(site)}
    )
    return numbers.select(pl.format("{}-{}", "s", pl.col("n").cast(pl.String).str.zfill(6)).alias("tag")).to_series()


def _date_codes(dice: Dice, count: int, hard: Ints) -> pl.Series:
    week = YEAR * 52 + WEEK - 1 - dice.knots("weeks old", WEEKS_OLD, count, leaning=hard)
    built = pl.DataFrame({"week": week % 52 + 1, "year": week // 52 % 100})
    code = built.select(
        pl.concat_str(pl.col(part).cast(pl.String).str.zfill(2) for part in ("week", "year")).alias("tyre.date code")
    ).to_series()
    return _but(dice, code, 35)


def _run_flat(dice: Dice, soft: Ints) -> pl.Series:
    """Return the signs of running soft: the softer it came in, the likelier."""
    said, weights = (
        ("none", "suspected", "confirmed", None),
        ((880, 5, 0, 115), (840, 50, 0, 110), (600, 250, 50, 100), (300, 350, 300, 50)),
    )
    return _named_or_blank("found.run flat", said, dice.pick_by("run flat", soft, weights))


def _named_or_blank(name: str, said: tuple[str | None, ...], places: Ints) -> pl.Series:
    return pl.Series(name, said, pl.String).gather(places).alias(name)
