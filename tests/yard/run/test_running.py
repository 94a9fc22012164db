"""A review gives the same bytes whoever does its parts, and however often it is interrupted."""

import csv
import json
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import polars as pl
import pytest

from mendbook.yard.batch import Batch
from mendbook.yard.review import Reviewed
from mendbook.yard.run import LostRowsError, Progress, RunError
from mendbook.yard.run.fault import Interrupted
from mendbook.yard.run.job import Job
from mendbook.yard.run.running import run_job
from mendbook.yard.run.sums import Sums, count
from tests.yard.run.yards import Yard, judge, judge_twice, lose_a_row, options, with_a_fault, written

YARD = Yard(45)
NAMES = ("out.parquet", "out.quarantine.csv", "out.summary.json")


class Stopping:
    """Judges so many parts, and then fails."""

    def __init__(self, parts: int, error: type[BaseException] = ValueError) -> None:
        self.parts, self.error, self.asked = parts, error, 0

    def __call__(self, batch: Batch) -> Reviewed:
        self.asked += 1
        if self.asked > self.parts:
            raise self.error("enough")
        return judge(batch)


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    output = tmp_path_factory.mktemp("whole") / "out.parquet"
    run_job(YARD, judge, output, options())
    return written(output)


def test_every_row_is_accounted_for_in_the_order_of_the_sheet(tmp_path: Path) -> None:
    outcome = run_job(YARD, judge, tmp_path / "out.parquet", options())
    decisions = pl.read_parquet(tmp_path / "out.parquet")
    quarantined = pl.read_csv(tmp_path / "out.quarantine.csv")
    assert sorted([*decisions["row"], *quarantined["row"]]) == list(range(2, 2 + YARD.rows))
    assert decisions["row"].is_sorted()
    sums = outcome.sums
    assert (sums.rows, sums.undecided) == (YARD.rows, decisions.filter(outcome="hold").height)
    assert sums.decided == decisions.height - sums.undecided
    assert sums.quarantined == quarantined.height > 0
    assert sums.outcomes == dict(sorted(decisions["outcome"].value_counts().iter_rows()))
    assert json.loads((tmp_path / "out.summary.json").read_bytes()) == outcome.summary
    assert outcome.summary["rows"] == YARD.rows
    assert set(written(tmp_path / "out.parquet")) == {*NAMES}
    assert (outcome.parts, outcome.resumed) == (5, 0)


def test_the_quarantine_says_what_to_write_instead(tmp_path: Path) -> None:
    run_job(YARD, judge, tmp_path / "out.csv", options())
    with (tmp_path / "out.quarantine.csv").open(encoding="utf-8-sig", newline="") as file:
        first = next(csv.DictReader(file))
    assert first == {
        "row": "18", "tag": "T10", "column": "service.speed",
        "what is wrong, and what to write instead": "'fast' is no speed; 'x, y'",
    }  # fmt: skip


def test_lists_are_one_cell_of_a_csv(tmp_path: Path) -> None:
    run_job(YARD, judge, tmp_path / "out.csv", options())
    found = pl.read_csv(tmp_path / "out.csv").filter(outcome="hold")["held by"].unique().to_list()
    assert found == ["rule/one; rule/two"]


def test_several_processes_give_the_same_bytes(tmp_path: Path, whole: dict[str, bytes]) -> None:
    seen: list[Progress] = []
    run_job(YARD, judge, tmp_path / "out.parquet", options(workers=2), seen.append)
    assert written(tmp_path / "out.parquet") == whole
    assert [one.done for one in seen] == sorted({one.done for one in seen})
    assert seen[-1].done == seen[-1].rows == YARD.rows
    assert seen[-1].left == 0.0
    assert seen[0].rate > 0.0


@pytest.mark.parametrize("name", ["out.parquet", "out.csv", "out.xlsx"])
def test_an_interrupted_review_goes_on_where_it_stopped(tmp_path: Path, name: str) -> None:
    output, other = tmp_path / "a" / name, tmp_path / "b" / name
    for path in (output, other):
        path.parent.mkdir()
    run_job(YARD, judge, other, options())
    with pytest.raises(ValueError, match="enough"):
        run_job(YARD, Stopping(2), output, options())
    assert not output.exists()
    going_on = Stopping(99)
    outcome = run_job(YARD, going_on, output, options())
    assert going_on.asked == 3
    assert outcome.resumed == sum(rows for rows, _ in zip(_rows_of_parts(), range(2), strict=False))
    assert written(output) == written(other)


def _rows_of_parts() -> Iterator[int]:
    for batch in YARD.batches(10):
        found = judge(batch)
        yield found.decisions.height + found.quarantined.height


def test_ctrl_c_says_what_is_kept(tmp_path: Path, whole: dict[str, bytes]) -> None:
    output = tmp_path / "out.parquet"
    with pytest.raises(
        Interrupted, match=r"interrupted\. The parts that are finished are kept in .*out\.parquet\.parts"
    ):
        run_job(YARD, Stopping(1, KeyboardInterrupt), output, options())
    run_job(YARD, judge, output, options())
    assert written(output) == whole


