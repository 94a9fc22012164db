"""A week chosen from a reviewed yard, on the command line. Yard and prices are invented."""

import json
from pathlib import Path
from shutil import copy
from typing import Any

import polars as pl
import pytest

from mendbook.cli.entry import run

YARD = Path(__file__).parents[2] / "examples" / "yard"
PRICES = str(YARD / "three_sites.prices")


@pytest.fixture(scope="module")
def decisions(tmp_path_factory: pytest.TempPathFactory) -> str:
    folder = tmp_path_factory.mktemp("yard")
    sheet = Path(copy(YARD / "three_sites.csv", folder / "yard.csv"))
    assert run(["review", str(sheet)]) == 0
    return str(sheet.with_name("yard.review.csv"))


@pytest.fixture
def week(decisions: str, capsys: pytest.CaptureFixture[str]) -> Any:
    def choose(*options: str) -> dict[str, Any]:
        assert run(["week", decisions, "--money", PRICES, "--json", *options]) == 0
        found: dict[str, Any] = json.loads(capsys.readouterr().out)
        return found

    return choose


def test_every_tyre_is_a_job_or_is_left_out_with_a_reason(week: Any, decisions: str) -> None:
    told = week("--bench-hours", "40")
    rows = pl.read_csv(decisions, infer_schema_length=None)
    left_out = sum(one["tyres"] for one in told["left_out"])
    assert len(told["jobs"]) + left_out == rows.get_column("tyre").n_unique()
    repairable = set(rows.filter(pl.col("outcome") == "repair").get_column("tag"))
    assert {job["tag"] for job in told["jobs"]} <= repairable
    assert any(one["why"].startswith("stopped") for one in told["left_out"])
    assert any(one["why"].startswith("rejected") for one in told["left_out"])


def test_it_is_ranked_by_value_an_hour_and_keeps_within_the_bench(week: Any) -> None:
    told = week("--bench-hours", "12", "--kit", "flexible pads=14 h")
    hours = [job["labour_hours"] + job["watching_hours"] for job in told["jobs"]]
    rates = [job["value"] / spent for job, spent in zip(told["jobs"], hours, strict=True)]
    assert rates == sorted(rates, reverse=True)
    taken = [job for job in told["jobs"] if job["is_chosen"]]
    assert 0 < len(taken) < len(told["jobs"])
    assert told["hours_used"] <= 12.0
    assert told["kit_used"]["flexible pads"] <= 14.0
    assert told["value"] == pytest.approx(sum(job["value"] for job in taken))
    assert told["greedy_value"] <= told["value"] <= told["bound"] + 0.01
    assert told["is_proven"]


def test_no_hours_are_no_repairs_and_more_hours_never_cost(week: Any) -> None:
    values = [week("--bench-hours", hours)["value"] for hours in ("0", "10", "20")]
    assert values[0] == 0.0
    assert values == sorted(values)


def test_the_page_says_what_how_good_and_why_not(decisions: str, capsys: pytest.CaptureFixture[str]) -> None:
    out = Path(decisions).with_name("week.csv")
    assert run(["week", decisions, "--bench-hours", "40", "--money", PRICES, "--out", str(out)]) == 0
    page = " ".join(capsys.readouterr().out.split())
    for said in ("proven by the solver", "By value per bench hour", "Left out", "house default", "40.0 bench hours"):
        assert said in page
    assert pl.read_csv(out).columns[:3] == ["rank", "tag", "this week"]


def test_money_in_the_yards_own_sheet_counts_and_changes_no_decision(
    tmp_path: Path, decisions: str, capsys: pytest.CaptureFixture[str]
) -> None:
    yard = pl.read_csv(YARD / "three_sites.csv", infer_schema=False)
    sheet = tmp_path / "yard.csv"
    priced = yard.with_columns(
        pl.lit("12345.67").alias("money.new price"),
        pl.when(pl.col("tag") == "FH-000003").then(pl.lit("no idea")).otherwise(pl.lit("700")).alias("repair price"),
    )
    priced.write_csv(sheet)
    assert run(["review", str(sheet)]) == 0
    anew = sheet.with_name("yard.review.csv")
    assert anew.read_text(encoding="utf-8") == Path(decisions).read_text(encoding="utf-8")
    capsys.readouterr()
    assert run(["week", str(anew), "--bench-hours", "40", "--money", PRICES, "--json"]) == 0
    told = json.loads(capsys.readouterr().out)
    unread = next(one for one in told["left_out"] if one["why"].startswith("prices that cannot be read"))
    assert unread["tags"] == ["FH-000003"]
    assert "repair price: 'no idea'" in unread["why"]


@pytest.mark.parametrize(
    ("options", "says"),
    [
        (["--bench-hours", "40", "--kit", "flexible pad=3 h"], "Did you mean 'flexible pads'?"),
        (["--bench-hours", "40", "--kit", "flexible pads"], "write the kit and its hours"),
        (["--bench-hours", "40", "--kit", "flexible pads=3 km"], "this field is a duration"),
        (["--bench-hours", "-3"], "Invalid value for '--bench-hours'"),
        (["--bench-hours", "40", "--money", "nowhere.yaml"], "there is no such file"),
        ([], "Missing option '--bench-hours'"),
    ],
)
def test_bad_options_get_one_error(
    options: list[str], says: str, decisions: str, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(["week", decisions, *options]) == 2
    assert says in " ".join(capsys.readouterr().err.split())


def test_a_review_without_plans_cannot_fill_a_week(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    sheet = Path(copy(YARD / "three_sites.csv", tmp_path / "yard.csv"))
    assert run(["review", str(sheet), "--quick"]) == 0
    capsys.readouterr()
    assert run(["week", str(sheet.with_name("yard.review.csv")), "--bench-hours", "40"]) == 2
    assert "review the yard again with --full" in " ".join(capsys.readouterr().err.split())
