"""A process that is killed for real, at any moment, leaves what is whole, and nobody at work; no byte is another."""

import os
import signal
import subprocess
import sys
import time
from pathlib import Path

import pytest

from mendbook.yard.run.running import run_job
from tests.yard.run.process import TYRES
from tests.yard.run.yards import Yard, judge, options, written

PARTS = 8
MOVES = 1 + PARTS + 3  # the manifest, the parts, the three files of the output


@pytest.fixture(scope="module")
def whole(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    output = tmp_path_factory.mktemp("whole") / "out.parquet"
    run_job(Yard(TYRES), judge, output, options(tyres_a_part=5))
    return written(output)


def begin(output: Path, *asked: str) -> subprocess.Popen[str]:
    path = os.pathsep.join(sys.path)
    return subprocess.Popen(
        [sys.executable, "-m", "tests.yard.run.process", str(output), *asked],
        env=os.environ | {"PYTHONPATH": path}, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        start_new_session=True,
    )  # fmt: skip


def killed_at(output: Path, move: int, workers: int = 1) -> None:
    with begin(output, str(workers), str(move)) as process:
        assert process.wait(60) == -signal.SIGKILL


def go_on(output: Path) -> int:
    return run_job(Yard(TYRES), judge, output, options(tyres_a_part=5)).resumed


# Before the manifest has its name; before the third part has; before the last of the three files has.
@pytest.mark.parametrize("move", [1, 4, MOVES])
def test_it_goes_on_after_kill_9(tmp_path: Path, move: int, whole: dict[str, bytes]) -> None:
    output = tmp_path / "out.parquet"
    killed_at(output, move)
    assert not output.exists()
    resumed = go_on(output)
    assert (resumed > 0) == (move > 2)
    assert written(output) == whole


@pytest.mark.long
@pytest.mark.parametrize("workers", [1, 2])
@pytest.mark.parametrize("move", range(1, MOVES + 1))
def test_it_goes_on_after_kill_9_anywhere(tmp_path: Path, move: int, workers: int, whole: dict[str, bytes]) -> None:
    output = tmp_path / "out.parquet"
    killed_at(output, move, workers)
    killed_at(output, min(2, move), workers)  # and again while it goes on
    go_on(output)
    assert written(output) == whole


def of_session(session: int) -> list[int]:
    """Return the processes of `session` that are still there, the dead who wait to be counted left out."""
    found = []
    for entry in Path("/proc").glob("[0-9]*"):
        try:
            fields = (entry / "stat").read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[3]) == session and fields[0] != "Z":
            found.append(int(entry.name))
    return found


def wait_until_gone(session: int) -> None:
    end = time.monotonic() + 20.0
    while of_session(session):
        assert time.monotonic() < end, "a process works on though nobody waits for it"
        time.sleep(0.05)


def wait_for_parts(output: Path, process: subprocess.Popen[str]) -> None:
    end = time.monotonic() + 60.0
    while not [*output.with_name("out.parquet.parts").glob("part-??????")]:
        assert time.monotonic() < end, "no part was ever finished"
        assert process.poll() is None
        time.sleep(0.02)


@pytest.mark.skipif(not Path("/proc/self/stat").exists(), reason="processes are looked up in /proc")
@pytest.mark.parametrize("how", [signal.SIGKILL, signal.SIGINT])
def test_no_process_is_left_behind(tmp_path: Path, how: signal.Signals, whole: dict[str, bytes]) -> None:
    output = tmp_path / "out.parquet"
    with begin(output, "2", "0", "slowly") as process:
        wait_for_parts(output, process)
        if how is signal.SIGINT:
            os.killpg(process.pid, how)  # as a terminal does: everybody hears it
        else:
            process.send_signal(how)
        said, complaint = process.communicate(timeout=30)
    wait_until_gone(process.pid)
    if how is signal.SIGINT:
        assert process.returncode == 2
        assert said.startswith("interrupted. The parts that are finished are kept in")
        assert complaint == ""
    assert not output.exists()
    assert go_on(output) > 0
    assert written(output) == whole
