import json
from math import inf, nan

import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from pydantic import BaseModel, ValidationError

from mendbook.terms.hint import EXAMPLES
from mendbook.terms.quantity import (
    Count,
    Hardness,
    Length,
    Pressure,
    Quantity,
    QuantityError,
    Share,
    format_quantity,
    read_quantity,
)
from mendbook.terms.units import Dimension

D = Dimension


@pytest.mark.parametrize(
    ("text", "dimension", "value"),
    [
        ("48 mm", D.LENGTH, 48.0),
        ("48mm", D.LENGTH, 48.0),
        ("  48\u00a0mm ", D.LENGTH, 48.0),
        ("48,5 mm", D.LENGTH, 48.5),
        ("0,125 in", D.LENGTH, 3.175),
        (".5 in", D.LENGTH, 12.7),
        ("1 7/8 in", D.LENGTH, 47.625),
        ('1-7/8"', D.LENGTH, 47.625),
        ("-5 mm", D.LENGTH, -5.0),
        ("−5 mm", D.LENGTH, -5.0),
        ("-1 1/2 in", D.LENGTH, -38.1),
        ("2 in", D.LENGTH, 50.8),
        ("3 ft", D.LENGTH, 914.4),
        ("4 km", D.DISTANCE, 4.0),
        ("500 m", D.DISTANCE, 0.5),
        ("220 kPa", D.PRESSURE, 2.2),
        ("140 °C", D.TEMPERATURE, 140.0),
        ("284 F", D.TEMPERATURE, 140.0),
        ("0 K", D.TEMPERATURE, -273.15),
        ("45°", D.ANGLE, 45.0),
        ("90 min", D.DURATION, 1.5),
        ("6 years", D.DURATION, 6 * 8766.0),
        ("2 short tons", D.MASS, 1814.36948),
        ("65 %", D.SHARE, 0.65),
        ("101 %", D.SHARE, 1.01),
        ("0.65", D.SHARE, 0.65),
        ("1.0", D.SHARE, 1.0),
        ("0", D.SHARE, 0.0),
        ("65", D.HARDNESS, 65.0),
        ("65 Shore A", D.HARDNESS, 65.0),
        ("3", D.COUNT, 3.0),
    ],
)
def test_a_plain_reading(text: str, dimension: Dimension, value: float) -> None:
    read = read_quantity(text, dimension)
    assert (read.value, read.low, read.high, read.text) == (value, None, None, text)
    assert read.bounds == (value, value)


# Tread depth in 32nds as in 49 CFR 393.75 (from memory); by arithmetic, 1 in is 25.4 mm exactly.
@pytest.mark.parametrize(
    ("text", "mm"),
    [
        ("2/32 in", 1.5875),
        ("4/32 in", 3.175),
        ("11/32", 8.73125),
        ("17/32nds", 13.49375),
        ("18/32", 14.2875),
        ("1/32", 0.79375),
        ("3/8 in", 9.525),
        ("15 in", 381.0),
    ],
)
def test_fractions_of_an_inch(text: str, mm: float) -> None:
    assert read_quantity(text, D.LENGTH).value == mm


# NIST SP 811 (from memory): 1 psi = 6.894757 kPa.
@pytest.mark.parametrize(("bar", "psi"), [(8.0, 116.0), (10.0, 145.0), (0.06894757, 1.0)])
def test_pressures(bar: float, psi: float) -> None:
    assert read_quantity(f"{psi} psi", D.PRESSURE).value == pytest.approx(bar, rel=4e-4)


@pytest.mark.parametrize(
    ("text", "dimension", "value", "low", "high"),
    [
        ("48 ± 2 mm", D.LENGTH, 48.0, 46.0, 50.0),
        ("48 +/- 2 mm", D.LENGTH, 48.0, 46.0, 50.0),
        ("48mm+-2mm", D.LENGTH, 48.0, 46.0, 50.0),
        ("48 mm ± 2", D.LENGTH, 48.0, 46.0, 50.0),
        ("2 in ± 2 mm", D.LENGTH, 50.8, 48.8, 52.8),
        ("200 mm ± 5 %", D.LENGTH, 200.0, 190.0, 210.0),
        ("284 ± 9 °F", D.TEMPERATURE, 140.0, 135.0, 145.0),
        ("140 °C ± 5 K", D.TEMPERATURE, 140.0, 135.0, 145.0),
        ("65 ± 5 %", D.SHARE, 0.65, 0.60, 0.70),
        ("3 ± 1", D.COUNT, 3.0, 2.0, 4.0),
        ("1 ± 2", D.COUNT, 1.0, 0.0, 3.0),
        ("2 ± 5 mm", D.LENGTH, 2.0, -3.0, 7.0),
        ("45 to 60 mm", D.LENGTH, None, 45.0, 60.0),
        ("from 45 to 60 mm", D.LENGTH, None, 45.0, 60.0),
        ("45 mm to 2.5 in", D.LENGTH, None, 45.0, 63.5),
        ("45..60 mm", D.LENGTH, None, 45.0, 60.0),
        ("1 7/8 to 2 1/4 in", D.LENGTH, None, 47.625, 57.15),
        ("2 to 4", D.COUNT, None, 2.0, 4.0),
        ("up to 40 mm", D.LENGTH, None, 0.0, 40.0),
        ("unknown", D.LENGTH, None, None, None),
        ("Unknown ", D.COUNT, None, None, None),
    ],
)
def test_errors_ranges_and_unknowns(
    text: str, dimension: Dimension, value: float | None, low: float | None, high: float | None
) -> None:
    read = read_quantity(text, dimension)
    assert (read.value, read.low, read.high) == (value, low, high)
    assert read.bounds == (None if low is None else (low, high))
    assert read.is_unknown is (low is None)


