"""A cure from a few figures, without a tyre or an order."""

import json
from pathlib import Path

import pytest
import yaml

from mendbook.cli.entry import run
from mendbook.cure import compute
from mendbook.terms.cure_order import CureOrder

WALL = ["cure", "--thickness", "74 mm", "--ambient", "5 °C"]


def sheet(capsys: pytest.CaptureFixture[str], *options: str) -> dict[str, object]:
    assert run([*WALL, *options, "--json"]) == 0
    return json.loads(capsys.readouterr().out)


def refused(capsys: pytest.CaptureFixture[str], *words: str) -> str:
    assert run(["cure", *words]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "Traceback" not in captured.err
    assert captured.err.count("error: ") == 1
    return " ".join(captured.err.split())


def test_a_repairer_needs_a_thickness_and_a_thermometer(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(WALL) == 0
    said = capsys.readouterr().out
    assert said.splitlines()[0] == "a wall of 74 mm"
    assert "CURE " in said
    assert "\nWhat the order rests on\n" in said
    assert "mendbook triage" in said
    assert "How sure" in said
    assert "\nCautions\n" in said


def test_a_saved_order_gives_the_same_sheet(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "wall.yaml"
    options = ("--reinforcement", "8 mm", "--casing", "30 mm", "--cord", "steel", "--setpoint", "125 °C")
    by_hand = sheet(capsys, *options, "--save", str(file))
    assert run(["cure", str(file), "--json"]) == 0
    assert json.loads(capsys.readouterr().out) == by_hand
    read = CureOrder.model_validate(yaml.safe_load(file.read_text(encoding="utf-8")))
    assert [layer.name for layer in read.layers] == ["fill", "gum", "casing", "gum", "reinforcement"]
    assert sum(layer.thickness_mm for layer in read.layers) == 74
    assert compute(read).minutes_from_switch_on == by_hand["minutes_from_switch_on"]


def test_inches_and_degrees_fahrenheit_are_the_same_wall(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", "--thickness", "2 in", "--ambient", "68 °F", "--setpoint", "284 °F", "--json"]) == 0
    inches = json.loads(capsys.readouterr().out)
    assert run(["cure", "--thickness", "50.8 mm", "--ambient", "20 °C", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["minutes_from_switch_on"] == inches["minutes_from_switch_on"]


def test_an_error_of_the_tape_widens_the_band(capsys: pytest.CaptureFixture[str]) -> None:
    spans = []
    for thickness in ("74 ± 1 mm", "74 ± 8 mm"):
        assert run(["cure", "--thickness", thickness, "--ambient", "5 °C", "--json"]) == 0
        band = json.loads(capsys.readouterr().out)["band"]["minutes"]
        spans.append(band["high"] - band["low"])
    assert spans[0] < spans[1]


def test_a_range_is_read_at_the_end_that_takes_longer(capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["cure", "--thickness", "70 to 74 mm", "--ambient", "5 to 15 °C", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["minutes_from_switch_on"] == sheet(capsys)["minutes_from_switch_on"]


def test_options_change_what_they_name(capsys: pytest.CaptureFixture[str]) -> None:
    usual = sheet(capsys)["minutes_from_switch_on"]
    assert sheet(capsys, "--preheated")["minutes_from_switch_on"] < usual
    assert sheet(capsys, "--rate", "2")["minutes_from_switch_on"] > usual
    assert sheet(capsys, "--tyre", "-10 °C")["minutes_from_switch_on"] > usual
    assert sheet(capsys, "--faces", "inside", "--covered", "--setpoint", "150 °C")["minutes_from_switch_on"] > usual
    assert sheet(capsys, "--schedule", "economy")["schedule"] == "economy"
    assert sheet(capsys, "--cooling", "fan")["target"] == 1.25
    assert sheet(capsys, "--moisture", "dry", "--pressure", "30 psi")["porosity"]["ok"]
    assert sheet(capsys, "--altitude", "3000 m")["release_C"] == 90
    assert sheet(capsys, "--fill", "fill rubber, low reversion")["outside"]["limit"] == 10
    assert sheet(capsys, "--draws", "20")["band"]["drawn"]["draws"] == 20


def test_a_compound_of_ones_own_is_read_from_its_file(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "ours.yaml"
    file.write_text(
        "compound: our fill (invented)\nmeans: an example\nt90: 6 min\nreference temperature: 150 °C\n"
        "activation energy: 92 kJ/mol\nface limit: 8 x t90\nbasis: two cure curves, invented\n",
        encoding="utf-8",
    )
    ours = sheet(capsys, "--fill", str(file))
    assert ours["minutes_from_switch_on"] < sheet(capsys)["minutes_from_switch_on"]
    assert "two cure curves, invented" in json.dumps(ours)


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ((), "from an order or from a thickness"),
        (("--thickness", "74"), "--thickness: '74'"),
        (("--thickness", "unknown"), "Measure it"),
        (("--thickness", "74 bar"), "--thickness: 74 bar is a pressure"),
        (("--thickness", "9 mm", "--reinforcement", "8 mm"), "--thickness: 9 mm is the whole wall between the pads"),
        (("--thickness", "74 mm", "--fill", "fil rubber"), "Did you mean 'fill rubber'?"),
        (("--thickness", "74 mm", "--fill", "none.yaml"), "none.yaml"),
        (("--thickness", "74 mm", "--setpoint", "300 °C"), "300 °C is not between 80 and 200 °C"),
        (("--thickness", "74 mm", "--altitude", "90000 m"), "make no cure order: 90000 m is not between"),
        (("--thickness", "740 mm"), "make no cure order"),
        (("--thickness", "74 mm", "--save", "no/such/folder.yaml"), "there is no folder"),
        (("order.yaml", "--thickness", "74 mm"), "from an order or from a thickness"),
        (("order.yaml", "--ambient", "5 °C"), "--ambient: an order says this itself"),
        (("--thickness", "290 mm", "--setpoint", "80 °C"), "this wall: after 72 h of heating"),
    ],
)
def test_bad_figures_are_one_error(words: tuple[str, ...], said: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert said in refused(capsys, *words)
