"""The README shows what the program prints."""

import re
from pathlib import Path

import pytest

from mendbook.card.printing import as_text
from mendbook.card.report import report
from mendbook.cli.commands import app
from mendbook.proof.check import CHECKS
from mendbook.terms.case_file import read_case
from mendbook.triage import Shop, judge


@pytest.fixture(scope="module")
def readme(root: Path) -> str:
    return (root / "README.md").read_text(encoding="utf-8")


def test_there_are_exactly_two_set_up_commands(readme: str) -> None:
    blocks = re.findall(r"^```sh\n(.*?)^```", readme, re.M | re.S)
    assert len(blocks) == 2
    assert "mendbook triage" in blocks[0]
    assert "pytest" in blocks[1]


def test_what_it_shows_is_what_is_printed(readme: str, root: Path, shop: Shop) -> None:
    shown = re.findall(r"^```text\n(.*?)^```", readme, re.M | re.S)[0].rstrip().splitlines()
    case = read_case(root / "examples/quarry/loader_sidewall_cut.yaml", shop.book.vocabulary)
    printed = as_text(report(judge(case, shop), 100), 100).splitlines()
    assert shown == [line.rstrip() for line in printed[: len(shown)]]


def test_the_rule_it_shows_is_the_rule_in_the_book(readme: str, root: Path) -> None:
    shown = re.findall(r"^```yaml\n(.*?)^```", readme, re.M | re.S)[0]
    assert shown == (root / "rules/sidewall/through_bias.yaml").read_text(encoding="utf-8")


def test_every_command_it_names_exists(readme: str) -> None:
    commands = set(re.findall(r"^mendbook (\w+)", readme, re.M))
    known = {command.name for command in app.registered_commands} | {group.name for group in app.registered_groups}
    assert commands
    assert commands <= known


def test_the_developers_guide_lists_every_check_of_a_rulebook(root: Path) -> None:
    guide = (root / "DEVELOPERS.md").read_text(encoding="utf-8")
    table = guide.partition("## What `mendbook rulebook check` checks")[2].partition("\n## ")[0]
    modules = {check.__module__.removeprefix("mendbook.").replace(".", "/") for check in CHECKS}
    assert [module for module in sorted(modules) if f"`{module}.py`" not in table] == []
