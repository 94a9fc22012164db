"""House rules of form: no trade word in the machine, small files, sentences without digits."""

import ast
import re
from pathlib import Path

import pytest

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import has_digit

FIT_ANY_TRADE = ("rulebook", "inference", "columns", "proof")
TRADE_WORDS = (
    "tyre", "tyres", "injury", "injuries", "bead", "sidewall", "crown", "shoulder", "tread", "casing", "carcass",
    "ply", "plies", "belt", "cord", "cords", "liner", "rubber", "skive", "vulcanise", "cure", "wheel", "rim",
    "inflate", "inflation", "puncture", "retread", "radial", "bias", "lug", "reinforcement",
)  # fmt: skip
# A fact of the vocabulary is about one of two subjects, and those two names the machine must know.
SUBJECT = re.compile(r"\bSubject\.(TYRE|INJURY)\b")

RULE_LINES, MODULE_LINES = 60, 250


def modules(root: Path, *packages: str) -> list[Path]:
    found = [path for package in packages for path in (root / "engine/mendbook" / package).rglob("*.py")]
    assert found
    return found


def length(path: Path) -> int:
    """Return the number of lines with something on them."""
    return sum(bool(line.strip()) for line in path.read_text(encoding="utf-8").splitlines())


def words_of(text: str) -> set[str]:
    return set(re.findall(r"[a-z]+", SUBJECT.sub("", text).lower().replace("_", " ")))


def test_rulebook_and_evaluators_would_serve_any_trade(root: Path) -> None:
    for path in modules(root, *FIT_ANY_TRADE):
        assert not words_of(path.read_text(encoding="utf-8")) & set(TRADE_WORDS), path


def test_the_search_for_trade_words_finds_them() -> None:
    assert words_of('zone = "upper sidewall"; ply_share = 3  # at the bead') >= {"sidewall", "ply", "bead"}
    assert words_of("Subject.TYRE if worn else tyre") == {"if", "worn", "else", "tyre"}


def test_durable_rules_is_met_in_inference_only(root: Path) -> None:
    importing = {
        path.relative_to(root / "engine/mendbook").parts[0]
        for path in modules(root, ".")
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8")))
        if (isinstance(node, ast.Import) and any(name.name.split(".")[0] == "durable" for name in node.names))
        or (isinstance(node, ast.ImportFrom) and (node.module or "").split(".")[0] == "durable")
    }
    assert importing == {"inference"}


def test_modules_are_small(root: Path) -> None:
    assert not {str(path): n for path in modules(root, ".") if (n := length(path)) > MODULE_LINES}


def test_rule_files_are_small(root: Path) -> None:
    files = list((root / "rules").rglob("*.yaml"))
    assert len(files) > 200
    assert not {str(path): n for path in files if (n := length(path)) > RULE_LINES}


def test_every_rule_and_table_has_a_name_of_its_own(book: Rulebook) -> None:
    ids = [rule.id for rule in book.rules]
    names = [(rule.id.split("/")[0], rule.name) for rule in book.rules]
    assert len(set(ids)) == len(ids)
    assert len(set(names)) == len(names)
    tables = [table.name for table in book.tables]
    assert len(set(tables)) == len(tables)


@pytest.mark.parametrize("kind", ["because", "hold", "stop", "caution", "do"])
def test_sentences_are_whole_and_hold_no_digit(kind: str, book: Rulebook) -> None:
    said = [(rule.id, line) for rule in book.rules for line in rule.lines]
    for name, line in said:
        outcome = line.outcome
        sentences = {
            "because": (line.because,), "hold": (outcome.hold,), "stop": (outcome.stop,),
            "caution": outcome.caution, "do": outcome.do,
        }[kind]  # fmt: skip
        for sentence in sentences:
            if sentence is not None:
                assert not has_digit(sentence), (name, sentence)
                if kind == "because":
                    assert sentence.endswith("."), (name, sentence)


def test_every_question_is_asked(book: Rulebook) -> None:
    assert not [rule.id for rule in book.rules if not rule.asks.endswith("?")]
    assert not [table.file for table in book.tables if not table.asks.endswith("?")]