@pytest.mark.parametrize(
    ("text", "dimension", "told"),
    [
        ("48", D.LENGTH, "write '48 mm'"),
        ("48 ± 2", D.LENGTH, "has no unit"),
        ("48 ± 5 %", D.LENGTH, "has no unit"),
        ("45 to 60", D.LENGTH, "has no unit"),
        ("18/32", D.PRESSURE, "has no unit"),
        ("48 bar", D.LENGTH, "48 bar is a pressure; this field is a length: write e.g. '48 mm'"),
        ("48 %", D.ANGLE, "48 % is a share; this field is an angle"),
        ("48 milimetre", D.LENGTH, "Did you mean 'millimetre'?"),
        ("5 tons", D.MASS, "write 't' for 1000 kg"),
        ("1,250 mm", D.LENGTH, "Write 1250, or 1.25"),
        ("1,250.5 mm", D.LENGTH, "one decimal point"),
        ("1.250,5 mm", D.LENGTH, "one decimal point"),
        ("1 250 mm", D.LENGTH, "without a gap"),
        ("1'250 mm", D.LENGTH, "without a gap"),
        ("nan mm", D.LENGTH, "not a measurement"),
        ("inf", D.LENGTH, "not a measurement"),
        ("-inf mm", D.LENGTH, "not a measurement"),
        ("1e3 mm", D.LENGTH, "without an exponent"),
        ("about 40 mm", D.LENGTH, "'40 ± 5 mm'"),
        ("~40 mm", D.LENGTH, "'40 ± 5 mm'"),
        ("< 40 mm", D.LENGTH, "'up to 40 mm'"),
        ("at least 40 mm", D.LENGTH, "'40 to ... mm'"),
        ("45-60 mm", D.LENGTH, "'45 to 60 mm'"),
        ("45–60 mm", D.LENGTH, "'45 to 60 mm'"),
        ("1½ in", D.LENGTH, "'1 7/8 in'"),
        ("7/0 in", D.LENGTH, "divides by zero"),
        ("60 to 45 mm", D.LENGTH, "smaller end first"),
        ("48 ± -2 mm", D.LENGTH, "above zero"),
        ("up to 40 °C", D.TEMPERATURE, "no lower end"),
        ("-3 kg", D.MASS, "below zero"),
        ("-1", D.COUNT, "below zero"),
        ("", D.LENGTH, "nothing is written"),
        ("   ", D.LENGTH, "nothing is written"),
        ("?", D.LENGTH, "Write 'unknown'"),
        ("n/a", D.LENGTH, "Write 'unknown'"),
        ("not measured", D.LENGTH, "Write 'unknown'"),
        ("big", D.LENGTH, "'48 mm'"),
        ("mm", D.LENGTH, "'48 mm'"),
        ("٤٨ mm", D.LENGTH, "'48 mm'"),
        ("9" * 5000 + " mm", D.LENGTH, "far too long"),
        ("65", D.SHARE, "Write '65 %'"),
        ("1", D.SHARE, "may be a ratio or per cent"),
        ("1.2", D.SHARE, "may be a ratio or per cent"),
        ("3.5", D.COUNT, "not a whole number"),
        ("3 plies", D.COUNT, "Write '3'"),
        ("65 Shore D", D.HARDNESS, "Shore A durometer"),
    ],
)
def test_what_is_refused_and_what_is_told(text: str, dimension: Dimension, told: str) -> None:
    with pytest.raises(QuantityError) as caught:
        read_quantity(text, dimension)
    assert told in str(caught.value)
    assert len(str(caught.value)) < 300


@pytest.mark.parametrize("dimension", list(Dimension))
def test_the_examples_we_show_can_be_read(dimension: Dimension) -> None:
    for text in EXAMPLES[dimension]:
        assert not read_quantity(text, dimension).is_unknown


