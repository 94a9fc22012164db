import os
import subprocess
import sys
from pathlib import Path

import pytest

import mendbook
from mendbook.cli import entry
from mendbook.cli.entry import run

ENGINE = Path(mendbook.__file__).parents[1]
HEAVY = ("polars", "scipy", "pint", "durable", "pydantic", "yaml", "numpy", "rich")


def python(*arguments: str, **changes: str) -> subprocess.CompletedProcess[bytes]:
    environment = {**os.environ, "PYTHONPATH": str(ENGINE), **changes}
    return subprocess.run([sys.executable, *arguments], capture_output=True, env=environment, timeout=60, check=False)


@pytest.mark.parametrize("arguments", [[], ["--help"], ["-h"]])
def test_help_lists_every_command(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(arguments) == 0
    out = capsys.readouterr().out
    assert out.startswith("Usage: mendbook ")
    for command in ("triage", "cure", "curve", "schema", "new", "version", "rulebook"):
        assert f"\n  {command} " in out
    assert "override" in out


@pytest.mark.parametrize("command", ["triage", "cure", "curve", "schema", "new", "version", "rulebook"])
def test_each_command_explains_itself(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    assert run([command, "--help"]) == 0
    out = capsys.readouterr().out
    assert out.startswith(f"Usage: mendbook {command} ")
    assert "\x1b" not in out


@pytest.mark.parametrize("arguments", [["version"], ["--version"]])
def test_the_version_is_printed(arguments: list[str], capsys: pytest.CaptureFixture[str]) -> None:
    assert run(arguments) == 0
    assert capsys.readouterr().out == f"mendbook {mendbook.__version__}\n"


@pytest.mark.parametrize(
    "arguments", [["triag"], ["triage"], ["schema"], ["new", "--all"], ["triage", "x", "--law", "fr"]]
)
def test_a_command_line_that_cannot_be_understood_is_refused(
    arguments: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert run(arguments) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert captured.err.startswith("error: ")
    assert "Traceback" not in captured.err


def test_an_interrupt_leaves_as_shells_expect(monkeypatch: pytest.MonkeyPatch) -> None:
    def interrupt(**_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(entry, "app", interrupt)
    assert run(["version"]) == 130


def test_a_fault_of_the_program_is_not_dressed_up_as_bad_input(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(**_: object) -> None:
        raise ValueError("a fault")

    monkeypatch.setattr(entry, "app", fail)
    with pytest.raises(ValueError, match="a fault"):
        run(["version"])


def test_the_module_runs_as_the_command_does() -> None:
    done = python("-m", "mendbook", "version")
    assert (done.returncode, done.stdout.split()) == (0, [b"mendbook", mendbook.__version__.encode()])


def test_asking_for_help_imports_nothing_heavy() -> None:
    done = python("-X", "importtime", "-m", "mendbook", "--help")
    imported = {line.split("|")[-1].strip().split(".")[0] for line in done.stderr.decode().splitlines()}
    assert done.returncode == 0
    assert "typer" in imported
    assert imported.isdisjoint(HEAVY)


@pytest.mark.parametrize(
    ("arguments", "unused"),
    [
        (["new"], ("polars", "scipy", "durable", "z3")),
        (["rulebook", "check"], ("durable", "rich", "z3")),  # the caps of the rules are read by units
        (["schema", "case"], ("polars", "scipy", "durable", "rich")),
    ],
)
def test_a_command_imports_only_what_it_uses(arguments: list[str], unused: tuple[str, ...]) -> None:
    done = python("-X", "importtime", "-m", "mendbook", *arguments)
    imported = {line.split("|")[-1].strip().split(".")[0] for line in done.stderr.decode().splitlines()}
    assert done.returncode == 0
    assert imported.isdisjoint(unused)


def test_output_is_utf_8_on_a_machine_with_an_old_code_page() -> None:
    done = python("-X", "utf8=0", "-m", "mendbook", "new", "--full", LC_ALL="C", PYTHONCOERCECLOCALE="0")
    assert done.returncode == 0
    assert "30 °C" in done.stdout.decode("utf-8")


def test_an_encoding_that_the_caller_chose_stays() -> None:
    done = python("-m", "mendbook", "new", "--full", PYTHONIOENCODING="ascii")
    assert done.returncode == 0
    assert b"30 ?C" in done.stdout


def test_a_reader_that_goes_away_is_no_error() -> None:
    command = [sys.executable, "-m", "mendbook", "new", "--full"]
    environment = {**os.environ, "PYTHONPATH": str(ENGINE)}
    with subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, env=environment) as process:
        assert process.stdout is not None
        assert process.stderr is not None
        process.stdout.close()
        said = process.stderr.read()
        assert (process.wait(timeout=60), said) == (0, b"")


INTERRUPTED = """
import os, signal, sys, time
import mendbook.cli.documents as documents
from mendbook.cli.entry import run

def open_document(given):
    os.kill(os.getpid(), signal.SIGINT)
    time.sleep(30)

documents.open_document = open_document
sys.exit(run(["triage", "-"]))
"""


@pytest.mark.skipif(  # the signal that Ctrl-C sends exists on POSIX alone
    os.name == "nt", reason="a process cannot interrupt itself in this way there"
)
def test_control_c_ends_quietly_with_130() -> None:
    done = python("-c", INTERRUPTED)
    assert (done.returncode, done.stdout, done.stderr) == (130, b"", b"")
