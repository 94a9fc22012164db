"""A real terminal to type at: the command runs behind a pseudo-terminal, an emulator draws its screen."""

import os
import sys
from pathlib import Path

import pexpect
import pyte

PROMPT = "> "
PATIENCE = 60  # s for one answer, on a machine that is busy


class Terminal:
    """`mendbook` with some arguments in a terminal of so many columns and lines."""

    def __init__(self, *arguments: str, columns: int, lines: int, folder: Path) -> None:
        settings = {k: v for k, v in os.environ.items() if k not in ("COLUMNS", "LINES", "NO_COLOR", "FORCE_COLOR")}
        self._screen = pyte.HistoryScreen(columns, lines, history=5000)
        self._stream = pyte.ByteStream(self._screen)
        self.child = pexpect.spawn(
            sys.executable, ["-m", "mendbook", *arguments],
            dimensions=(lines, columns), cwd=folder, timeout=PATIENCE, env={**settings, "TERM": "xterm"},
        )  # fmt: skip
        self.wait()

    @property
    def screen(self) -> list[str]:
        """What is on the screen now, without the blanks at the ends of its lines."""
        return [line.rstrip() for line in self._screen.display]

    @property
    def text(self) -> str:
        """Everything that was printed, what scrolled away as well, in one line."""
        gone = ("".join(row[place].data for place in sorted(row)) for row in self._screen.history.top)
        return " ".join(" ".join([*gone, *self.screen]).split())

    @property
    def is_waiting(self) -> bool:
        """Whether the cursor stands behind a prompt."""
        cursor = self._screen.cursor
        return self._screen.display[cursor.y].rstrip() == PROMPT.rstrip() and cursor.x == len(PROMPT)

    def say(self, answer: str) -> None:
        """Type an answer and wait for the next prompt, or for the end."""
        self.child.sendline(answer)
        self.wait()

    def interrupt(self) -> None:
        """Press Ctrl-C."""
        self.child.sendintr()
        self.wait()

    def end_input(self) -> None:
        """Press Ctrl-D."""
        self.child.sendeof()
        self.wait()

    def hang_up(self) -> None:
        """Close the terminal itself, and wait for the program to end."""
        self.child.ptyproc.fileobj.close()
        self.child.ptyproc.closed = self.child.closed = True
        self.child.ptyproc.wait()

    def wait(self) -> None:
        """Draw what comes until a prompt stands at the cursor, or the program ends."""
        while True:
            try:
                self._stream.feed(self.child.read_nonblocking(size=65536, timeout=PATIENCE))
            except pexpect.EOF:
                self.child.close()
                return
            if self.is_waiting:
                return

    @property
    def status(self) -> int | None:
        """The exit code, None while it runs."""
        return self.child.exitstatus
