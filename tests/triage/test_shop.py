"""A shop stays open in a process, and never longer than rulebook and stock stay as they are."""

import shutil
from importlib.resources.abc import Traversable
from pathlib import Path

import pytest

from mendbook.triage import open_shop


def test_while_nothing_changes_it_is_set_up_once() -> None:
    assert open_shop() is open_shop()


def test_a_change_of_any_file_is_seen(root: Path, tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    def folder(name: str) -> Traversable:
        return tmp_path / name

    for name in ("rules", "knowledge"):
        shutil.copytree(root / name, tmp_path / name)
    monkeypatch.setattr("mendbook.triage.shop.folder", folder)
    first = open_shop()
    assert open_shop() is first
    changes = {
        "knowledge/cautions.yaml": ("Only trained and", "Only skilled and", lambda: open_shop().cautions),
        "knowledge/kit/circuits.yaml": ("power: 2400 W", "power: 2300 W", lambda: open_shop().stock.kit.circuits),
        "rules/rulebook.yaml": ("edition: ", "edition: not ", lambda: open_shop().book.edition),
    }
    for place, (old, new, told) in changes.items():
        shipped, text = told(), (tmp_path / place).read_text(encoding="utf-8")
        (tmp_path / place).write_text(text.replace(old, new, 1), encoding="utf-8")
        assert told() != shipped, place
        (tmp_path / place).write_text(text, encoding="utf-8")
        assert told() == shipped, place
    assert open_shop() is first
