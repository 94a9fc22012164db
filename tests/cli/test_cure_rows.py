import csv
import io
import json
from pathlib import Path
from typing import Any

import pytest
import yaml

from mendbook.cli.entry import run
from mendbook.cli.order_lists import read_orders
from mendbook.cli.orders import read_order
from mendbook.cure import compute
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.document import parse_document
from tests.cli.test_orders import ORDER

GOOD = {**ORDER, "case": "A, the first"}
ECONOMY = {**ORDER, "case": "B", "schedule": "economy"}
NEVER = {
    **ORDER, "case": "C", "target": 10, "layers": [{**ORDER["layers"][0], "thickness_mm": 290}],
    "outside": {"heating_rate_C_min": 6, "setpoint_C": 80}, "inside": {"heating_rate_C_min": 6, "setpoint_C": 80},
}  # fmt: skip
BAD = {**ORDER, "case": "D", "clamp_bar": 200}


def write_lines(file: Path, *orders: object) -> Path:
    file.write_text("".join(f"{o if isinstance(o, str) else json.dumps(o)}\n" for o in orders), encoding="utf-8")
    return file


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_every_order_gets_a_row_in_its_place(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = write_lines(tmp_path / "orders.jsonl", GOOD, "", BAD, NEVER, "{rubbish", ECONOMY, GOOD)
    assert run(["cure", str(file), "--batch"]) == 2
    captured = capsys.readouterr()
    found = rows(captured.out)
    assert [row["line"] for row in found] == ["1", "3", "4", "5", "6", "7"]
    assert [row["case"] for row in found] == ["A, the first", "", "C", "", "B", "A, the first"]
    assert [bool(row["fault"]) for row in found] == [False, True, True, True, False, False]
    assert found[1]["fault"].startswith(f"{file}:3: clamp_bar: 200 bar is not between 0 and 20 bar.")
    assert found[2]["fault"].startswith("after 72 h of heating 'fill'")
    assert found[3]["fault"].startswith(f"{file}:5: ")
    assert found[0] | {"line": "7"} == found[5]
    said = " ".join(captured.err.split())
    assert said.startswith("caution: Rows hold figures alone.")
    assert "error: 3 of 6 orders have no cure time." in said


def test_a_row_says_what_the_sheet_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", str(write_lines(tmp_path / "orders.jsonl", GOOD, ECONOMY)), "--batch", "--json"]) == 0
    found = [json.loads(line) for line in capsys.readouterr().out.splitlines()]
    for row, written in zip(found, (GOOD, ECONOMY), strict=True):
        sheet = compute(CureOrder.model_validate(written))
        assert row["schedule"] == sheet.schedule
        assert row["minutes_from_switch_on"] == pytest.approx(sheet.minutes_from_switch_on, rel=0.005, abs=0.1)
        assert row["slowest_layer"] == sheet.slowest.layer
        assert sheet.outside is not None
        assert row["outside_ok"] == sheet.outside.ok
        assert row["layers"][0]["most"] == pytest.approx(sheet.layers[0].most, rel=0.02)
        assert row["clamp_ok"] == sheet.porosity.ok
        assert row["fault"] is None


@pytest.mark.parametrize("begin", ["", "\n\n# invented\n"])
def test_a_list_in_yaml_is_welcome(begin: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "orders.yaml"
    file.write_text(
        begin + yaml.safe_dump(json.loads(json.dumps([GOOD, BAD, "text"])), sort_keys=False), encoding="utf-8"
    )
    assert run(["cure", str(file), "--batch"]) == 2
    found = rows(capsys.readouterr().out)
    lines = file.read_text(encoding="utf-8").splitlines()
    assert found[0]["case"] == "A, the first"
    assert found[1]["line"] == str(lines.index("- case: D") + 1)
    at = next(n for n, line in enumerate(lines, 1) if "clamp_bar: 200" in line)
    assert found[1]["fault"].startswith(f"{file}:{at}: clamp_bar: 200 bar")
    assert found[2]["fault"] == f"{file}:{len(lines)}: this is no order. Write its fields as 'name: value'."


def test_a_list_in_json_is_welcome(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "orders.json"
    file.write_text(json.dumps([GOOD, ECONOMY], indent=1), encoding="utf-8")
    assert run(["cure", str(file), "--batch"]) == 0
    assert [row["schedule"] for row in rows(capsys.readouterr().out)] == ["safe", "economy"]


@pytest.mark.parametrize(
    ("text", "fault"),
    [
        ("", "the file is empty. Write one order a line, as JSON."),
        ("case: one\n", "this is no list of orders."),
        ("[]\n", "this is no list of orders."),
        ("- a: [\n", "orders:2: this is not YAML"),
    ],
)
def test_what_holds_no_orders_is_one_error(
    text: str, fault: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "orders"
    file.write_text(text, encoding="utf-8")
    assert run(["cure", str(file), "--batch"]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert fault in " ".join(captured.err.split())


def test_a_file_that_is_not_there_is_one_error(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name, fault in ((tmp_path / "none", "there is no such file"), (tmp_path, "this is a folder")):
        assert run(["cure", str(name), "--batch"]) == 2
        assert fault in " ".join(capsys.readouterr().err.split())


@pytest.mark.parametrize("more", [["--save", "x.yaml"], ["--draws", "5"], ["--ambient", "5 °C"]])
def test_rows_go_with_nothing_else(more: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", str(write_lines(tmp_path / "orders", GOOD)), "--batch", *more]) == 2
    assert capsys.readouterr().out == ""


ODD: list[Any] = [
    '{"case": 117, "clamp_bar": "2.0"}', '{"case": true}', '{"case": null}', '{"clamp_bar": true}',
    '{"clamp_bar": NaN}',
    '{"clamp_bar": 1, "clamp_bar": 2}', '{"release_C": 1e2}', '{"rationale": ["a", null]}',
    '{"rationale": [true, "b"]}',
    '{"": 1}', '{"<<": 1}', '{"case": "\\u00fc"}',
]  # fmt: skip


@pytest.mark.parametrize("odd", ODD)
def test_the_short_way_reads_as_the_long_one(odd: str, tmp_path: Path) -> None:
    """A line of plain JSON must mean what the reader of documents says it means."""
    text = json.dumps({key: value for key, value in ORDER.items() if f'"{key}"' not in odd})
    line = text[:-1] + ", " + odd[1:]
    try:
        wanted = read_order(parse_document(line, "orders"))
    except ValueError:
        wanted = None
    (found,) = read_orders(str(write_lines(tmp_path / "orders", line)))
    assert found.order == wanted
    assert bool(found.fault) == (wanted is None)
