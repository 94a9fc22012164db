"""The kit catalogue agrees with its own reasons: power, strips, cover, pressure, throat."""

import re
from itertools import pairwise
from math import sqrt
from pathlib import Path
from typing import Any

import pytest

from mendbook.folders import folder
from mendbook.terms.document import read_document
from mendbook.terms.quantity import read_quantity
from mendbook.terms.units import Dimension

FOLDER = Path(str(folder("knowledge") / "kit"))
POWER = 4.0e-3  # W/mm2, house default
WORKING = 2.0  # bar, common practice, no source
UNITS = {
    "power": Dimension.POWER,
    "force": Dimension.FORCE,
    "working load limit": Dimension.FORCE,
    "rated pressure": Dimension.PRESSURE,
    "proof pressure": Dimension.PRESSURE,
    "proof test interval": Dimension.DURATION,
    "warm before bending": Dimension.TEMPERATURE,
    "section widths": Dimension.LENGTH,
    "section width": Dimension.LENGTH,
    "tread radius": Dimension.LENGTH,
    "edge strip": Dimension.LENGTH,
    "bend radius": Dimension.LENGTH,
    "throat": Dimension.LENGTH,
    "deepest fill": Dimension.LENGTH,
    "length": Dimension.LENGTH,
    "width": Dimension.LENGTH,
    "thickness": Dimension.LENGTH,
    "curve radius": Dimension.LENGTH,
}
WORDS = ("id", "laid", "face", "phases", "plates", "shoes")
SIZES = ("heated", "outer", "presses", "size")


def items(name: str) -> list[dict[str, Any]]:
    tree: Any = read_document(FOLDER / f"{name}.yaml").tree
    found: list[dict[str, Any]] = tree["items"]
    return found


def value(item: dict[str, Any], key: str) -> float:
    read = read_quantity(item[key], UNITS[key]).value
    assert read is not None
    return read


def size(text: str) -> tuple[float, float]:
    around, across = text.removesuffix(" mm").split(" x ")
    return float(around), float(across)


def area(item: dict[str, Any]) -> float:
    around, across = size(item["heated"])
    return around * across


def covers(bag: dict[str, Any], pad: dict[str, Any], margin: float) -> bool:
    return all(b >= p + 2 * margin for b, p in zip(size(bag["presses"]), size(pad["heated"]), strict=True))


def test_every_file_says_what_it_is_and_on_what_basis() -> None:
    for file in FOLDER.glob("*.yaml"):
        tree = read_document(file).tree
        assert tree["kit"] == file.stem.replace("_", " ")
        assert tree["basis"] == "house, invented generic catalogue"
        assert tree["owner"]
        assert tree["items"]


def test_ids_are_unique_over_the_whole_catalogue() -> None:
    ids = [item["id"] for file in FOLDER.glob("*.yaml") for item in items(file.stem)]
    assert len(ids) == len(set(ids))


def test_every_figure_has_a_unit_that_is_known() -> None:
    for file in FOLDER.glob("*.yaml"):
        for item in items(file.stem):
            for key, text in item.items():
                if key in SIZES:
                    assert min(size(text)) > 0
                elif key not in WORDS:
                    read_quantity(text, UNITS[key])


def test_a_pad_is_as_strong_and_as_large_as_it_says() -> None:
    for pad in items("heated_pads"):
        assert value(pad, "power") == pytest.approx(POWER * area(pad))
        strip = value(pad, "edge strip")
        assert 10 <= strip <= 20
        assert size(pad["outer"]) == tuple(side + 2 * strip for side in size(pad["heated"]))


def test_one_wrap_serves_every_width_of_the_trade_range() -> None:
    """13.00 to 29.5 in: common practice, no source."""
    served = [read_quantity(pad["section widths"], Dimension.LENGTH).bounds for pad in items("heated_pads")]
    assert (13.0 * 25.4, 29.5 * 25.4) in [pytest.approx(bounds) for bounds in served if bounds]


@pytest.mark.parametrize(("bags", "margin"), [("outer_bags", 30.0), ("inner_bags", 50.0)])
def test_every_pad_has_a_bag_that_covers_it_on_the_tyres_it_serves(bags: str, margin: float) -> None:
    for pad in items("heated_pads"):
        if bags == "inner_bags" and pad["face"] == "outside":
            continue
        fits = [
            bag for bag in items(bags) if covers(bag, pad, margin) and bag["section widths"] == pad["section widths"]
        ]
        assert fits, pad["id"]


def test_a_bag_is_rated_and_proved_over_the_working_pressure() -> None:
    for bag in items("outer_bags") + items("inner_bags"):
        assert value(bag, "rated pressure") >= 1.25 * WORKING
        assert value(bag, "proof pressure") == pytest.approx(1.5 * value(bag, "rated pressure"))


def test_a_press_brings_the_working_pressure_and_power() -> None:
    for name, faces in (("spot_press", "plates"), ("arm_press", "shoes")):
        for press in items(name):
            assert value(press, "force") == pytest.approx(WORKING * 0.1 * area(press))  # 1 bar = 0.1 N/mm2
            assert value(press, "power") == pytest.approx(POWER * area(press) * int(press[faces]))


def test_a_mould_fits_four_per_cent_either_way() -> None:
    for mould in items("sectional_moulds"):
        middle = float(mould["id"].removeprefix("mould "))
        bounds = read_quantity(mould["section width"], Dimension.LENGTH).bounds
        assert bounds is not None
        assert bounds[0] >= 0.96 * middle
        assert bounds[1] <= 1.04 * middle
        assert value(mould, "power") == pytest.approx(POWER * area(mould))


def test_straps_follow_each_other_without_a_gap() -> None:
    spans = [read_quantity(strap["section widths"], Dimension.LENGTH).bounds for strap in items("straps")]
    for lower, upper in pairwise(spans):
        assert lower is not None
        assert upper is not None
        assert upper[0] <= lower[1]


# Girth from bead to crown and section width of such a tyre [mm], from the house outline of a section.
@pytest.mark.parametrize(
    ("inches", "girth", "width"),
    [(12.00, 478, 329), (16.00, 670, 439), (20.5, 693, 521), (24.00, 1006, 659), (29.5, 997, 749)],
)
def test_a_strap_reaches_around_the_tyre_it_is_for(inches: float, girth: float, width: float) -> None:
    needed = 2 * girth + 0.8 * width + 300 + 1000
    longest = max(
        value(strap, "length")
        for strap in items("straps")
        if (span := read_quantity(strap["section widths"], Dimension.LENGTH).bounds)
        and span[0] <= inches * 25.4 <= span[1]
    )
    assert longest >= needed


def test_the_power_of_a_circuit_is_volts_times_amperes() -> None:
    """At a power factor of one, for pads only resist; times the root of three with three phases."""
    for circuit in items("circuits"):
        factor = sqrt(3.0) if circuit["phases"] == "3" else 1.0
        if mains := re.match(r"(\d+) V (\d+) A", circuit["id"]):
            apparent = float(mains[1]) * float(mains[2])
        else:
            apparent = 1000.0 * float(circuit["id"].removeprefix("generator ").removesuffix(" kVA"))
        assert value(circuit, "power") == pytest.approx(apparent * factor, abs=1.0)
