"""A yard reviewed from the command line, and one of its tyres told in full. The yard is invented."""

import json
from pathlib import Path
from shutil import copy

import polars as pl
import pytest

from mendbook.cli.entry import run

YARD = Path(__file__).parents[2] / "examples" / "yard" / "three_sites.csv"
SOUND = {
    "tag": "{tag}", "valve core": "out", "heat event": "none", "designation": "26.5R25", "construction": "radial",
    "casing": "steel", "use": "off-road", "duty": "loader v-cycle", "position": "not steered", "name": "A",
    "kind": "cut", "reaches": "rubber", "zone": "upper sidewall", "side": "serial side", "length": "50 mm",
    "width": "30 mm", "depth": "9 mm",
}  # fmt: skip
HEADINGS = ",".join(SOUND)


def sound(tag: str) -> str:
    return ",".join(SOUND.values()).format(tag=tag)


@pytest.fixture
def yard(tmp_path: Path) -> Path:
    return Path(copy(YARD, tmp_path / "yard.csv"))


def sheet(tmp_path: Path, *rows: str) -> Path:
    file = tmp_path / "small.csv"
    file.write_text("\n".join([HEADINGS, *rows]) + "\n", encoding="utf-8")
    return file


def test_a_yard_is_reviewed_and_every_row_accounted_for(yard: Path, capsys: pytest.CaptureFixture[str]) -> None:
    page = yard.with_name("page.html")
    assert run(["review", str(yard), "--page", str(page)]) == 0
    captured = capsys.readouterr()
    assert captured.err == f"{yard}: not read: site\n"
    assert "60 rows came in" in captured.out
    assert "They add up; no" in captured.out
    assert "\nCautions\n" in captured.out
    decisions = pl.read_csv(yard.with_name("yard.review.csv"))
    assert decisions.height == 60
    assert {"process", "kit", "cure minutes", "measure next", "decided by"} <= {*decisions.columns}
    sums = json.loads(yard.with_name("yard.review.summary.json").read_text(encoding="utf-8"))
    assert sums["rows"] == sums["decided"] + sums["undecided"] + sums["quarantined"] == 60
    assert page.read_text(encoding="utf-8").startswith("<!DOCTYPE html>")


@pytest.mark.parametrize("ending", ["parquet", "xlsx"])
def test_decisions_are_written_as_the_ending_says(yard: Path, ending: str) -> None:
    out = yard.with_name(f"out.{ending}")
    assert run(["review", str(yard), "--out", str(out), "--quick"]) == 0
    read = pl.read_parquet(out) if ending == "parquet" else pl.read_excel(out)
    assert read.height == 60
    assert "process" not in read.columns


