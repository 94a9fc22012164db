"""`mendbook curve`: files as instruments and people write them, and bad ones refused in one sentence."""

import json
from pathlib import Path

import numpy as np
import pytest
import yaml

from mendbook.cli.curve_file import CurveFileError, parse_curve
from mendbook.cli.entry import run
from mendbook.plan.substances import read_compounds
from mendbook.terms.cure_wall import Compound
from tests.cure.curves import sigmoid

EXAMPLES = Path(__file__).resolve().parents[2] / "examples" / "cure"
PAIR = [str(EXAMPLES / "fill_batch_140.csv"), str(EXAMPLES / "fill_batch_155.csv")]
TIME = np.arange(0, 40, 0.5)
TORQUE = sigmoid()(TIME)


def curve(heading: str = "time [min];torque [dN m]", between: str = ";", mark: str = ".", time: float = 1.0,
          torque: float = 1.0, above: str = "# temperature: 150 °C\n") -> str:  # fmt: skip
    """Return a curve as a file, its figures divided by the units `time` [min] and `torque` [dN m]."""
    rows = (f"{t / time:.5f}{between}{m / torque:.5f}" for t, m in zip(TIME, TORQUE, strict=True))
    return f"{above}{heading}\n" + "\n".join(row.replace(".", mark) for row in rows) + "\n"


def read(written: str, at: float | None = None, encoding: str = "utf-8") -> tuple[np.ndarray, np.ndarray, float]:
    found = parse_curve(written.encode(encoding), "batch.csv", at).readings
    return found.time, found.torque, float(np.median(found.temperature))


LBF_IN = 4.4482216152605 * 0.0254 * 10  # dN m, exact: pound-force and inch as defined


@pytest.mark.parametrize(
    "written",
    [
        curve(),
        curve("time [min],torque [dN m]", ","),
        curve(mark=","),
        curve('"time, min","torque, dNm"', ","),
        curve("Time (s)\tS' (dNm)\tS'' (dNm)", "\t", time=1 / 60),
        curve("time_s;torque_dNm", time=1 / 60),
        curve("elapsed time / h;elastic torque / N m", time=60, torque=10),
        curve("time min;torque lbf in", torque=LBF_IN),
        curve("Test time [min];Torque S' [lb-in]".replace(" S'", ""), torque=LBF_IN),
        curve("time [min];torque [kgf·cm]", torque=0.980665),
        curve("time;torque\nmin;dN m"),
        curve("time;torque\n[s];[dN.m]", time=1 / 60),
        curve(above="laboratory sheet;;\ndie temp. [°C];150;\n\n"),
        curve(above="Temperature = 302 °F\n"),
        curve(above="test temperature\t423.15 K\n"),
        curve() + ";\n# the end\n\n",
    ],
)
def test_a_curve_reads_as_people_and_instruments_write_it(written: str) -> None:
    time, torque, temperature = read(written)
    assert time == pytest.approx(TIME, abs=1e-3)
    assert torque == pytest.approx(TORQUE, abs=1e-4)
    assert temperature == pytest.approx(150)


@pytest.mark.parametrize("encoding", ["cp1252", "utf-16", "utf-8-sig"])
def test_a_degree_sign_reads_in_any_usual_encoding(encoding: str) -> None:
    assert read(curve(), encoding=encoding)[2] == 150


def test_a_column_of_temperature_is_the_temperature() -> None:
    rows = "\n".join(f"{t:.2f};{m:.3f};{302 + (t > 20):.1f}" for t, m in zip(TIME, TORQUE, strict=True))
    found = parse_curve(f"time [min];torque [dN m];temperature [°F]\n{rows}".encode(), "batch.csv").readings
    assert isinstance(found.temperature, np.ndarray)
    assert found.temperature[[0, -1]] == pytest.approx([150, 150 + 5 / 9])


NAKED = curve(above="")


@pytest.mark.parametrize(
    ("written", "said"),
    [
        (NAKED, "batch.csv: nothing says at which temperature the test was. Write 'batch.csv@150 °C'"),
        ("", "batch.csv: no heading names time and torque. Write a first line such as 'time [min];torque [dN m]'."),
        (curve("minutes;value"), "batch.csv: no heading names time and torque."),
        (curve("time [min];force"), "batch.csv:2: this heading names time, but no torque."),
        (curve("time;torque [dN m]"), "batch.csv:2: column 1: the time has no unit. Write 'time [min]' or 'time [s]'."),
        (curve("time [min];torque"), "batch.csv:2: column 2: the torque has no unit. Write 'torque [dN m]' or"),
        (curve("time [min];torque [kN]"), "batch.csv:2: column 2: 'kN' is no unit of torque I know."),
        (curve("time [mm];torque [dN m]"), "batch.csv:2: column 1: the time is in 'mm'. Write 'time [min]'"),
        (curve("time [ticks];torque [dN m]"), "batch.csv:2: column 1: the time: 'ticks' is not a unit I know."),
        (curve() + "40;a\n", "batch.csv:83: column 2, torque: 'a' is not a number. Write plain figures, or delete"),
        (curve() + "40;nan\n", "batch.csv:83: column 2, torque: 'nan' is not a number."),
        (curve() + "40\n", "batch.csv:83: column 2, torque: nothing is written. Write plain figures"),
        (curve() + "1.000,5;3\n", "batch.csv:83: column 1, time: '1.000,5' is not a number."),
        (curve() + "40,5;3,2\n", "batch.csv:83: decimals are written with a point here and with a comma elsewhere"),
        (curve() + "40;3;4\n", "batch.csv:83: there are 3 values for 2 headings. Delete what is too much."),
        (curve("time [min],torque [dN m]", ",", ","), "there are 4 values for 2 headings. Between commas, write dec"),
        (curve(above="temperature: 150\n"), "batch.csv:1: temperature: '150' has no unit"),
        ("\0\0", "batch.csv: there is a NUL byte: this is no text file."),
        ("x" * 1_000_001, "batch.csv: the file is longer than 1,000,000 bytes. Keep one test in one file."),
    ],
)
def test_a_file_that_cannot_be_read_is_refused_with_line_and_column(written: str, said: str) -> None:
    with pytest.raises(CurveFileError) as refused:
        read(written)
    assert said in str(refused.value)
    assert "\n" not in str(refused.value)