values = st.floats(min_value=0, max_value=1e9).map(lambda x: 0.0 if x < 1e-9 else x)


@given(st.sampled_from([d for d in Dimension if d is not D.COUNT]), values)
@example(D.SHARE, 0.07)
@example(D.LENGTH, 1e-9)
def test_what_is_printed_reads_back_to_the_same_number(dimension: Dimension, value: float) -> None:
    assert read_quantity(format_quantity(value, dimension), dimension).value == value


@given(st.integers(0, 10**6))
def test_a_printed_count_reads_back(count: int) -> None:
    assert read_quantity(format_quantity(count, D.COUNT), D.COUNT) == Quantity.of(count, D.COUNT)


@given(values, values)
def test_a_printed_range_reads_back(one: float, other: float) -> None:
    low, high = sorted((one, other))
    text = f"{format_quantity(low, D.LENGTH)} to {format_quantity(high, D.LENGTH)}"
    assert read_quantity(text, D.LENGTH).bounds == (low, high)


@given(
    st.text(max_size=30) | st.text("0123456789.,/ -+±~<'\"mincbar%to", max_size=20),
    st.sampled_from(Dimension),
)
def test_any_text_is_read_or_refused_in_our_own_words(text: str, dimension: Dimension) -> None:
    try:
        read = read_quantity(text, dimension)
    except QuantityError:
        return
    assert read.bounds is None or read.bounds[0] <= read.bounds[1]


@pytest.mark.parametrize(
    ("value", "dimension", "decimals", "text"),
    [
        (48.0, D.LENGTH, None, "48 mm"),
        (2.2, D.PRESSURE, None, "2.2 bar"),
        (2.2063223338138758, D.PRESSURE, 2, "2.21 bar"),
        (48.0, D.LENGTH, 1, "48.0 mm"),
        (0.65, D.SHARE, None, "65 %"),
        (0.07, D.SHARE, 0, "7 %"),
        (3, D.COUNT, None, "3"),
        (65, D.HARDNESS, None, "65 Shore A"),
        (-0.0, D.LENGTH, None, "0 mm"),
        (-0.04, D.LENGTH, 1, "0.0 mm"),
        (1500.0, D.LENGTH, None, "1500 mm"),
        (None, D.LENGTH, None, "unknown"),
    ],
)
def test_how_a_value_is_printed(value: float | None, dimension: Dimension, decimals: int | None, text: str) -> None:
    assert format_quantity(value, dimension, decimals) == text


@pytest.mark.parametrize("value", [nan, inf, -inf])
def test_no_text_is_made_of_what_is_not_finite(value: float) -> None:
    with pytest.raises(QuantityError, match="that can be written"):
        format_quantity(value, D.LENGTH)


class Reading(BaseModel):
    length: Length
    pressure: Pressure = Quantity(D.PRESSURE)
    share: Share = Quantity(D.SHARE)
    plies: Count = Quantity(D.COUNT)
    hardness: Hardness = Quantity(D.HARDNESS)


def test_a_model_takes_text_and_gives_it_back() -> None:
    given = {"length": '1 7/8"', "pressure": "32 psi", "share": 0.65, "plies": 3, "hardness": 62.5}
    model = Reading.model_validate(given)
    assert model.length.value == 47.625
    assert model.plies.value == 3.0
    written = model.model_dump(mode="json")
    assert written == {**given, "share": "0.65", "plies": "3", "hardness": "62.5"}
    assert Reading.model_validate(json.loads(model.model_dump_json())) == model
    assert Reading(length=Quantity.of(3, D.LENGTH)).length.text == "3 mm"
    assert Reading.model_validate({"length": "unknown"}).length.is_unknown


@pytest.mark.parametrize(
    "wrong",
    [
        {"length": 48},
        {"length": None},
        {"length": ["48 mm"]},
        {"length": Quantity.of(3, D.PRESSURE)},
        {"length": "3 mm", "plies": True},
        {"length": "3 mm", "plies": 2.5},
        {"length": "3 mm", "hardness": nan},
        {"length": "3 mm", "share": inf},
        {"length": "3 mm", "share": 65},
    ],
)
def test_a_model_refuses_what_is_not_written_as_a_quantity(wrong: dict[str, object]) -> None:
    with pytest.raises(ValidationError) as caught:
        Reading.model_validate(wrong)
    assert caught.value.error_count() == 1


def test_the_schema_shows_how_to_write() -> None:
    schema = Reading.model_json_schema()["properties"]
    assert schema["length"]["type"] == "string"
    assert schema["length"]["examples"] == ["48 mm", "1 7/8 in", "unknown"]
    assert "kept in mm" in schema["length"]["description"]
    assert schema["plies"]["type"] == ["string", "number"]
    assert Reading.model_json_schema(mode="serialization")["properties"]["length"]["type"] == "string"
