"""A review in a process of its own, to be killed: python -m tests.yard.run.process OUTPUT WORKERS [MOVE] [SLOWLY].

MOVE is the number of the renaming before which the process kills itself; nothing is more sudden.
"""

import os
import signal
import sys
from pathlib import Path
from unittest.mock import patch

from mendbook.yard.run import RunError, running, work_folder
from mendbook.yard.run.disk import move
from tests.yard.run.yards import Yard, judge, judge_slowly, options

TYRES = 40


def main(output: str, workers: str, last: str = "0", pace: str = "") -> int:
    done = 0

    def move_or_die(made: Path, place: Path) -> None:
        nonlocal done
        done += 1
        if done == int(last):
            os.kill(os.getpid(), signal.SIGKILL)
        move(made, place)

    job = judge_slowly if pace else judge
    asked = options(workers=int(workers), tyres_a_part=5)
    try:
        with patch.object(running, "move", move_or_die), patch.object(work_folder, "move", move_or_die):
            running.run_job(Yard(TYRES), job, Path(output), asked)
    except RunError as error:
        print(error)  # noqa: T201 - it is read by the test that began this process
        return 2
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
