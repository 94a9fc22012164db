"""A log that grows while it is followed: on a terminal, in a pipe, and through all that happens to a file."""

import json
import os
import signal
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from pathlib import Path

import pexpect
import pyte
import pytest

EXAMPLE = "through_60_mm"
PATIENCE = 60.0  # s, on a machine that is busy
pytestmark = pytest.mark.filterwarnings("ignore:This process.*is multi-threaded:DeprecationWarning")


@pytest.fixture
def lines(root: Path) -> list[str]:
    return (root / f"examples/cure/{EXAMPLE}.csv").read_text(encoding="utf-8").splitlines(keepends=True)


@pytest.fixture
def order(root: Path) -> str:
    return str(root / f"examples/cure/{EXAMPLE}.order")


class Display:
    """The command behind a pseudo-terminal, its screen drawn by an emulator."""

    def __init__(self, *arguments: str, columns: int = 80, lines: int = 24) -> None:
        settings = {k: v for k, v in os.environ.items() if k not in ("COLUMNS", "LINES", "NO_COLOR", "FORCE_COLOR")}
        self._screen = pyte.Screen(columns, lines)
        self._stream = pyte.ByteStream(self._screen)
        self.child = pexpect.spawn(
            sys.executable, ["-m", "mendbook", *arguments],
            dimensions=(lines, columns), timeout=PATIENCE, env={**settings, "TERM": "xterm"},
        )  # fmt: skip

    @property
    def text(self) -> str:
        return " ".join(" ".join(self._screen.display).split())

    def wait_for(self, *words: str) -> str:
        """Draw what comes until all of `words` are on the screen together."""
        end = time.monotonic() + PATIENCE
        while time.monotonic() < end:
            try:
                self._stream.feed(self.child.read_nonblocking(65536, timeout=0.5))
            except pexpect.TIMEOUT:
                pass
            except pexpect.EOF:
                break
            if all(word in self.text for word in words):
                return self.text
        raise AssertionError(f"{words} not seen on:\n{self.text}")

    def finish(self) -> str:
        """Draw the rest, until the program has ended."""
        while True:
            try:
                self._stream.feed(self.child.read_nonblocking(65536, timeout=PATIENCE))
            except pexpect.EOF:
                self.child.close()
                return self.text


@pytest.fixture
def display() -> Iterator[Callable[..., Display]]:
    opened: list[Display] = []

    def open_one(*arguments: str, **size: int) -> Display:
        opened.append(Display(*arguments, **size))
        return opened[-1]

    yield open_one
    for one in opened:
        one.child.close(force=True)


@pytest.mark.parametrize(("columns", "height"), [(80, 24), pytest.param(60, 24, marks=pytest.mark.long)])
def test_a_terminal_shows_where_it_stands_while_it_grows(
    columns: int, height: int, display: Callable[..., Display], order: str, lines: list[str], tmp_path: Path
) -> None:
    log = tmp_path / "log.csv"
    at = display("cure", order, "--log", str(log), "--follow", "--every", "0.3", columns=columns, lines=height)
    at.wait_for("is not there. Waiting for it")
    log.write_text("".join(lines[:2]), encoding="utf-8")
    at.wait_for("has no readings yet")
    log.write_text("".join(lines[:20]), encoding="utf-8")
    at.wait_for("WARMING UP", "to go")
    with log.open("a", encoding="utf-8") as file:
        file.write("".join(lines[20:80]))
        file.write(lines[80][:25])  # half a line, as it is being written
    at.wait_for("HEATING", "Switch off", "Slowest")
    with log.open("a", encoding="utf-8") as file:
        file.write(lines[80][25:] + "".join(lines[81:170]))
    at.wait_for("POWER CUT", "no heat. Once it is back", "Ctrl-C ends.")
    at.child.sendintr()
    left = at.finish()
    assert at.child.exitstatus == 130
    assert "Traceback" not in left
    assert "POWER CUT" in left


def test_a_pipe_gets_a_line_for_each_time_the_log_has_grown(order: str, lines: list[str], tmp_path: Path) -> None:
    log = tmp_path / "log.csv"
    log.write_text("".join(lines[:100]), encoding="utf-8")
    child = subprocess.Popen(
        [sys.executable, "-m", "mendbook", "cure", order, "--log", str(log), "--follow", "--every", "0.2", "--json"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8",
    )  # fmt: skip
    assert child.stdout
    try:
        first = json.loads(child.stdout.readline())
        log.write_text("".join(lines[:60]), encoding="utf-8")  # cut short: nothing is forgotten, nothing new
        time.sleep(0.5)
        rotated = "".join(lines[:2]) + "".join(lines[100:120])
        other = tmp_path / "new.csv"
        other.write_text(rotated, encoding="utf-8")
        other.replace(log)
        second = json.loads(child.stdout.readline())
        child.send_signal(signal.SIGINT)
        rest, errors = child.communicate(timeout=PATIENCE)
    finally:
        child.kill()
    assert first["lines"] == 98
    assert second["lines"] == 118
    assert second["minutes_logged"] == first["minutes_logged"] + 10
    assert rest == ""
    assert errors == ""
    assert child.returncode == 130


def test_a_pipe_gets_one_plain_line_and_a_reader_that_leaves_ends_it(
    order: str, lines: list[str], tmp_path: Path
) -> None:
    log = tmp_path / "log.csv"
    log.write_text("".join(lines[:100]), encoding="utf-8")
    child = subprocess.Popen(
        [sys.executable, "-m", "mendbook", "cure", order, "--log", str(log), "--follow", "--every", "0.2"],
        stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True, encoding="utf-8",
    )  # fmt: skip
    assert child.stdout
    assert child.stderr
    try:
        assert "heating: " in child.stdout.readline()
        child.stdout.close()
        with log.open("a", encoding="utf-8") as file:
            file.write("".join(lines[100:110]))
        assert child.wait(timeout=PATIENCE) == 130
        assert child.stderr.read() == ""
    finally:
        child.kill()
        child.stderr.close()