def test_another_review_does_not_go_on_with_its_parts(tmp_path: Path) -> None:
    output = tmp_path / "out.parquet"
    with pytest.raises(ValueError, match="enough"):
        run_job(YARD, Stopping(2), output, options())
    with pytest.raises(RunError) as refusal:
        run_job(YARD, judge, output, options(law="us", digest="xyz"))
    said = str(refusal.value)
    assert "rulebook: abc before, xyz now; law: by country before, us now" in said
    assert "--fresh" in said
    again = Stopping(99)
    run_job(YARD, again, output, options(law="us", digest="xyz", fresh=True))
    assert again.asked == 5


def test_an_input_that_changed_is_told_by_its_file(tmp_path: Path) -> None:
    sheet = tmp_path / "yard.csv"
    sheet.write_text("a")
    with pytest.raises(ValueError, match="enough"):
        run_job(YARD, Stopping(2), tmp_path / "out.parquet", options(inputs=(sheet,)))
    sheet.write_text("b")
    with pytest.raises(RunError, match=r"input 1: yard\.csv, 1 bytes, changed .* before, yard\.csv"):
        run_job(YARD, judge, tmp_path / "out.parquet", options(inputs=(sheet,)))


def test_an_input_that_changed_in_secret_is_told_by_its_cells(tmp_path: Path) -> None:
    output = tmp_path / "out.parquet"
    with pytest.raises(ValueError, match="enough"):
        run_job(YARD, Stopping(2), output, options())
    with pytest.raises(RunError, match="part 1 of the sheet is not what was reviewed"):
        run_job(replace(YARD, salt=" "), judge, output, options())


def test_a_part_that_is_spoilt_is_done_again(tmp_path: Path, whole: dict[str, bytes]) -> None:
    output = tmp_path / "out.parquet"
    with pytest.raises(ValueError, match="enough"):
        run_job(YARD, Stopping(3), output, options())
    parts = tmp_path / "out.parquet.parts"
    (parts / "part-000000" / "decisions.parquet").write_bytes(b"PAR1")
    (parts / "part-000001" / "sums.json").write_text("{")
    again = Stopping(99)
    run_job(YARD, again, output, options())
    assert again.asked == 4
    assert written(output) == whole


def test_what_exists_is_replaced_only_when_asked(tmp_path: Path, whole: dict[str, bytes]) -> None:
    output = tmp_path / "out.parquet"
    (tmp_path / "out.summary.json").write_text("of another")
    with pytest.raises(RunError, match=r"out\.summary\.json: this exists\. Name another output, or --force"):
        run_job(YARD, judge, output, options())
    assert set(written(output)) == {"out.summary.json"}
    run_job(YARD, judge, output, options(force=True))
    assert written(output) == whole


def test_two_reviews_do_not_write_the_same_output(tmp_path: Path) -> None:
    output = tmp_path / "out.parquet"

    def begin_another(batch: Batch) -> Reviewed:
        with pytest.raises(RunError, match="another review is at work on this output"):
            run_job(YARD, judge, output, options(fresh=True, force=True))
        return judge(batch)

    run_job(YARD, begin_another, output, options())
    assert set(written(output)) == {*NAMES}


@pytest.mark.parametrize("job", [lose_a_row, judge_twice])
def test_a_row_that_is_lost_stops_the_review(tmp_path: Path, job: Job) -> None:
    with pytest.raises(LostRowsError, match="This is a fault of the program"):
        run_job(YARD, job, tmp_path / "out.parquet", options())
    assert not (tmp_path / "out.parquet").exists()


def test_a_row_that_the_sheet_never_gave_stops_the_review(tmp_path: Path) -> None:
    class Longer(Yard):
        @property
        def rows(self) -> int:
            return super().rows + 1

    with pytest.raises(LostRowsError, match=f"the sheet has {YARD.rows + 1} rows, and {YARD.rows} were reviewed"):
        run_job(Longer(45), judge, tmp_path / "out.parquet", options())
    assert not (tmp_path / "out.parquet").exists()


def test_a_row_without_a_tyre_counts_in_quarantine() -> None:
    batch = with_a_fault(next(YARD.batches(10)))
    found = judge(batch)
    lost = pl.DataFrame({"row": [999], "tag": [None], "column": ["tag"], "words": ["no tag"]})
    both = replace(found, quarantined=pl.concat([found.quarantined, lost], how="vertical_relaxed"))
    sums = count(batch, both, "part 1")
    assert sums.rows == found.decisions.height + sums.quarantined
    with pytest.raises(LostRowsError):
        count(batch, found, "part 1")


def test_sums_add_up() -> None:
    one, other = Sums(3, 1, 1, 1, {"hold": 1, "serve": 1}), Sums(2, 2, 0, 0, {"reject": 2})
    assert one + other == Sums(5, 3, 1, 1, {"hold": 1, "reject": 2, "serve": 1})


def test_a_yard_where_nothing_can_be_judged_still_has_its_quarantine(tmp_path: Path) -> None:
    def set_aside(batch: Batch) -> Reviewed:
        found = judge(batch)
        rows = found.decisions.select("row", "tag", pl.lit("").alias("column"), pl.lit("no").alias("words"))
        return replace(
            found, decisions=found.decisions.clear(), quarantined=pl.concat([found.quarantined, rows]).sort("row")
        )

    for name in ("out.parquet", "out.csv", "out.xlsx"):
        outcome = run_job(YARD, set_aside, tmp_path / name, options(force=True))
        assert outcome.sums == Sums(YARD.rows, 0, 0, YARD.rows)
    assert pl.read_parquet(tmp_path / "out.parquet").height == 0
