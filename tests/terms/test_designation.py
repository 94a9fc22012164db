import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.terms.designation import Construction, DesignationError, Form, read_designation

R, X = Construction.RADIAL, Construction.BIAS


# ISO 4250-1:2006 (title read; its forms from memory; '17.5 L - 24' and '340/85 R 24' read on a public page).
@pytest.mark.parametrize(
    ("text", "form", "construction", "width_mm", "rim_in", "ratio"),
    [
        ("18.00-25", Form.NARROW_BASE, X, 457.2, 25, 1.06),
        ("18.00R33", Form.NARROW_BASE, R, 457.2, 33, 1.06),
        ("24.00R35", Form.NARROW_BASE, R, 609.6, 35, 1.06),
        ("14.00-24 TG", Form.NARROW_BASE, X, 355.6, 24, 1.06),
        ("12.00R20", Form.NARROW_BASE, R, 304.8, 20, 1.02),
        ("8.25-20", Form.SMALL, X, 209.55, 20, 1.09),
        ("7.50R16", Form.SMALL, R, 190.5, 16, 1.09),
        ("26.5-25", Form.WIDE_BASE, X, 673.1, 25, 0.82),
        ("29.5R25", Form.WIDE_BASE, R, 749.3, 25, 0.82),
        ("33.25R29", Form.WIDE_BASE, R, 844.55, 29, 0.82),
        ("17.5L-24", Form.LOW_SECTION, X, 444.5, 24, 0.71),
        ("17.5 L - 24", Form.LOW_SECTION, X, 444.5, 24, 0.71),
        ("11R22.5", Form.TRUCK_TUBELESS, R, 279.4, 22.5, 0.86),
        ("35/65R33", Form.INCH_RATIO, R, 889.0, 33, 0.65),
        ("45/65-45", Form.INCH_RATIO, X, 1143.0, 45, 0.65),
        ("13/80R20", Form.INCH_RATIO, R, 330.2, 20, 0.80),
        ("875/65R29", Form.METRIC, R, 875.0, 29, 0.65),
        ("315/80R22.5", Form.METRIC, R, 315.0, 22.5, 0.80),
        ("340/85 R 24", Form.METRIC, R, 340.0, 24, 0.85),
        ("385/95 d 25", Form.METRIC, X, 385.0, 25, 0.95),
        ("10.00B20", Form.NARROW_BASE, Construction.BIAS_BELTED, 254.0, 20, 1.07),
    ],
)
def test_every_form_of_a_size(
    text: str, form: Form, construction: Construction, width_mm: float, rim_in: float, ratio: float
) -> None:
    size = read_designation(text)
    assert (size.form, size.construction, size.rim_in, size.ratio) == (form, construction, rim_in, ratio)
    assert size.nominal_width_mm == pytest.approx(width_mm)
    assert size.ratio_is_stated is (form in (Form.INCH_RATIO, Form.METRIC))


@pytest.mark.parametrize(
    "text",
    [
        "23.5-25",
        "23,5-25",
        "23.5 - 25",
        "23.5–25",
        " 23.5\u00a0-\u00a025 ",
        "23.5-25 ** TL",
        "23.5-25 20 PR L-3",
        "23.5-25 185 A2",
        "23.5D25",
    ],
)
def test_one_size_however_it_is_written(text: str) -> None:
    size = read_designation(text)
    assert (size.form, size.construction, size.nominal_width_in, size.rim_in) == (Form.WIDE_BASE, X, 23.5, 25)


def test_inches_are_never_taken_for_millimetres() -> None:
    assert read_designation("18.00-25").nominal_width_in == pytest.approx(18.0)
    assert read_designation("35/65R33").section_width_mm == 889.0


def test_how_the_construction_was_written_is_kept() -> None:
    assert read_designation("18.00-25").separator == "-"
    assert read_designation("18.00 R 25").separator == "R"


@pytest.mark.parametrize(
    ("text", "is_road_size"),
    [("11R22.5", True), ("315/80R22.5", True), ("12.00R20", True), ("8.25-20", True), ("14.00-24", False),
     ("385/95R25", False), ("12.00-25", False), ("23.5R25", False)],
)  # fmt: skip
def test_road_sizes(text: str, is_road_size: bool) -> None:
    assert read_designation(text).is_road_size is is_road_size


