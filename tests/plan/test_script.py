"""Steps as data: conditions, blanks, and the rulebook's sentences in their place."""

from pathlib import Path

import pytest

from mendbook.folders import folder
from mendbook.plan import Stock
from mendbook.plan.request import Said
from mendbook.plan.script import Line, fill, perform, plain_basis, read_script
from mendbook.rulebook.citations import read_citation, read_sources
from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.files import read_files
from mendbook.terms.document import read_document

STEPS = Path(str(folder("knowledge"))) / "steps"
SCRIPT = (
    Line("Skive.", instead=("skive to",), takes=("rust",), figures=("depth <depth>", "size <size>"), basis="a"),
    Line("Dry.", when=(("moisture", ("damp", "wet")),), basis="b"),
    Line("Mind this.", takes_rest=True, basis="c"),
)
FIGURES = {"depth": "46 mm", "size": ""}


def said(what: str) -> Said:
    return Said(what, "so", "house default")


def test_only_what_applies_is_done() -> None:
    assert [step.do for step in perform([SCRIPT], {"moisture": "dry"}, FIGURES)] == ["Skive."]
    assert [step.do for step in perform([SCRIPT], {"moisture": "wet"}, FIGURES)] == ["Skive.", "Dry."]


def test_a_clause_with_an_empty_blank_is_left_out() -> None:
    (step,) = perform([SCRIPT], {}, FIGURES)
    assert step.figures == "depth 46 mm"


def test_a_blank_without_a_name_is_an_error() -> None:
    with pytest.raises(RulebookError, match="<depht>"):
        fill("<depht>", FIGURES)


def test_the_rulebook_speaks_at_its_place_in_the_order_of_the_work() -> None:
    (step,) = perform([SCRIPT], {}, FIGURES, [said("Trim rust."), said("Skive to sound cord.")])
    assert step.do == "Skive to sound cord. Trim rust."
    assert step.basis == "a; house default"
    (step,) = perform([SCRIPT], {}, FIGURES, [said("Trim rust.")])
    assert step.do == "Skive. Trim rust."


def test_no_sentence_of_the_rulebook_is_lost() -> None:
    steps = perform([SCRIPT], {}, FIGURES, [said("Sing.")], [said("Do not whistle.")])
    assert [step.number for step in steps] == [1, 2, 3]
    assert steps[1].do == "Sing."
    assert steps[2].caution == "Do not whistle."
    bare = perform([SCRIPT[:1]], {}, FIGURES, [said("Sing.")])
    assert bare[0].do == "Skive. Sing."


def test_every_step_file_cites_sources_that_exist() -> None:
    sources = read_sources(read_files(STEPS.parent / "sources").values())
    for file in STEPS.glob("*.yaml"):
        document = read_document(file)
        items = document.tree["items"]
        assert isinstance(items, list)
        for place, item in enumerate(items):
            assert isinstance(item, dict)
            read_citation(document, ("items", place, "source"), str(item["source"]), sources)


def test_every_script_has_one_place_for_the_rest(stock: Stock) -> None:
    work = {"hot": ("preparation", "hot"), "cold": ("preparation", "cold"), "dress": ("dress",), "ladder": ("ladder",)}
    for names in work.values():
        assert sum(line.takes_rest for name in names for line in stock.scripts[name]) == 1


@pytest.mark.parametrize(
    ("citation", "printed"),
    [
        ("house, rest", "house default"),
        ("common practice, timer", "common practice, no source"),
        ("29 cfr 1910.177, (d)(3)", "29 cfr 1910.177, (d)(3)"),
    ],
)
def test_a_basis_is_printed_as_plans_print_it(citation: str, printed: str) -> None:
    assert plain_basis(citation) == printed


@pytest.mark.parametrize(
    ("text", "complaint"),
    [
        ("items:\n- {do: Skive., source: 'house, x', wehn: {a: [b]}}", "steps.yaml:2: 'wehn' is no part"),
        ("items:\n- {source: 'house, x'}", "steps.yaml:2: 'do' is missing"),
        ("items:\n- {do: Skive., source: 'house, x', when: hot}", "'when' is no map"),
        ("items:\n- Skive.", "this item is no map"),
        ("steps: some", "lists no items"),
    ],
)
def test_a_fault_in_a_step_file_says_where(tmp_path: Path, text: str, complaint: str) -> None:
    file = tmp_path / "steps.yaml"
    file.write_text(text, encoding="utf-8")
    with pytest.raises(RulebookError, match=complaint.replace("(", r"\(")):
        read_script(file)
