"""Write a case file, so that a power cut leaves either the old file or the new one."""

import os
import tempfile
from collections.abc import Mapping
from pathlib import Path
from typing import TYPE_CHECKING

from mendbook.cli.refusals import RefusalError

if TYPE_CHECKING:
    from mendbook.terms.document import Tree

ORDER = (
    "case", "note", "judged on", "tyre", "service", "found", "earlier repairs", "injuries", "workshop", "money",
    "overrule",
)  # fmt: skip
WIDTH = 110  # columns


def case_text(tree: Mapping[str, "Tree"]) -> str:
    """Return the case `tree` as YAML, its parts in the order in which people read them."""
    import yaml

    ordered = {key: tree[key] for key in (*ORDER, *(key for key in tree if key not in ORDER)) if key in tree}
    return yaml.safe_dump(ordered, sort_keys=False, allow_unicode=True, width=WIDTH, default_flow_style=False)


def check_target(out: Path, *, is_forced: bool) -> None:
    """Raise RefusalError when the file `out` cannot be written, or is there already and nobody forces it."""
    if out.is_dir():
        raise RefusalError(f"{out}: this is a folder. Name a file.")
    if not out.parent.is_dir():
        raise RefusalError(f"{out}: there is no folder '{out.parent}'. Make it first, or name another.")
    if out.exists() and not is_forced:
        raise RefusalError(f"{out}: this file is there already. Name another, or add --force to replace it.")


def write_case(tree: Mapping[str, "Tree"], out: Path) -> None:
    """Write the case `tree` to the file `out` in one step. Raises RefusalError when the disk refuses."""
    write_text(case_text(tree), out)


def write_text(text: str, out: Path) -> None:
    """Write `text` to the file `out` in one step. Raises RefusalError when the disk refuses."""
    write_bytes(text.encode(), out)


def write_bytes(content: bytes, out: Path) -> None:
    """Write `content` to the file `out` in one step. Raises RefusalError when the disk refuses."""
    try:
        handle, name = tempfile.mkstemp(dir=out.parent, prefix=f".{out.name}.")
        try:
            with os.fdopen(handle, "wb") as file:
                file.write(content)
                file.flush()
                os.fsync(file.fileno())
            Path(name).chmod(0o666 & ~_umask())  # what any other new file would have
            Path(name).replace(out)
        except BaseException:
            Path(name).unlink(missing_ok=True)
            raise
    except OSError as error:
        raise RefusalError(f"{out}: it cannot be written ({error.strerror}). Name another file.") from error


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
