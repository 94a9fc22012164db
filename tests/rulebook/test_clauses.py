"""The clauses of a source: read with their lines, refused in words, and met by what is at least as strict."""

from pathlib import Path

import pytest

from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.source import Clause, Source
from mendbook.rulebook.tree import Op
from tests.rulebook.ladders import SOURCES, open_ladders, write_book

STANDARD = "knowledge/sources/standard.yaml"
CLAUSES = """\
  annex: hinges (from memory)
clauses:
  - place: table 3
    says: no crack over 60 mm in wood
    read: 'yes'
    when: {kind: [ash, spruce], crack length: over 60 mm}
    at least: mend
    because: a longer one may be cut out
  - {place: annex, says: hinges are oiled, read: 'no', not expressed: nobody writes down a hinge}
  - {place: clause 5, says: rot is looked at, read: 'yes', when: {rot: at least light}, hold: 'yes', stop: 'no'}
"""
TEXT = SOURCES["standard.yaml"].replace("known: invented", "known: read") + CLAUSES


def test_clauses_are_read_with_bounds_and_lines(tmp_path: Path) -> None:
    write_book(tmp_path, **{STANDARD: TEXT})
    sources = open_ladders(tmp_path).sources
    crack, hinge, rot = sources["ladder standard"].clauses
    assert [(b.fact, b.op, b.number) for b in crack.bounds] == [
        ("kind", Op.IN, 0.0),
        ("crack length", Op.OVER, 60.0),
    ]
    assert (crack.at_least, crack.holds, crack.stops, crack.because) == (
        "mend", False, False, "a longer one may be cut out",
    )  # fmt: skip
    assert (hinge.is_read, hinge.bounds, hinge.not_expressed) == (False, (), "nobody writes down a hinge")
    assert (rot.holds, rot.stops, rot.at_least) == (True, False, None)
    assert [TEXT.splitlines()[clause.at - 1].strip()[:8] for clause in (crack, hinge)] == ["- place:", "- {place"]
    assert sources["house"].clauses == ()


@pytest.mark.parametrize(
    ("right", "wrong", "what", "instead"),
    [
        ("says: no crack over 60 mm in wood", "sais: no crack", "a clause has no 'sais'", "Did you mean 'says'?"),
        ("place: table 3\n", "place: table 4\n", "has no place 'table 4'", "Did you mean 'table 3'?"),
        ("read: 'yes'\n    when", "read: perhaps\n    when", "'read' is 'yes' or 'no', not 'perhaps'", ""),
        ("read: 'yes'\n    when", "read: 'no'\n    when", "the place 'table 3' is known as 'read'", "was the text"),
        ("read: 'no'", "read: 'yes'", "the place 'annex' is known as 'from memory'", "was the text read"),
        ("crack length: over", "crack lenght: over", "no fact is called 'crack lenght'", "'crack length'"),
        ("over 60 mm}", "over 60 cm}", "crack length is measured in mm, not cm", "Write '60 mm'."),
        ("at least: mend", "at least: burn", "no verdict is called 'burn'", "Write one of: keep, mend, scrap."),
        ("    at least: mend\n", "", "this clause asks for nothing", "Write 'when:' and 'at least: <verdict>'"),
        ("read: 'no', not", "read: 'no', hold: 'yes', not", "'not expressed' has no 'hold'", ""),
        ("says: rot is looked at, ", "", "the clause does not say 'says'", "Add the line 'says: ...'."),
        ("  - {place: annex", "  - annex\n  - {place: annex", "a clause is a map", ""),
        (CLAUSES[CLAUSES.index("\n  - place") :], " none\n", "clauses is a list", ""),
    ],
)  # fmt: skip
def test_a_faulty_clause_is_refused_with_its_place(
    right: str, wrong: str, what: str, instead: str, tmp_path: Path
) -> None:
    assert right in TEXT
    write_book(tmp_path, **{STANDARD: TEXT.replace(right, wrong, 1)})
    with pytest.raises(RulebookError) as caught:
        open_ladders(tmp_path)
    said = str(caught.value)
    assert said.startswith(f"{tmp_path}/{STANDARD}:")
    assert what in said
    assert instead in said


@pytest.mark.parametrize(
    ("verdict", "is_held", "is_stopped", "at_least", "holds", "stops", "is_met"),
    [
        ("mend", False, False, "mend", False, False, True),
        ("keep", False, False, "mend", False, False, False),
        (None, True, True, "keep", False, False, False),
        ("scrap", False, False, None, True, False, True),
        ("mend", False, False, None, True, False, False),
        (None, True, False, None, True, False, True),
        (None, False, True, None, True, False, True),
        ("scrap", True, False, None, False, True, False),
        ("keep", False, True, None, False, True, True),
        ("mend", True, False, "mend", True, False, True),
        ("keep", True, False, "mend", True, False, False),
    ],
)
def test_a_clause_is_met_by_what_is_at_least_as_strict(
    verdict: str | None, is_held: bool, is_stopped: bool, at_least: str | None, holds: bool, stops: bool, is_met: bool
) -> None:
    clause = Clause("p", "s", True, 1, at_least=at_least, holds=holds, stops=stops)
    verdicts = ("keep", "mend", "scrap")
    assert clause.is_met(verdict, verdicts, is_held=is_held, is_stopped=is_stopped) is is_met


@pytest.mark.parametrize(
    ("known", "said", "at_place"),
    [
        ("read in an excerpt", "cracks", "read in an excerpt"),
        ("read in an excerpt", "cracks (from memory)", "from memory"),
        ("read", "80 of 100 (number from memory)", "number from memory"),
        ("from memory: check before quoting", "cracks (read in public copies)", "read in public copies"),
        ("read", "cracks (from memory) in wood", "read"),
    ],
)
def test_a_mark_at_a_place_outweighs_the_whole_source(known: str, said: str, at_place: str) -> None:
    source = Source("s", "t", "p", "law", "first", known, {"table 3": said})
    assert source.known_at("table 3") == at_place
    assert source.known_at("elsewhere") == known
