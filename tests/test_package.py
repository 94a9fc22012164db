"""The package works wherever it is put: in a clone, installed with the repository gone, editable, from a wheel."""

import json
import os
import shutil
import subprocess
import sys
import sysconfig
import venv
from pathlib import Path

import pytest

CASE = "examples/quarry/loader_sidewall_cut.yaml"
SHIPPED = ("engine", "rules", "knowledge", "examples", "pyproject.toml", "README.md", "LICENSE")


@pytest.fixture(scope="module")
def clone(root: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    copy = tmp_path_factory.mktemp("clone") / "mendbook"
    copy.mkdir()
    for name in SHIPPED:
        source = root / name
        if source.is_dir():
            shutil.copytree(source, copy / name, ignore=shutil.ignore_patterns("__pycache__"))
        else:
            shutil.copy2(source, copy / name)
    return copy


def environment(folder: Path) -> Path:
    """Make an environment that sees the libraries of this one, but not this repository; return its Python."""
    venv.create(folder, symlinks=True, with_pip=False)
    return folder / "bin" / "python"


def run(*words: str | Path, cwd: Path, **variables: str) -> str:
    libraries = sysconfig.get_path("purelib")
    settings = {k: v for k, v in os.environ.items() if not k.startswith(("PYTHON", "COV"))}
    settings |= {"PYTHONPATH": libraries, **variables}
    done = subprocess.run(
        [str(w) for w in words], cwd=cwd, env=settings, capture_output=True, text=True, check=False, timeout=300
    )
    assert done.returncode == 0, done.stderr
    return done.stdout


def install(python: Path, what: Path, *flags: str, cwd: Path) -> None:
    run(
        sys.executable, "-m", "pip", "--python", python, "install", "--quiet", "--no-deps", "--no-build-isolation",
        "--ignore-installed", *flags, what, cwd=cwd,
    )  # fmt: skip


def judge(program: list[str | Path], case: Path, cwd: Path, **variables: str) -> dict[str, object]:
    docket = json.loads(run(*program, "triage", case, "--json", cwd=cwd, **variables))
    assert docket["outcome"] == "repair"
    return docket


def test_a_clone_works_without_installing(clone: Path) -> None:
    libraries = sysconfig.get_path("purelib")
    judge(
        [sys.executable, "-m", "mendbook"],
        clone / CASE,
        clone,
        PYTHONPATH=os.pathsep.join([str(clone / "engine"), libraries]),
    )


def test_an_install_works_with_the_repository_gone(clone: Path, tmp_path: Path) -> None:
    repository = tmp_path / "repository"
    shutil.copytree(clone, repository)
    python = environment(tmp_path / "environment")
    install(python, repository, cwd=tmp_path)
    case = Path(shutil.copy2(repository / CASE, tmp_path / "case.yaml"))
    shutil.rmtree(repository)
    empty = tmp_path / "empty"
    empty.mkdir()
    judge([python.parent / "mendbook"], case, empty)


def test_an_editable_install_sees_a_new_rule(clone: Path, tmp_path: Path) -> None:
    repository = tmp_path / "repository"
    shutil.copytree(clone, repository)
    python = environment(tmp_path / "environment")
    install(python, repository, "--editable", cwd=tmp_path)
    before = judge([python.parent / "mendbook"], repository / CASE, tmp_path)
    (repository / "rules" / "casing" / "new_rule.yaml").write_text(
        "rule: a new rule\nasks: Is it seen?\napplies to: {tube: tubeless}\nwhen: {}\ncaution: The new rule was seen.\n"
        "because: It was added after the install.\nsource: house, test\n"
        "examples:\n  - {tube: tubeless, says: caution}\n",
        encoding="utf-8",
    )
    after = judge([python.parent / "mendbook"], repository / CASE, tmp_path)
    assert "casing/new_rule" not in str(before["findings"])
    assert "casing/new_rule" in str(after["findings"])
    assert not (repository / "engine" / "mendbook" / "_shipped").exists()


def test_a_wheel_works_in_an_empty_folder(clone: Path, tmp_path: Path) -> None:
    run(
        sys.executable, "-m", "pip", "wheel", "--quiet", "--no-deps", "--no-build-isolation", "--wheel-dir", tmp_path,
        clone, cwd=tmp_path,
    )  # fmt: skip
    wheel = next(tmp_path.glob("mendbook-*.whl"))
    python = environment(tmp_path / "environment")
    install(python, wheel, cwd=tmp_path)
    empty = tmp_path / "empty"
    empty.mkdir()
    case = Path(shutil.copy2(clone / CASE, empty / "case.yaml"))
    judge([python.parent / "mendbook"], case, empty)
