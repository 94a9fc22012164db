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
