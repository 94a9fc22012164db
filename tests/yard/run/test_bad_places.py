"""Where nothing can be written: one error that says what to do, and what is done is kept."""

import errno
import gc
import os
import resource
import subprocess
import warnings
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

from mendbook.yard.run import RunError
from mendbook.yard.run.running import run_job
from tests.yard.run.yards import Yard, judge, options, written

YARD, PARTS = Yard(600), 6
SMALL = options(tyres_a_part=100)
FULL = "no room is left there. Make room, and give the same command again."


@contextmanager
def largest_file(size: int) -> Iterator[None]:
    """Let no file grow beyond `size` bytes: what a disk does that runs full, and nobody needs to be root for it."""
    soft, hard = resource.getrlimit(resource.RLIMIT_FSIZE)
    resource.setrlimit(resource.RLIMIT_FSIZE, (size, hard))
    try:
        yield
    finally:
        resource.setrlimit(resource.RLIMIT_FSIZE, (soft, hard))


@pytest.mark.parametrize("name", ["out.parquet", "out.csv", "out.xlsx"])
@pytest.mark.parametrize("parts", [0, PARTS])  # that find room; then there is none for what is put together of them
def test_a_full_disk(tmp_path: Path, name: str, parts: int) -> None:
    output, other = tmp_path / "a" / name, tmp_path / "b" / name
    for path in (output, other):
        path.parent.mkdir()
    run_job(YARD, judge, other, SMALL)
    with pytest.raises(RunError) as refusal, largest_file(other.stat().st_size - 1 if parts else 1_000):
        run_job(YARD, judge, output, SMALL)
    said = str(refusal.value)
    assert FULL in said
    assert "finished are kept in" in said
    del refusal
    with warnings.catch_warnings():
        warnings.simplefilter("ignore", ResourceWarning)
        gc.collect()  # a workbook that fails leaves its scratch files to the collector
    assert not output.exists()
    assert len([*output.with_name(f"{name}.parts").glob("part-??????")]) == parts
    run_job(YARD, judge, output, SMALL)
    assert written(output) == written(other)


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    place = tmp_path / "small"
    place.mkdir()
    made = subprocess.run(["mount", "-t", "tmpfs", "-o", "size=96k", "none", place], capture_output=True, check=False)
    if made.returncode:
        pytest.skip("only root may mount a small disk")
    yield place
    subprocess.run(["umount", place], check=True)


def test_a_disk_that_runs_full(small_disk: Path, tmp_path: Path) -> None:
    with pytest.raises(RunError, match=r"no room is left there.*finished are kept"):
        run_job(YARD, judge, small_disk / "out.parquet", SMALL)
    done = len([*(small_disk / "out.parquet.parts").glob("part-??????")])
    assert 0 < done < PARTS
    subprocess.run(["mount", "-o", "remount,size=4m", small_disk], check=True)
    outcome = run_job(YARD, judge, small_disk / "out.parquet", SMALL)
    assert outcome.resumed > 0
    (tmp_path / "whole").mkdir()
    run_job(YARD, judge, tmp_path / "whole" / "out.parquet", SMALL)
    assert written(small_disk / "out.parquet") == written(tmp_path / "whole" / "out.parquet")


def test_a_folder_that_is_not_yours(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    if os.geteuid():
        tmp_path.chmod(0o500)
    else:  # root may write everywhere

        def refuse(path: Path, **_: object) -> None:
            raise PermissionError(errno.EACCES, "Permission denied", str(path))

        monkeypatch.setattr(Path, "mkdir", refuse)
    with pytest.raises(RunError, match=r"you may not write there\. Name an output in a folder of yours"):
        run_job(YARD, judge, tmp_path / "out.parquet", options())


def test_a_folder_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(RunError, match="there is no such folder"):
        run_job(YARD, judge, tmp_path / "no" / "out.parquet", options())


def test_an_output_that_is_a_folder_or_of_no_kind(tmp_path: Path) -> None:
    with pytest.raises(RunError, match=r"this is a folder\. Name a file in it"):
        run_job(YARD, judge, tmp_path, options())
    with pytest.raises(RunError, match=r"its ending must say what to write: \.parquet, \.csv, \.xlsx"):
        run_job(YARD, judge, tmp_path / "out.pdf", options())


def test_an_input_that_is_not_there(tmp_path: Path) -> None:
    with pytest.raises(RunError, match=r"no\.csv: this cannot be read"):
        run_job(YARD, judge, tmp_path / "out.parquet", options(inputs=(tmp_path / "no.csv",)))


def test_a_file_of_somebody_else_in_the_folder_of_parts_stays(tmp_path: Path) -> None:
    theirs = tmp_path / "out.parquet.parts" / "notes.txt"
    theirs.parent.mkdir()
    theirs.write_text("mine")
    run_job(Yard(20), judge, tmp_path / "out.parquet", options())
    assert [*theirs.parent.iterdir()] == [theirs]
