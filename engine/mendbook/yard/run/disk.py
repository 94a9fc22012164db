"""Files that are there whole or not at all, whatever happens meanwhile."""

import os
from pathlib import Path

HALF = ".half"  # the ending of what is not whole yet


def write_whole(path: Path, data: bytes) -> None:
    """Write `data` to the new file `path`, and wait until the disk has it."""
    with path.open("xb") as file:
        file.write(data)
        file.flush()
        os.fsync(file.fileno())


def settle(path: Path) -> None:
    """Wait until the disk has what was written to the file `path`."""
    with path.open("rb+") as file:
        os.fsync(file.fileno())


def move(made: Path, place: Path) -> None:
    """Give `made`, which is on the disk, the name `place`: in one step, and for good."""
    made.replace(place)
    settle_folder(place.parent)


def settle_folder(folder: Path) -> None:
    """Wait until the disk has the names in `folder`, where the system can tell."""
    if os.name != "posix":
        return
    number = os.open(folder, os.O_RDONLY)
    try:
        os.fsync(number)
    finally:
        os.close(number)
