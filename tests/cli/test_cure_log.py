"""Logs as people and loggers write them, and what is said of those that cannot be read."""

import json
from pathlib import Path

import numpy as np
import pytest

from mendbook.cli.cure_log import CureLog, EmptyLogError, LogError, parse_log
from mendbook.cli.entry import run
from mendbook.cli.log_splicing import splice
from tests.cli.test_orders import ORDER

WRITTEN = "time [min],outside pad [°C],inside pad [°C],25 mm [°C],pressure [bar]\n0,20,21,20,2.1\n1,26,27,20.5,2.1\n"


def parse(text: str, **meanings: str) -> CureLog:
    return parse_log(text, "log.csv", meanings)


def test_the_usual_log() -> None:
    record = parse(WRITTEN).record()
    assert record.times.tolist() == [0, 60]
    assert record.outside
    assert record.inside
    assert record.pressure
    assert record.outside.readings.tolist() == [20, 26]
    assert record.inside.readings.tolist() == [21, 27]
    assert [sensor.depth for sensor in record.sensors] == [0.025]
    assert record.pressure.readings.tolist() == [2.1, 2.1]


@pytest.mark.parametrize(
    ("heads", "line", "outside", "depth"),
    [
        ("time [s];outside [°C];inside [°C]", "90;20,5;21", 20.5, None),
        ("time (s);outside pad (°F);inside 25 mm (°C)", "0;68;20", 20.0, 0.025),
        ("elapsed h\tOutside °C\tcore 1 in °C", "0.1\t20\t19", 20.0, 0.0254),
        ("date;time;outer pad [C];inner pad [C]", "2026-11-25;07:30:00;20;20", 20.0, None),
        ("timestamp,outside [°C]", "2026-11-25T07:30:00+01:00,20", 20.0, None),
        ("timestamp,outside [°C]", "25.11.2026 07:30:15,20", 20.0, None),
        ("clock,outside [K]", "23:59:30,293.15", 20.0, None),
        ('time [min],outside [°C]', '"0,5","20,0"', 20.0, None),
    ],
)  # fmt: skip
def test_other_ways_to_write_it(heads: str, line: str, outside: float, depth: float | None) -> None:
    record = parse(f"{heads}\n{line}\n").record()
    assert record.outside
    assert record.outside.readings[0] == pytest.approx(outside, abs=1e-6)
    assert [sensor.depth for sensor in record.sensors] == ([pytest.approx(depth)] if depth else [])


def test_units_are_turned_into_ours() -> None:
    log = parse("time [h],outside [°F],pressure [psi]\n0.5,284,30\n")
    record = log.record()
    assert record.outside
    assert record.pressure
    assert log.moments.tolist() == [1800]
    assert record.outside.readings[0] == pytest.approx(140)
    assert record.pressure.readings[0] == pytest.approx(30 * 0.0689476, rel=1e-5)


def test_a_clock_passes_midnight() -> None:
    log = parse("clock;outside [°C]\n23:59:00;20\n00:01:00;22\n")
    assert np.diff(log.moments).tolist() == [120]
    assert log.began == "23:59:00"


def test_columns_may_be_told_by_hand() -> None:
    record = parse("time [min];T1;T2;T3\n0;20;21;22\n", T1="outside pad [°C]", T3="25 mm [°C]").record()
    assert record.outside
    assert record.outside.name == "T1"
    assert [sensor.name for sensor in record.sensors] == ["T3"]
    assert record.inside is None


def test_headings_may_stand_below_what_a_logger_says_of_itself() -> None:
    text = f"# invented\nlogger 4;serial 12\n\n{WRITTEN.replace(',', ';')}"
    assert len(parse(text).moments) == 2


def test_a_last_line_that_is_being_written_is_left_for_the_next_look() -> None:
    assert len(parse(WRITTEN + "2,32,3").moments) == 2
    assert len(parse(WRITTEN + "2,32,33,21,2.1").moments) == 3
    assert len(parse_log(WRITTEN + "2,32,33,21,2", "log.csv", is_growing=True).moments) == 2  # 2, or 2.1?
    assert len(parse(WRITTEN + "2,32,3\n").moments) == 3  # ended: so it is short, and lacks readings


def test_words_in_place_of_a_reading_are_no_reading() -> None:
    record = parse("time [min],outside [°C]\n0,OPEN\n1,\n2,nan\n3,20\n").record()
    assert record.outside
    assert np.isnan(record.outside.readings).tolist() == [True, True, True, False]