def test_a_temperature_given_must_agree_with_that_in_the_file() -> None:
    assert read(curve(), at=150.5)[2] == 150
    with pytest.raises(CurveFileError, match=r"the file says 150 °C, and you say 160 °C. Correct the one"):
        read(curve(), at=160)


def told(capsys: pytest.CaptureFixture[str], *arguments: str, status: int = 0) -> str:
    assert run(["curve", *arguments]) == status
    captured = capsys.readouterr()
    if status:
        assert captured.out == ""
        assert captured.err.count("error: ") == 1
        assert "Traceback" not in captured.err
        return " ".join(captured.err.split())
    assert captured.err == ""
    return captured.out


def test_a_pair_gives_a_report_and_entries_that_read_back(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    out = told(capsys, *PAIR, "--compound", "fill, batch 7")
    assert out.startswith("BATCH         t90 ")
    assert all(len(row) <= 80 for row in out.splitlines())
    kept, ordered = (out.partition(title)[2].partition("\n\n")[0] for title in ("file of its own\n", "cure order\n"))
    (tmp_path / "batch.yaml").write_text("\n".join(row[4:] for row in kept.splitlines()), encoding="utf-8")
    shelf = read_compounds(tmp_path, ["fill, batch 7"])["fill, batch 7"]
    order = Compound(**yaml.safe_load("\n".join(row[4:] for row in ordered.splitlines()))["compound"])
    assert shelf == order
    assert order.activation_kJ_mol == pytest.approx(94, abs=2)


def test_the_json_is_the_report_and_its_compound_the_same(capsys: pytest.CaptureFixture[str]) -> None:
    told_as_data = json.loads(told(capsys, *PAIR, "--json"))
    assert [one["kind"] for one in told_as_data["curves"]] == ["peak", "peak"]
    assert told_as_data["compound"]["name"] == "fill rubber"
    assert "sha256" in told_as_data["compound"]["basis"]
    assert len(told_as_data["curves"][0]["digest"]) == 64


def test_the_temperature_may_stand_behind_the_file_or_an_option(
    capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "naked.csv"
    file.write_text(NAKED, encoding="utf-8")
    named = tmp_path / "odd@home.csv"
    named.write_text(NAKED + "40;15.4\n", encoding="utf-8")
    for arguments in ([f"{file}@150 °C"], [f"{file}@302 °F"], [str(file), "--at", "150 °C"],
                      [f"{named}", "--at", "150 °C"], [f"{named}@150 °C"]):  # fmt: skip
        assert json.loads(told(capsys, *arguments, "--json"))["curves"][0]["temperature_C"] == 150
    taken = json.loads(told(capsys, f"{file}@150 °C", "--activation", "101", "--json"))["kinetics"]
    assert (taken["how"], taken["activation_kJ_mol"]) == ("given", 101)


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (["{}@150"], "@150: '150' has no unit"),
        (["{}@hot"], "hot"),
        (["{}@140 to 150 °C"], "'140 to 150 °C' is no single temperature. Write one"),
        (["{}"], "nothing says at which temperature"),
        (["{}@20 °C"], "the temperature of the test: 20 °C is not between 80 and 220 °C"),
        (["{}@150 °C", "{}@160 °C"], "the same readings stand in"),
        (["{}@150 °C", "--activation", "900"], "--activation: 900 kJ/mol is not between 20 and 250"),
        (["none.csv"], "none.csv: there is no such file."),
    ],
)
def test_what_cannot_be_used_is_one_error(
    arguments: list[str], said: str, capsys: pytest.CaptureFixture[str], tmp_path: Path
) -> None:
    file = tmp_path / "naked.csv"
    file.write_text(NAKED, encoding="utf-8")
    assert said in told(capsys, *(one.format(file) for one in arguments), status=2)


def test_a_reading_at_fault_is_named_by_its_line(capsys: pytest.CaptureFixture[str], tmp_path: Path) -> None:
    file = tmp_path / "bad.csv"
    file.write_text(curve() + "3;15.4\n", encoding="utf-8")
    assert f"{file}:83: the time does not rise: 3 min follows 39.5 min" in told(capsys, str(file), status=2)
