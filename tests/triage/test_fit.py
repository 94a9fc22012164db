"""A rulebook that the program cannot judge by is refused when it is opened, not when a case comes."""

import shutil
from dataclasses import replace
from pathlib import Path

import pytest

from mendbook.cli.entry import run
from mendbook.folders import folder
from mendbook.rulebook.book import Rulebook, Stage
from mendbook.rulebook.errors import RulebookError
from mendbook.triage import open_shop
from mendbook.triage.fit import find_misfits


def with_stages(book: Rulebook, *names: str) -> Rulebook:
    folders = {stage.name: stage.folders for stage in book.stages}
    return replace(book, stages=tuple(Stage(name, folders.get(name, ())) for name in names))


def test_the_shipped_book_fits(book: Rulebook) -> None:
    assert find_misfits(book) == []


def test_a_stage_that_nobody_runs_and_one_that_is_missing_are_told(book: Rulebook) -> None:
    names = [stage.name for stage in book.stages]
    told = find_misfits(with_stages(book, *("casings" if name == "casing" else name for name in names)))
    assert [fault.partition(".yaml: ")[2].partition(",")[0].partition(".")[0] for fault in told] == [
        "the stage 'casings' is never run",
        "there is no stage 'casing'",
    ]


def test_another_scale_is_told(book: Rulebook) -> None:
    first, second, *others = book.verdicts
    [fault] = find_misfits(replace(book, verdicts=(second, first, *others)))
    assert fault == (
        "rulebook.yaml: verdicts: repairs are planned for these words in this order: "
        "leave, dress, spot, reinforce, section, reject. Write them."
    )


def test_an_order_that_is_not_the_order_of_the_passes_is_told(book: Rulebook) -> None:
    first, second, *others = (stage.name for stage in book.stages)
    [fault] = find_misfits(with_stages(book, second, first, *others))
    assert "run in another order" in fault


@pytest.mark.parametrize(
    ("rule", "stage", "word"),
    [
        ("people/valve_core", "casing", "stop"),
        ("people/valve_core", "method", "stop"),
        ("crown/too_long", "method", "verdict"),
        ("crown/too_long", "release", "verdict"),
        ("method/damp_shop", "release", "rule out"),
    ],
)
def test_what_nobody_would_hear_is_told(rule: str, stage: str, word: str, book: Rulebook) -> None:
    rules = tuple(replace(one, stage=stage) if one.id == rule else one for one in book.rules)
    told = [fault for fault in find_misfits(replace(book, rules=rules)) if rule in fault]
    assert told
    assert f"a '{word}' is not heard in the stage '{stage}'. Move the rule to a folder of the stage" in told[0]


def test_people_first_looks_at_no_injury(book: Rulebook) -> None:
    rules = tuple(replace(one, stage="people") if one.id == "crown/too_long" else one for one in book.rules)
    [fault] = find_misfits(replace(book, rules=rules))
    assert "looks at the tyre alone, and this rule at an injury, so it would be silent" in fault


@pytest.fixture
def unheard(tmp_path: Path) -> Path:
    """Return an own book with a stop where nobody listens for one."""
    shutil.copytree(str(folder("rules")), tmp_path / "rules")
    text = (tmp_path / "rules/people/valve_core.yaml").read_text(encoding="utf-8")
    (tmp_path / "rules/casing/valve_core.yaml").write_text(text, encoding="utf-8")
    return tmp_path / "rules"


def test_a_shop_is_not_opened_with_it(unheard: Path) -> None:
    with pytest.raises(RulebookError, match="a 'stop' is not heard in the stage 'casing'"):
        open_shop(unheard)


def test_the_commands_say_so_in_one_error(unheard: Path, root: Path, capsys: pytest.CaptureFixture[str]) -> None:
    case = root / "examples/quarry/loader_sidewall_cut.yaml"
    assert run(["triage", str(case), "--rulebook", str(unheard)]) == 2
    assert "a 'stop' is not heard in the stage 'casing'" in " ".join(capsys.readouterr().err.split())
    assert run(["rulebook", "check", "--rulebook", str(unheard)]) == 1
    assert "a 'stop' is not heard in the stage 'casing'" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("rule", "what", "limit", "write"),
    [
        ("setpoint", "setpoint", "warm", "150 °C"),
        ("setpoint", "setpoint", "140 to 150 °C", "150 °C"),
        ("setpoint", "setpoint", "2 bar", "150 °C"),
        ("bag_pressure", "bag pressure", "what the label allows", "2.5 bar"),
        ("bag_pressure", "bag pressure", "unknown", "2.5 bar"),
    ],
)
def test_a_cap_that_the_bench_cannot_keep_is_told(rule: str, what: str, limit: str, write: str, book: Rulebook) -> None:
    wanted = book.by_id()[f"method/{rule}"]
    [line] = wanted.lines
    worded = replace(line, outcome=replace(line.outcome, cap=((what, limit),)))
    changed = replace(wanted, lines=(worded,))
    [fault] = find_misfits(replace(book, rules=tuple(changed if r is wanted else r for r in book.rules)))
    assert fault.startswith(f"{wanted.file}:{line.at}: '{what}' is capped at '{limit}'")
    assert fault.endswith(f"Write one figure with its unit, such as '{write}'.")


def test_a_cap_in_words_is_refused_before_a_case_is_judged(
    root: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "method").mkdir()
    cover = "rulebook: invented\nedition: '1'\ndate: '2026-11-25'\nowner: an invented shop\n"
    (tmp_path / "rulebook.yaml").write_text(cover, encoding="utf-8")
    rule = folder("rules").joinpath("method", "setpoint.yaml").read_text(encoding="utf-8")
    (tmp_path / "method" / "warm.yaml").write_text(
        rule.replace("setpoint: 150 °C", "setpoint: warm").replace("heat setting\n", "heat setting of ours\n", 1),
        encoding="utf-8",
    )
    case = str(next(root.joinpath("examples").rglob("*.yaml")))
    assert run(["triage", case, "--rulebook", str(tmp_path)]) == 2
    told = " ".join(capsys.readouterr().err.split())
    assert "warm.yaml:" in told
    assert "'setpoint' is capped at 'warm'" in told