def test_lines_that_cannot_be_used_are_counted() -> None:
    log = parse("time [min],outside [°C]\n0,20\n1,21\nlogger restarted,\n2,22\n2,22\n3,23\n")
    [fault] = log.faults
    assert fault.kind == "bad line"
    assert fault.readings == 2
    assert "line 4: 'logger restarted' is no time; line 6: its time is not after the line before" in fault.said


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("outside [°C],inside [°C]\n20,20\n", "log.csv:1: there is no line of headings with a time and a pad."),
        ("time [min],outside\n0,20\n", "log.csv:1: the column 'outside' has no unit."),
        ("time,outside [°C]\n0,20\n", "log.csv:2: the column 'time' has no unit, and its times are plain numbers."),
        ("time [min],25 mm [°C]\n0,20\n", "log.csv:1: no column is a pad"),
        ("time [min],outside [bar]\n0,20\n", "log.csv:1: the column 'outside [bar]' is a temperature, and 'bar'"),
        ("time [min],outside [°Q]\n0,20\n", "log.csv:1: the column 'outside [°Q]': '°Q' is not a unit I know."),
        ("time [min],outside [°C],outer [°C]\n0,20,20\n", "'outside [°C]' and 'outer [°C]' both say outside."),
        ("time [min],outside [°C],9 mm [°C],9 mm [°C]\n0,1,2,3\n", "two columns are headed '9 mm [°C]'"),
        ("time [min],outside [°C]\n0,5,20,5\n", "Where decimals have a comma, put semicolons"),
        ("timestamp,outside [°C]\n11/12/2026 07:30,20\n", "may be day/month or month/day"),
        ("time [min],outside [°C]\nx,20\ny,20\n", "most lines cannot be used; line 2: 'x' is no time"),
    ],
)
def test_what_cannot_be_read_is_one_clear_error(text: str, said: str) -> None:
    with pytest.raises(LogError) as refused:
        parse(text)
    assert said in str(refused.value)


@pytest.mark.parametrize(
    "text", ["", "\n", "time [min],outside [°C]\n", "time [min],outside [°C]\n0,", "time [min],outside [°C]\n0,OPEN\n"]
)
def test_a_log_without_readings_may_have_some_soon(text: str) -> None:
    with pytest.raises(EmptyLogError):
        parse(text)


def minutes(log: CureLog) -> list[float]:
    return (log.moments / 60).tolist()


def grown(*times: float) -> CureLog:
    return parse("time [min],outside [°C]\n" + "".join(f"{time:g},{20 + time:g}\n" for time in times))


def test_a_file_cut_short_forgets_nothing() -> None:
    assert minutes(splice(grown(0, 1, 2), grown(0, 1))) == [0, 1, 2]


def test_a_file_that_goes_on_after_a_rotation_is_joined() -> None:
    assert minutes(splice(grown(0, 1, 2), grown(3, 4))) == [0, 1, 2, 3, 4]
    assert minutes(splice(grown(0, 1, 2), grown(0, 1, 2, 3))) == [0, 1, 2, 3]


def test_a_file_begun_anew_is_told() -> None:
    new = splice(grown(5, 6, 7), grown(0, 1))
    assert minutes(new) == [0, 1]
    assert [fault.kind for fault in new.faults] == ["late start"]


@pytest.fixture
def order(tmp_path: Path) -> Path:
    file = tmp_path / "order.json"
    file.write_text(json.dumps(ORDER), encoding="utf-8")
    return file


def refused(capsys: pytest.CaptureFixture[str], *arguments: str) -> str:
    assert run(["cure", *arguments]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "Traceback" not in captured.err
    assert captured.err.count("error: ") == 1
    return " ".join(captured.err.split())


def test_bad_input_is_one_error(order: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = tmp_path / "log.csv"
    given = (str(order), "--log", str(log))
    assert "it cannot be read: No such file" in refused(capsys, *given)
    assert "--follow and --column go with a log" in refused(capsys, str(order), "--follow")
    assert "this is a folder" in refused(capsys, str(order), "--log", str(tmp_path))
    log.write_text(WRITTEN, encoding="utf-8")
    assert "is not HEADING=MEANING" in refused(capsys, *given, "--column", "T3")
    assert "no column is headed 'T3', as --column says" in refused(capsys, *given, "--column", "T3=9 mm [°C]")
    log.write_text(WRITTEN.replace("25 mm", "250 mm"), encoding="utf-8")
    assert "lies 250 mm deep, and the wall of the order is 45 mm thick" in refused(capsys, *given)
    log.write_bytes(b"PK\x03\x04\x00\x00\x00")
    assert "this is no text. Export the log as CSV" in refused(capsys, *given)
    log.write_text("time [min],outside\n0,20\n", encoding="utf-8")
    assert "has no unit" in refused(capsys, *given)


def test_a_log_in_an_old_code_page_is_read(order: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    log = tmp_path / "log.csv"
    log.write_bytes(WRITTEN.encode("cp1252"))
    assert run(["cure", str(order), "--log", str(log), "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["lines"] == 2
