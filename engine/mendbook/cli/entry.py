"""The way in and out: encoding, exit codes, interrupts."""

import gc
import os
import sys
from collections.abc import Sequence

import typer

from mendbook.cli.commands import app
from mendbook.cli.refusals import REFUSED, RefusalError, complain
from mendbook.cli.screen import prepare_streams

INTERRUPTED = 130  # 128 + SIGINT, as shells count


def main() -> None:
    """Run `mendbook` with the arguments of the process and leave with its exit code."""
    # The matrices are small: a second thread of the linear algebra library only waits for the first.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    # A command builds what it needs once and leaves: looking for garbage meanwhile costs a twentieth of its time.
    gc.disable()
    sys.exit(run(sys.argv[1:]))


def run(arguments: Sequence[str]) -> int:
    """Run one command and return its exit code: 0 done, 1 a check failed, 2 bad input, 130 interrupted."""
    prepare_streams()
    try:
        status = app(args=list(arguments), prog_name="mendbook", standalone_mode=False)
    except RefusalError as refusal:
        complain(str(refusal))
        return REFUSED
    except typer.TyperException as problem:
        complain(f"{problem.format_message()} See 'mendbook --help'.")
        return REFUSED
    except (KeyboardInterrupt, typer.Abort):
        return INTERRUPTED
    return status if isinstance(status, int) else 0
