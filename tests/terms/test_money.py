"""Money as people write it: what is taken, and one clear error for what is not."""

import pytest

from mendbook.cli.schemas import open_vocabulary
from mendbook.terms.case_file import CaseError, check_case
from mendbook.terms.document import parse_document
from mendbook.terms.money import Money
from mendbook.terms.units import Dimension


def read(*lines: str) -> Money:
    written = "".join(f"  {line}\n" for line in lines)
    case = check_case(parse_document(f"case: invented\nmoney:\n{written}", "case.yaml"), open_vocabulary())
    assert case.money is not None
    return case.money


def test_amounts_are_exact_to_the_cent_and_may_have_an_error() -> None:
    money = read("currency: EUR", "new price: 14800 ± 10 %", "repair price: 1960.55", "fitting: 400 to 450,50")
    assert money.new_price is not None
    assert money.new_price.bounds == (13320.0, 16280.0)
    assert money.repair_price is not None
    assert money.repair_price.value == 1960.55
    assert money.fitting is not None
    assert money.fitting.bounds == (400.0, 450.5)


def test_the_case_says_whether_it_counts_hours_or_kilometres() -> None:
    assert read("new life: 6200 h").measure is Dimension.DURATION
    assert read("new life: 60000 km").measure is Dimension.DISTANCE
    assert read("new life: 40000 mi").new_life is not None
    assert read("spare: no").measure is Dimension.DURATION


@pytest.mark.parametrize(
    ("lines", "line", "says"),
    [
        (("currency: EUR", "new price: -5"), 4, "'-5' is below zero, and an amount of money is not."),
        (("currency: EUR", "new price: 0"), 4, "'0' is not possible here. Write more than nothing."),
        (("currency: EUR", "new price: 14,800"), 4, "may be 14800 or 14.800"),
        (("currency: EUR", "new price: 14 800"), 4, "Write the number without a gap"),
        (("currency: EUR", "fitting: 420 EUR"), 4, "an amount is a plain number in the case's currency. Write '420'."),
        (("new price: 14800",), 2, "amounts without a currency mean nothing. Add 'currency: EUR' here."),
        (("currency: euro",), 3, "'euro' is no code of a currency."),
        (("tread ratio: 103 %",), 3, "nothing here is more than 100 %"),
        (("tread ratio: 97 ± 5 %",), 3, "'97 ± 5 %' reaches 102 %"),
        (("tread ratio: 58",), 3, "'58' may be a ratio or per cent."),
        (("early loss: 100 %",), 3, "Write less than 100 %"),
        (("new life: 6200",), 3, "Write hours run or kilometres, such as '6200 h'"),
        (("new life: 6200 furlongs",), 3, "Write hours run or kilometres"),
        (("new life: 2 years",), 3, "is a time of the calendar"),
        (("new life: 0 h",), 3, "a life is longer than nothing"),
        (("new life: 6,200 h",), 3, "may be 6200 or 6.200"),
        (("new life: 6200 h", "mean life: 90000 km"), 4, "Write all lives of a case in hours, or all in km."),
        (("lead time: 10 km",), 3, "this field is a duration"),
        (("spare: maybe",), 3, "Write one of: yes, no, unknown."),
        (("newprice: 5",), 3, "Did you mean 'new price'?"),
        (("new life: [1, 2]",), 3, "is no running life"),
    ],
)
def test_bad_input_gets_one_clear_error(lines: tuple[str, ...], line: int, says: str) -> None:
    with pytest.raises(CaseError) as refused:
        read(*lines)
    told = str(refused.value)
    assert told.startswith(f"case.yaml:{line}: money")
    assert says in told
    assert "\n" not in told


def test_a_comma_inside_braces_is_not_half_a_price() -> None:
    written = "case: invented\nmoney: {currency: EUR, new price: 14,800}\n"
    with pytest.raises(CaseError, match="'800' stands behind a comma inside braces"):
        check_case(parse_document(written, "case.yaml"), open_vocabulary())