# UN R54, 6.1.1 and 6.1.2 (from memory): H = width x ratio / 100, D = 25.4 x rim code + 2 H. The last three
# are nominal by the same formula; tyres as made differ by up to 4 %.
@pytest.mark.parametrize(
    ("text", "outside_mm"),
    [("315/80R22.5", 1075.5), ("385/65R22.5", 1072.0), ("295/80R22.5", 1043.5), ("35/65R33", 1993.9),
     ("45/65-45", 2628.9), ("875/65R29", 1874.1)],
)  # fmt: skip
def test_outside_diameter_by_the_formula_of_un_r54(text: str, outside_mm: float) -> None:
    size = read_designation(text)
    assert size.outside_diameter_mm == pytest.approx(outside_mm, abs=0.05)
    assert size.section_height_mm == pytest.approx((outside_mm - size.rim_diameter_mm) / 2, abs=0.05)


# Off-road dimensions new, regular tread, of the TRA and ETRTO kind: section width and outside diameter [mm],
# from memory, no table opened. Widths within 3 %, diameters within 3 %.
@pytest.mark.parametrize(
    ("text", "width_mm", "outside_mm"),
    [
        ("14.00-24", 375, 1370),
        ("16.00-25", 430, 1493),
        ("18.00-25", 498, 1615),
        ("18.00-33", 498, 1818),
        ("21.00-35", 571, 2030),
        ("24.00-35", 653, 2175),
        ("27.00-49", 737, 2680),
        ("15.5-25", 394, 1277),
        ("17.5-25", 445, 1348),
        ("20.5-25", 521, 1493),
        ("23.5-25", 597, 1617),
        ("26.5-25", 673, 1750),
        ("29.5-25", 749, 1874),
    ],
)
def test_off_road_dimensions(text: str, width_mm: float, outside_mm: float) -> None:
    size = read_designation(text)
    assert size.section_width_mm == pytest.approx(width_mm, rel=0.03)
    assert size.outside_diameter_mm == pytest.approx(outside_mm, rel=0.03)


# Road truck dimensions of UN R54 Annex 5, from memory: diameters within 2 %. One width
# factor for all narrow base tyres makes truck sizes up to 6 % too wide.
@pytest.mark.parametrize(
    ("text", "width_mm", "outside_mm"),
    [
        ("10.00R20", 275, 1052),
        ("11.00R20", 286, 1082),
        ("12.00R20", 313, 1122),
        ("14.00R20", 370, 1238),
        ("11R22.5", 279, 1050),
        ("12R22.5", 300, 1084),
        ("13R22.5", 320, 1124),
    ],
)
def test_road_truck_dimensions(text: str, width_mm: float, outside_mm: float) -> None:
    size = read_designation(text)
    assert size.outside_diameter_mm == pytest.approx(outside_mm, rel=0.02)
    assert size.section_width_mm == pytest.approx(width_mm, rel=0.06)


# Light truck sizes, outside diameter [mm] from memory: within 3 %.
@pytest.mark.parametrize(
    ("text", "outside_mm"), [("9.00R20", 1018), ("8.25R20", 974), ("8.25R16", 857), ("7.50R16", 803)]
)
def test_light_truck_diameters(text: str, outside_mm: float) -> None:
    assert read_designation(text).outside_diameter_mm == pytest.approx(outside_mm, rel=0.03)


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("65/35-33", "Write the width first: '35/65-33'"),
        ("65/45R45", "Write the width first: '45/65R45'"),
        ("1800R33", "Write '18.00R33'"),
        ("1200-20 TT", "Write '12.00-20'"),
        ("18-25", "such as '18.00-25'"),
        ("23.5/25", "such as '23.5R25'"),
        ("23.5", "such as '23.5R25'"),
        ("875/65", "such as '875/65R29'"),
        ("", "such as '18.00-25'"),
        ("loader tyre", "not a tyre size I know"),
        ("99.00-25", "width of 2514.6 mm"),
        ("24.00R99", "rim of 99 in"),
        ("24.00R08", "rim of 8 in"),
        ("99/80R63", "width of 2514.6 mm"),
        ("23.5R25 blue", "'BLUE' after the size"),
        ("23.5R255", "not a tyre size I know"),
        ("23.5R25 23.5R25", "after the size"),
    ],
)
def test_what_is_refused_and_what_is_told(text: str, told: str) -> None:
    with pytest.raises(DesignationError) as caught:
        read_designation(text)
    assert told in str(caught.value)


@given(st.text(max_size=40) | st.text("0123456789./-RDBL *", max_size=14))
def test_any_text_is_read_or_refused_in_our_own_words(text: str) -> None:
    try:
        size = read_designation(text)
    except DesignationError:
        return
    assert size.outside_diameter_mm > size.rim_diameter_mm > 0
    assert size.section_width_mm > 100
