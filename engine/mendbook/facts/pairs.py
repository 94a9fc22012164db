"""One injury and its neighbour: how far apart their repairs lie, and what the two make together."""

from collections.abc import Sequence

import polars as pl

from mendbook.facts.injuries import share
from mendbook.facts.readings import GOOD
from mendbook.facts.scenarios import END
from mendbook.facts.steps import Columns, columns
from mendbook.facts.zones import radius_at, zone_bits

WALLS, SHOULDER = ("upper sidewall", "lower sidewall"), ("shoulder",)
NONE_NEAR = 20_000.0  # mm or degrees to a neighbour that is not there
NO_ANGLE = 360.0  # degrees to a repair in the opposite shoulder that is not there
FAR = 10_000.0  # per cent of the least gap or angle: nothing near
PATH_MARGIN_DEG = 10.0  # house default: clock angle by which cord paths of a radial are taken wider than the injury
BIAS_MARGIN_DEG = 15.0  # house default: how closely the offset of a bias ply must be met


def place_pair() -> Columns:
    """Return the step to where the two lie: angle [deg], arc and way across [mm], and what they have in common."""
    turned = (pl.col("clock") - pl.col("other clock")).abs() % 360.0
    unknown = pl.when(pl.col(END) == GOOD).then(180.0).otherwise(0.0)
    angle = pl.min_horizontal(turned, 360.0 - turned).fill_null(unknown)
    # The girth is longest at the tread: the arc is taken at the inner of the two radii, which is the shorter.
    reach = pl.min_horizontal(
        pl.min_horizontal(pl.col("centre"), 2.0 * pl.col("half girth") - pl.col("centre")),
        pl.min_horizontal(pl.col("other centre"), 2.0 * pl.col("half girth") - pl.col("other centre")),
    )
    radius = radius_at(reach)
    across = (pl.col("centre") - pl.col("other centre")).abs()
    is_across = pl.col("side") != pl.col("other side")
    return columns(
        angle=angle,
        pair_radius=radius,
        arc=(angle.radians() * radius).fill_null(pl.when(pl.col(END) == GOOD).then(NONE_NEAR).otherwise(0.0)),
        across=across.fill_null(pl.when(pl.col(END) == GOOD).then(5000.0).otherwise(0.0)),
        in_facing_walls=is_across & _is_in(WALLS, "zones") & _is_in(WALLS, "other zones"),
        in_facing_shoulders=is_across & _is_in(SHOULDER, "zones") & _is_in(SHOULDER, "other zones"),
        in_one_place=((pl.col("zones") & pl.col("other zones")) > 0) & (pl.col("side") == pl.col("other side")),
    )


def measure_pair() -> Columns:
    """Return the step to gap, angles [deg], the box round the two, and what they add on one cord path [mm, %]."""
    round_gap = pl.col("arc") - (pl.col("reinforcement length") + pl.col("other reinforcement length")) / 2.0
    cross_gap = pl.col("across") - (pl.col("reinforcement width") + pl.col("other reinforcement width")) / 2.0
    apart = (round_gap.clip(0.0) ** 2 + cross_gap.clip(0.0) ** 2).sqrt()
    gap = pl.when((round_gap < 0.0) & (cross_gap < 0.0)).then(pl.max_horizontal(round_gap, cross_gap)).otherwise(apart)
    both = pl.col("serious") & pl.col("other serious")
    both_sections = pl.col("sectioned") & pl.col("other sectioned")
    half_lengths = (pl.col("length") + pl.col("other length")) / 2.0
    half_widths = (pl.col("width") + pl.col("other width")) / 2.0
    same_path = pl.col("in facing walls") & both & _share_path((half_lengths / pl.col("pair radius")).degrees())
    return columns(
        gap=pl.when(both).then(gap.clip(-5000.0, NONE_NEAR)).otherwise(NONE_NEAR),
        angle_of_pair=pl.when(both_sections & pl.col("in one place")).then(pl.col("angle")).otherwise(NONE_NEAR),
        facing_angle=pl.when(both & pl.col("in facing shoulders")).then(pl.col("angle")).otherwise(NO_ANGLE),
        # The box is never smaller than either injury, whichever of the two reaches further.
        joint_length=pl.max_horizontal(pl.col("arc") + half_lengths, "length", "other length"),
        joint_width=pl.max_horizontal(pl.col("across") + half_widths, "width", "other width"),
        path_length=pl.when(same_path).then(pl.col("other length")).otherwise(0.0),
        path_plies=pl.when(same_path).then(pl.col("other ply share")).otherwise(0.0),
    )


def share_pairs() -> Columns:
    """Return the step from the nearest neighbour, the largest box and the sums to shares of what is allowed [%]."""
    length, width = pl.col("joint length"), pl.col("joint width")
    box = pl.col("area share") * pl.col("length limit") * pl.col("width limit")
    path = pl.col("path length").fill_null(0.0)
    on_path = share(pl.col("deciding length") + path, pl.col("length limit"))
    return columns(
        gap=pl.col("gap").clip(-5000.0, NONE_NEAR),
        facing_angle=pl.col("facing angle").clip(0.0, NO_ANGLE),
        gap_share=(pl.col("gap") / pl.col("least gap") * 100.0).clip(0.0, FAR).round(3),
        angle_share=(pl.col("angle of pair") / pl.col("least angle") * 100.0).clip(0.0, FAR).round(3),
        joint_share_of_length_limit=share(length, pl.col("length limit")).fill_null(0.0),
        joint_share_of_width_limit=share(width, pl.col("width limit")).fill_null(0.0),
        joint_share_of_area_limit=share(length * width, box).fill_null(0.0),
        path_share_of_length_limit=pl.when(path > 0.0).then(on_path).otherwise(0.0),
        path_share_of_plies=(pl.col("ply share") + pl.col("path plies").fill_null(0.0)).clip(0.0, 1000.0),
    )


def run_through(side: pl.Expr, from_bead: pl.Expr) -> pl.Expr:
    """Return the place along the whole section [mm], from the serial-side bead over the crown to the other bead."""
    return pl.when(side == "opposite side").then(2.0 * pl.col("half girth") - from_bead).otherwise(from_bead)


def _share_path(half_lengths: pl.Expr) -> pl.Expr:
    """Return whether two injuries on opposite sidewalls, of `half_lengths` [deg], cut the same cords.

    Radial cords run straight over; a bias ply runs on by its own offset, and one that was not measured counts
    as meeting (at the good reading, as not).
    """
    angle, is_bias = pl.col("angle"), pl.col("construction") != "radial"
    apart = pl.when(is_bias).then((angle - pl.col("cord path offset")).abs()).otherwise(angle)
    margin = pl.when(is_bias).then(BIAS_MARGIN_DEG).otherwise(half_lengths + PATH_MARGIN_DEG)
    return (apart <= margin).fill_null(pl.col(END) != GOOD)


def _is_in(zones: Sequence[str], column: str) -> pl.Expr:
    """Return whether a set of zones, as bits in `column`, holds one of `zones`."""
    return (pl.col(column) & zone_bits(zones)) > 0
