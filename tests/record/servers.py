"""A private PostgreSQL server for the tests, or one that the environment names."""

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.parse import quote

NAMED = "MENDBOOK_TEST_POSTGRESQL"  # an URL; each test makes a schema of its own there and drops it again
NO_SERVER = f"no PostgreSQL here: install one (apt-get install postgresql), or name a server in {NAMED}"
_OWNERS = ("postgres", "nobody")  # a server refuses to run as root


@dataclass(frozen=True)
class Server:
    """A server that runs; `folder` is None when it is not ours to stop."""

    url: str
    folder: Path | None = None
    tools: Path | None = None
    is_durable: bool = False  # whether a commit waits for the disk; what is tested does not outlive the machine

    def within(self, schema: str) -> str:
        """Return the URL under which everything lies in `schema`."""
        return f"{self.url}{'&' if '?' in self.url else '?'}options={quote(f'-csearch_path={schema}')}"

    def stop(self) -> None:
        """Stop it at once, as a power cut would."""
        self._control("stop", "-m", "immediate")

    def start(self) -> None:
        """Start it, and wait until it answers."""
        own = f"-c listen_addresses= -c unix_socket_directories={self.folder}"
        settings = own if self.is_durable else f"{own} -c fsync=off -c shared_buffers=16MB"
        self._control("start", "-l", str(self._folder / "log"), "-o", settings)

    def _control(self, *said: str) -> None:
        assert self.tools is not None
        _run(self.tools / "pg_ctl", "-D", str(self._folder / "data"), "-w", *said)

    @property
    def _folder(self) -> Path:
        assert self.folder is not None
        return self.folder


def find_tools() -> Path | None:
    """Return the folder with the server's programs, None when there is none."""
    folders = [*(Path(one) for one in os.get_exec_path()), *sorted(Path("/usr/lib/postgresql").glob("*/bin"))]
    found = [one for one in folders if (one / "initdb").exists() and (one / "pg_ctl").exists()]
    # A server looks for its libraries beside the real program, not beside a link to it.
    return (found[-1] / "initdb").resolve().parent if found else None


@contextmanager
def running(*, is_durable: bool = False) -> Iterator[Server | None]:
    """Yield a server, None when there is none and none can be started."""
    if named := os.environ.get(NAMED):
        yield Server(named)
        return
    tools = find_tools()
    if tools is None:
        yield None
        return
    folder = Path(tempfile.mkdtemp(prefix="record-"))  # short: the path of a socket may not be long
    try:
        if os.geteuid() == 0:
            shutil.chown(folder, owner())
        _run(tools / "initdb", "-D", str(folder / "data"), "-A", "trust", "-U", "keeper", "--no-sync", "-E", "UTF8")
        watch = _watch(tools, folder)
        server = Server(f"postgresql://keeper@/postgres?host={folder}", folder, tools, is_durable)
        try:
            server.start()
            yield server
        finally:
            watch.communicate()
    finally:
        shutil.rmtree(folder, ignore_errors=True)  # the watch took away all but what it had no right to


def owner() -> str:
    """Return a user who is not root."""
    import pwd

    known = {one.pw_name for one in pwd.getpwall()}
    return next(name for name in _OWNERS if name in known)


def _watch(tools: Path, folder: Path) -> subprocess.Popen[bytes]:
    """Begin a process that ends the server when its input does: by itself, also when this process is killed."""
    said = 'cat > /dev/null; "$0" -D "$1/data" -m immediate stop; rm -rf "$1"'
    return subprocess.Popen(
        ["sh", "-c", said, tools / "pg_ctl", folder], cwd="/", stdin=subprocess.PIPE,
        stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, start_new_session=True, **_owned(),
    )  # fmt: skip


def _owned() -> dict[str, Any]:
    """Return as whom a process is to run, where this one may not."""
    if os.geteuid() != 0:
        return {}
    return {"user": owner(), "group": owner() if owner() != "nobody" else None, "extra_groups": []}


def _run(*said: str | Path) -> None:
    told = subprocess.run(said, cwd="/", stdin=subprocess.DEVNULL, capture_output=False, check=False,
                          stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL, **_owned())  # fmt: skip
    assert told.returncode == 0, f"{said[0]} {' '.join(map(str, said[1:]))}: exit code {told.returncode}"
