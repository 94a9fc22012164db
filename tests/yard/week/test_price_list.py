"""What a price list says of a tyre, and one clear error where it cannot be read."""

import json
from pathlib import Path

import pytest
import yaml

from mendbook.cli.schemas import open_vocabulary
from mendbook.folders import folder
from mendbook.yard.week import WeekError, read_labour, read_price_columns, read_price_list

VOCABULARY = open_vocabulary()
LIST = """\
money:
  currency: EUR
  fitting: 420
  new price: 9000
by size:
  26.5R25: {new price: 7400 ± 5 %, new life: 6000 h}
by class:
  spot: {repair price: 380.50}
  section: {repair price: 1900 to 2000}
"""


def written(tmp_path: Path, text: str = LIST) -> Path:
    file = tmp_path / "prices.yaml"
    file.write_text(text, encoding="utf-8")
    return file


def test_the_nearer_figure_counts_and_repairs_are_added_up(tmp_path: Path) -> None:
    prices = read_price_list(written(tmp_path), VOCABULARY)
    money = prices.money("26.5 r25", ["spot", "section", "leave"], {}, VOCABULARY)
    assert (str(money.new_price), str(money.fitting)) == ("7400 ± 5 %", "420")
    assert money.repair_price is not None
    assert (money.repair_price.value, *(money.repair_price.bounds or ())) == (2330.5, 2280.5, 2380.5)
    other = prices.money("17.5R25", ["spot"], {"new price": "2400"}, VOCABULARY)
    assert (str(other.new_price), str(other.repair_price)) == ("2400", "380.5")
    own = prices.money("17.5R25", ["spot", "spot"], {"repair price": "99"}, VOCABULARY)
    assert str(own.repair_price) == "99"
    assert prices.money("17.5R25", ["reinforce"], {}, VOCABULARY).repair_price is None


@pytest.mark.parametrize(
    ("old", "new", "line", "says"),
    [
        ("new price: 9000", "new price: -9", 4, "'-9' is below zero"),
        ("7400 ± 5 %", "7,400", 6, "'400' stands behind a comma inside braces"),
        ("9000", "9,000", 4, "may be 9000 or 9.000"),
        ("  spot: {", "  spott: {", 8, "'spott' is no repair class"),
        ("380.50}", "380.50, fitting: 3}", 8, "by class there is a 'repair price' and nothing else"),
        ("by size:", "by sise:", 5, "Did you mean 'by size'?"),
        ("  currency: EUR\n", "", 1, "amounts without a currency mean nothing"),
    ],
)
def test_a_price_list_at_fault_is_refused_with_its_line(
    tmp_path: Path, old: str, new: str, line: int, says: str
) -> None:
    file = written(tmp_path, LIST.replace(old, new))
    with pytest.raises(WeekError) as refused:
        read_price_list(file, VOCABULARY)
    assert str(refused.value).startswith(f"{file}:{line}: ")
    assert says in str(refused.value)


def test_columns_of_money_are_read_by_tag_and_others_left_alone(tmp_path: Path) -> None:
    sheet = tmp_path / "yard.csv"
    sheet.write_text("tag;money.new price;Repair Price;colour\nA;7400;380;red\nA;7400;;red\nB;;99;\nA;7500;;\n")
    found = read_price_columns([sheet], VOCABULARY)
    assert found == {
        "A": {"new price": frozenset({"7400", "7500"}), "repair price": frozenset({"380"})},
        "B": {"repair price": frozenset({"99"})},
    }


def test_the_money_of_whole_cases_is_read_as_its_columns_are(tmp_path: Path, root: Path) -> None:
    case = yaml.load((root / "examples/quarry/loader_worth.yaml").read_text(encoding="utf-8"), yaml.BaseLoader)
    sheet = tmp_path / "cases.jsonl"
    sheet.write_text(json.dumps(case), encoding="utf-8")
    (money,) = read_price_columns([sheet], VOCABULARY).values()
    assert money == {name: frozenset({cell}) for name, cell in case["money"].items()}


def test_labour_by_class_width_and_place() -> None:
    # House defaults; no publication gives them.
    labour = read_labour(folder("knowledge"))
    assert labour.of("section", "W5", "upper sidewall", has_rust=False) == 12.0
    assert labour.of("section", "W5", "shoulder", has_rust=True) == pytest.approx(12.0 * 1.25 * 1.15)
    assert labour.of("section", "W4", "shoulder", has_rust=False) == 10.0
    assert labour.of("leave", "W1", "bead", has_rust=True) == 0.0
    assert labour.of("section", "W8", "shoulder", has_rust=False) is None
    assert labour.watching == 0.5
