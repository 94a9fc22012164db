import pytest
from rich.console import RenderableType
from rich.text import Text

from mendbook.cli.screen import show, write


def bold(width: int) -> RenderableType:
    return Text(f"{width} columns [red]", style="bold")


def test_a_pipe_gets_plain_text_and_a_terminal_gets_emphasis(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("FORCE_COLOR", "NO_COLOR", "TTY_COMPATIBLE"):
        monkeypatch.delenv(name, raising=False)
    monkeypatch.setenv("TERM", "xterm-256color")
    monkeypatch.setenv("COLUMNS", "72")
    show(bold)
    assert capsys.readouterr().out == "72 columns [red]\n"
    monkeypatch.setenv("FORCE_COLOR", "1")
    show(bold)
    assert capsys.readouterr().out == "\x1b[1m72 columns [red]\x1b[0m\n"


@pytest.mark.parametrize(("columns", "width"), [("20", 40), ("60", 60), ("300", 100)])
def test_a_page_is_neither_too_narrow_nor_too_wide(
    columns: str, width: int, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("COLUMNS", columns)
    show(bold)
    assert capsys.readouterr().out.startswith(f"{width} columns")


def test_text_ends_in_one_line_break(capsys: pytest.CaptureFixture[str]) -> None:
    write("one")
    write("two\n")
    assert capsys.readouterr().out == "one\ntwo\n"
