import json
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from tests.cli.test_orders import ORDER


@pytest.fixture
def order(tmp_path: Path) -> Path:
    file = tmp_path / "order.json"
    file.write_text(json.dumps(ORDER), encoding="utf-8")
    return file


def test_an_order_gives_a_report(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", str(order)]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    assert captured.out.splitlines()[0] == "an invented order"
    assert captured.out.splitlines()[2].startswith("CURE ")
    assert "\nCautions\n" in captured.out


def test_the_json_is_the_sheet(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", str(order), "--json"]) == 0
    sheet = json.loads(capsys.readouterr().out)
    assert sheet["case"] == "an invented order"
    assert sheet["minutes_from_switch_on"] > 0


def test_the_edge_is_checked_when_it_is_asked_for(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pads = {**ORDER["outside"], "heated": {"length_mm": 300, "width_mm": 300}}
    told = {**ORDER, "outside": pads, "inside": pads, "injury": {"length_mm": 180, "width_mm": 200}}
    order.write_text(json.dumps(told), encoding="utf-8")
    assert run(["cure", str(order), "--edge"]) == 0
    said = " ".join(capsys.readouterr().out.split())
    assert "Edge Overlap by rule" in said
    assert "Along the width alone, outside 50 mm and inside 50 mm past the injury: by rule" in said
    assert run(["cure", str(order), "--edge", "--json"]) == 0
    assert {way["way"] for way in json.loads(capsys.readouterr().out)["edge"]["ways"]} == {"length", "width"}


def test_a_pad_too_small_is_one_error(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pads = {**ORDER["outside"], "heated": {"length_mm": 100, "width_mm": 100}}
    told = {**ORDER, "outside": pads, "inside": pads, "injury": {"length_mm": 99, "width_mm": 99}}
    order.write_text(json.dumps(told), encoding="utf-8")
    assert run(["cure", str(order)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    said = " ".join(captured.err.split())
    assert said.startswith(f"error: {order}: the outside heated area of 100 x 100 mm is too small for an injury of")
    assert said.count("error: ") == 1


def test_a_bad_order_is_one_error(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    order.write_text(json.dumps({**ORDER, "clamp_bar": 200}), encoding="utf-8")
    assert run(["cure", str(order)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    said = " ".join(captured.err.split())
    assert said.startswith(f"error: {order}:1: clamp_bar: 200 bar is not between 0 and 20 bar.")


def test_an_order_that_never_cures_is_one_error(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    pad = {"heating_rate_C_min": 6, "setpoint_C": 80}
    layer = {**ORDER["layers"][0], "thickness_mm": 290}
    order.write_text(
        json.dumps({**ORDER, "target": 10, "layers": [layer], "outside": pad, "inside": pad}), encoding="utf-8"
    )
    assert run(["cure", str(order)]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    said = " ".join(captured.err.split())
    assert said.startswith(f"error: {order}: after 72 h of heating")
    assert said.count("error: ") == 1
    assert "Traceback" not in captured.err


def test_advice_is_a_part_of_the_report(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", str(order), "--advice", "--shift", "6"]) == 0
    captured = capsys.readouterr()
    assert captured.err == ""
    said = " ".join(captured.out.split())
    for words in ("Advice (", "In 6 h safe:", "What if", "Last word"):
        assert words in said


def test_the_json_holds_advice_where_it_was_asked_for(order: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", str(order), "--json", "--advice"]) == 0
    advice = json.loads(capsys.readouterr().out)["advice"]
    assert advice["shift_hours"] == 8
    assert advice["what_ifs"]
    assert run(["cure", str(order), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["advice"] is None


def test_figures_get_advice_too(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", "--thickness", "40 mm", "--ambient", "15 °C", "--advice"]) == 0
    assert "Last word" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("options", "words"),
    [
        (["--shift", "8"], "it belongs to the advice. Write '--advice --shift 8'."),
        (["--advice", "--shift", "0.5"], "0.5 h is not between 1 and 72 h"),
        (["--advice", "--shift", "nan"], "nan h is not between 1 and 72 h"),
        (["--advice", "--shift", "long"], "Invalid value for '--shift'"),
    ],
)
def test_a_shift_that_cannot_be_is_one_error(
    order: Path, options: list[str], words: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["cure", str(order), *options]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert words in " ".join(captured.err.split())
    assert "Traceback" not in captured.err