def test_a_tyre_of_the_yard_is_told_as_if_it_were_judged_alone(yard: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = yard.with_name("out.parquet")
    assert run(["review", str(yard), "--out", str(out), "--on", "2026-11-25"]) == 0
    capsys.readouterr()
    rows = pl.read_parquet(out).unique("tag", keep="first", maintain_order=True)
    for row in rows.head(4).iter_rows(named=True):
        assert run(["triage", "--from", str(out), "--tyre", row["tag"], "--json"]) == 0
        docket = json.loads(capsys.readouterr().out)
        assert docket["outcome"] == row["outcome"]
        assert docket["verdict"] == row["tyre's verdict"]
        assert docket["tyre"]["tag"] == row["tag"]
        told = [f"{look['about']}: {look['fact']}" for look in docket["measure_next"][:3]]
        assert (row["measure next"] or []) == told


def test_a_row_that_cannot_be_judged_is_set_aside_and_the_rest_goes_on(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    bad = sound("B-2").replace("50 mm", "fifty")
    file = sheet(tmp_path, sound("B-1"), bad, sound("B-3"))
    assert run(["review", str(file)]) == 2
    captured = capsys.readouterr()
    assert "1 row is set aside" in captured.err
    assert "Traceback" not in captured.err
    set_aside = pl.read_csv(tmp_path / "small.review.quarantine.csv")
    assert set_aside.get_column("row").to_list() == [3]
    assert set_aside.get_column("tag").to_list() == ["B-2"]
    assert pl.read_csv(tmp_path / "small.review.csv").get_column("tag").to_list() == ["B-1", "B-3"]


def test_output_that_is_there_is_not_replaced(yard: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(["review", str(yard), "--quick"]) == 0
    assert run(["review", str(yard), "--quick"]) == 2
    assert "--force" in capsys.readouterr().err
    assert run(["review", str(yard), "--quick", "--force"]) == 0


def test_a_map_is_saved_corrected_and_given(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    row = sound("B-1")
    file = tmp_path / "small.csv"
    file.write_text("\n".join([HEADINGS.replace("length", "Cut round"), row]) + "\n", encoding="utf-8")
    column_map = tmp_path / "map.yaml"
    assert run(["review", str(file), "--save-map", str(column_map)]) == 0
    assert "Cut round" in capsys.readouterr().out
    text = column_map.read_text(encoding="utf-8")
    column_map.write_text(text.replace("Cut round: unread", "Cut round: {fact: length}"), encoding="utf-8")
    assert run(["review", str(file), "--map", str(column_map), "--quick"]) == 0
    assert pl.read_csv(tmp_path / "small.review.csv").get_column("deciding length").to_list() == [50.0]


def test_a_template_is_a_workbook_that_reads_back(tmp_path: Path) -> None:
    out = tmp_path / "yard.xlsx"
    assert run(["review", "--template", str(out)]) == 0
    headings = pl.read_excel(out, sheet_id=1).columns
    assert "tag" in [heading.casefold() for heading in headings]


def test_two_books_tell_which_tyres_flip(yard: Path, capsys: pytest.CaptureFixture[str]) -> None:
    own = Path(__file__).parents[2] / "shop_books" / "fell_hollow"
    assert run(["review", str(yard), "--against", str(own), "--quick", "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    flips = pl.read_csv(yard.with_name("yard.review.flips.csv"))
    assert told["tyres"] == 40
    assert told["flipped"] == flips.height
    assert run(["review", str(yard), "--against", str(own), "--quick", "--force"]) == 0
    assert "of 40 tyres" in capsys.readouterr().out


def test_earlier_repairs_on_a_map_are_judged_one_by_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = {
        "case": "an invented tyre",
        "tyre": {"tag": "M-1", "designation": "26.5R25", "construction": "radial", "casing": "steel"},
        "found": {"valve core": "out", "heat event": "none"},
        "service": {"use": "off-road", "duty": "loader v-cycle", "position": "not steered"},
        "earlier repairs": [{"name": "old", "class": "section", "side": "serial side", "zone": "upper sidewall"}],
        "injuries": [{"name": "A", "kind": "cut", "reaches": "rubber", "zone": "upper sidewall", "side": "serial side",
                      "length": "50 mm", "width": "30 mm", "depth": "9 mm"}],
    }  # fmt: skip
    file = tmp_path / "cases.jsonl"
    file.write_text(json.dumps(case) + "\n", encoding="utf-8")
    out = tmp_path / "out.parquet"
    assert run(["review", str(file), "--out", str(out)]) == 0
    capsys.readouterr()
    row = pl.read_parquet(out).row(0, named=True)
    alone = tmp_path / "case.json"
    alone.write_text(json.dumps(case), encoding="utf-8")
    assert run(["triage", str(alone), "--json"]) == 0
    docket = json.loads(capsys.readouterr().out)
    assert (row["outcome"], row["tyre's verdict"]) == (docket["outcome"], docket["verdict"])
    assert run(["triage", "--from", str(out), "--tyre", "M-1", "--json"]) == 0
    assert json.loads(capsys.readouterr().out)["verdict"] == docket["verdict"]


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (("review",), "a review needs a sheet"),
        (("review", "nowhere.csv"), "nowhere.csv"),
        (("review", "-"), "--out FILE"),
        (("review", "--template", "yard.csv"), "ending .xlsx"),
        (("triage",), "name a case to judge"),
        (("triage", "case.yaml", "--tyre", "T"), "name a case to judge"),
        (("triage", "--from", "none.csv", "--tyre", "T"), "it is not there"),
        (("triage", "--from", "none.csv", "--tyre", "T", "--law", "us"), "Leave --law and --rulebook out"),
    ],
)
def test_what_cannot_be_done_is_one_error(
    words: tuple[str, ...],
    said: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    monkeypatch.chdir(tmp_path)
    assert run(words) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert said in " ".join(captured.err.split())
    assert captured.err.count("error: ") == 1
    assert "Traceback" not in captured.err


def test_a_sheet_that_changed_since_is_not_told_from(yard: Path, capsys: pytest.CaptureFixture[str]) -> None:
    out = yard.with_name("out.csv")
    assert run(["review", str(yard), "--out", str(out), "--quick"]) == 0
    assert run(["triage", "--from", str(out), "--tyre", "TR-00001"]) == 2
    assert "Did you mean 'TR-0000" in " ".join(capsys.readouterr().err.split())
    yard.write_text(yard.read_text(encoding="utf-8").replace("13 mm", "14 mm"), encoding="utf-8")
    assert run(["triage", "--from", str(out), "--tyre", "TR-000001"]) == 2
    assert "changed since the review" in " ".join(capsys.readouterr().err.split())


def test_a_large_yard_is_told_what_verdicts_alone_leave_out(
    yard: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("mendbook.cli.reviewing.MANY", 10)
    assert run(["review", str(yard)]) == 0
    assert "a repair whose kit is lacking is not held back" in " ".join(capsys.readouterr().err.split())
