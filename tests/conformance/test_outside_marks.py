"""What is moulded on a tyre: the whole table of speed symbols, and how sizes give dimensions.

Speed symbols: UN Regulations 30 and 54, table read in a public copy; A2 read in an extract of ISO 4250-2, A8 read
as 25 mph, the other symbols with A from memory.
"""

import pytest

from mendbook.terms.designation import read_designation
from mendbook.terms.load_index import load_kg, read_load_index
from mendbook.terms.speed_symbol import SPEEDS_KM_H, read_speed_symbol

PUBLISHED = (
    "B50 C60 D65 E70 F80 G90 J100 K110 L120 M130 N140 P150 Q160 R170 S180 T190 U200 H210 V240 W270 Y300 "
    "A1:5 A2:10 A3:15 A4:20 A5:25 A6:30 A7:35 A8:40"
)


def row(text: str) -> tuple[str, int]:
    symbol, _, speed = text.partition(":") if ":" in text else (text[0], "", text[1:])
    return symbol, int(speed)


ROWS = [row(text) for text in PUBLISHED.split()]


@pytest.mark.parametrize(("symbol", "km_h"), ROWS)
def test_every_speed_symbol_states_the_published_speed(symbol: str, km_h: int) -> None:
    """UN R30 and R54, ISO 4250-2. Read, but for A1 and A3 to A7, which are from memory."""
    assert read_speed_symbol(symbol).km_h == km_h
    assert read_load_index(f"150{symbol}").speed == read_speed_symbol(symbol)


def test_there_is_no_other_speed_symbol() -> None:
    assert dict(ROWS) == dict(SPEEDS_KM_H)


def test_a_tyre_in_a_dual_set_carries_less_than_alone() -> None:
    """149/146 stands for 3 250 kg alone and 3 000 kg in a dual set. Read in a public copy."""
    mark = read_load_index("149/146L")
    assert (mark.single_kg, mark.dual_kg) == (load_kg(149), load_kg(146)) == (3250, 3000)


# Section width and outside diameter [mm] as dimension tables of the rim and tyre standards give them; quoted from
# memory, no table was opened, so three per cent is all that can be asked.
def test_the_smallest_wide_base_comes_near_the_dimension_tables() -> None:
    size = read_designation("15.5-25")
    assert size.section_width_mm == pytest.approx(394, rel=0.03)
    assert size.outside_diameter_mm == pytest.approx(1277, rel=0.03)


@pytest.mark.parametrize(("designation", "width"), [("18.00-25", 498), ("24.00R35", 653), ("29.5R25", 749.3)])
def test_a_narrow_base_is_wider_than_it_says_and_a_wide_base_is_not(designation: str, width: float) -> None:
    size = read_designation(designation)
    assert size.section_width_mm == pytest.approx(width, rel=0.03)
    is_narrow = designation.partition(".")[2].startswith("00")
    assert (size.section_width_mm > 1.02 * size.nominal_width_mm) is is_narrow


@pytest.mark.parametrize(
    ("designation", "diameter"),
    [
        ("10.00R20", 1052),
        ("11.00R20", 1082),
        ("12.00R20", 1122),
        ("11R22.5", 1050),
        ("12R22.5", 1084),
        ("13R22.5", 1124),
    ],
)
def test_the_diameter_of_a_road_size_comes_near_the_regulation(designation: str, diameter: float) -> None:
    """UN Regulation 54, annex 5. From memory, no table was opened: three per cent."""
    assert read_designation(designation).outside_diameter_mm == pytest.approx(diameter, rel=0.03)
