"""Every way a rulebook can be written wrong is answered with file, line, what, and what to write instead."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from mendbook.columns import Columns
from mendbook.inference.lower import lower
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.errors import RulebookError
from mendbook.rulebook.examples import check_examples
from mendbook.rulebook.tree import Op
from mendbook.terms.document import DocumentError, parse_document
from mendbook.terms.vocabulary import Subject
from tests.rulebook.ladders import CHART, FILES, TABLE, VOCABULARY, WHEN, open_ladders, write_book

CRACK, ROT, GLUE = "rules/rails/crack.yaml", "rules/rails/rot.yaml", "rules/mending/glue.yaml"
LOAD, PAGE, WORDS = "rules/limits/load.yaml", "rules/rulebook.yaml", "knowledge/vocabulary/all.yaml"
STANDARD = "knowledge/sources/standard.yaml"


def refusal(folder: Path) -> str:
    """Return the one error of the book in `folder`, with places written from there."""
    with pytest.raises((RulebookError, DocumentError)) as caught:
        open_ladders(folder)
    return str(caught.value).replace(f"{folder}/", "")


def first_difference(old: str, new: str) -> int:
    pairs = zip(old.splitlines(), new.splitlines(), strict=False)
    return next((n for n, (a, b) in enumerate(pairs, 1) if a != b), len(new.splitlines()))


def test_the_ladder_book_is_read_whole(tmp_path: Path) -> None:
    write_book(tmp_path)
    book = open_ladders(tmp_path)
    assert check_examples(book) == []
    assert [(rule.id, rule.stage, rule.subject) for rule in book.rules] == [
        ("mending/glue", "work", Subject.TYRE),
        ("rails/crack", "look", Subject.INJURY),
        ("rails/rot", "look", Subject.INJURY),
    ]
    assert book.rank("scrap") == 2
    assert book.tables_giving("reach") == book.tables
    crack = book.rules[1]
    assert [line.at for line in crack.lines] == [5, 10, 16]
    assert crack.lines[1].bounds[1].values == ("none", "light")
    assert crack.lines[1].bounds[1].others == ("deep", "through")
    assert [(c.source, c.place) for c in crack.lines[1].sources] == [
        ("house", "cracks"),
        ("ladder standard", "table 3"),
    ]
    glue = book.rules[0].lines[0]
    assert [(b.op, b.number) for b in glue.bounds] == [(Op.AT_LEAST, 40.0), (Op.UP_TO, 80.0)]
    assert glue.outcome.words() == ("rule out", "cap", "do", "caution")
    crack_length = book.vocabulary["crack length"]
    assert (crack_length.error, crack_length.error_if, crack_length.decimals) == (2.0, (("cleaned", "yes", 1.0),), 1)


def test_a_limit_table_gives_the_first_row_that_fits(tmp_path: Path) -> None:
    write_book(tmp_path)
    table = open_ladders(tmp_path).tables[0]
    assert table.facts() == ("cleaned", "crack length", "kind")
    facts = {"cleaned": "yes", "crack length": 20.0, "kind": "spruce"}
    assert table.look_up("load", facts) == 90.0
    assert table.look_up("reach", {**facts, "crack length": 20.1}) == 2.0
    assert table.look_up("load", {**facts, "kind": "metal"}) == 120.0
    assert table.look_up("load", {**facts, "cleaned": "no"}) is None


# file, what stands there, what is written instead, the error, the hint; the line is that of the first change.
MATRIX: list[tuple[str, str, str, str, str]] = [
    # Facts and their limits.
    (CRACK, "- crack length: up to 25", "- crack lenght: up to 25",
     "no fact is called 'crack lenght'", "Did you mean 'crack length'?"),
    (CRACK, "- crack length: up to 25", "- split length: up to 25",
     "no fact is called 'split length'", "Write 'crack length' for 'split length'."),
    (CRACK, "- crack length: up to 25", "- zzzz: up to 25",
     "no fact is called 'zzzz'", "Describe it in knowledge/vocabulary first."),
    (CRACK, "up to 25 mm", "up to 25 cm", "crack length is measured in mm, not cm", "Write '25 mm'."),
    (CRACK, "up to 25 mm", "up to 25", "crack length is measured in mm, not no unit", "Write '25 mm'."),
    (CRACK, "up to 25 mm", "up to 950 mm",
     "crack length runs from 0 to 900 mm; 950 is outside", "Correct the number, or the range in the vocabulary."),
    (CRACK, "up to 25 mm", "up to many mm", "'many mm' is not a number with its unit", "Write for example '25 mm'."),
    (CRACK, "up to 25 mm", "25 mm", "cannot read 'crack length: 25 mm'", "Write 'up to', 'below', 'at least' or"),
    (CRACK, "up to 25 mm", "[25 mm]", "'crack length' is a measure; a list of values does not fit it", ""),
    (CRACK, "up to 25 mm", "{a: b}", "'crack length' needs a phrase, not a map", ""),
    (CRACK, "rot: up to light", "rot: up to lihgt", "'rot' cannot be 'lihgt'", "Did you mean 'light'?"),
    (CRACK, "rot: up to light", "rot: below none", "no value of 'rot' is below none", "Its values run: none, light,"),
    (CRACK, "rot: up to light", "rot: []", "'rot' has an empty list", "Write some of: none, light, deep, through."),
    (ROT, "{kind: ash}", "{kind: [ash, ahs]}", "'kind' cannot be 'ahs'", "Did you mean 'ash'?"),
    (ROT, "{kind: ash}", "{kind: ivory}", "'kind' cannot be 'ivory'", "Write one of: ash, spruce, metal."),
    (ROT, "{kind: ash}", "{kind: [ash, ash]}", "'ash' stands twice in the list of 'kind'", "Keep one of the two."),
    (ROT, "{kind: ash}", "{kind: up to spruce}", "the values of 'kind' have no order", "Name the values you mean"),
    (ROT, "{kind: ash}", "{wood left: below 5 mm}", "'applies to' takes listed facts only; wood left is a measure", ""),
    (ROT, "{kind: ash}", "[kind]", "write 'fact: limit' here, one a line", ""),
    # The form that keeps the book monotone.
    (CRACK, "crack length: up to 25", "crack length: at least 25",
     "'crack length' is worse when bigger, so a chart line may bound it on its good side only", "Write 'up to ...'."),
    (CRACK, "wood left: at least 10", "wood left: up to 10",
     "'wood left' is worse when smaller, so a chart line may bound it on its good side only", "Write 'at least ...'."),
    (CRACK, "rot: up to light", "rot: [none, deep]",
     "'rot' is worse when later, so a chart line may bound it on its good side only", "Write 'up to ...'."),
    (CRACK, "rot: up to light", "damp: up to 5 %",
     "'damp' is worse when neither, so only a 'when' without a verdict may bound it", "Use a fact that is worse in"),
    (ROT, "rot: at least deep", "rot: [light, deep]",
     "'rot' is worse when later, so a 'when' may bound it on its bad side only", "Write 'at least ...'"),
    (ROT, "wood left: below 20", "wood left: over 20",
     "'wood left' is worse when smaller, so a 'when' may bound it on its bad side only", "Write 'below ...'"),
    (ROT, "wood left: below 20 mm", "crack length: up to 5 mm",
     "'crack length' is worse when bigger, so a 'when' may bound it on its bad side only", "Write 'over ...'"),
    (ROT, "wood left: below 20 mm", "wood left: over 5 mm and below 20 mm",
     "'wood left' is worse when smaller, so a 'when' may bound it on its bad side only", "Write 'below ...'"),
    (ROT, "wood left: below 20 mm", "damp: at least 5 % and up to 20 %",
     "'damp' is worse when neither, so only a 'when' without a verdict may bound it", "Use a fact that is worse in"),
    # What a line says.
    (CRACK, "  verdict: scrap", "  verdict: scrapp", "no verdict is called 'scrapp'", "Did you mean 'scrap'?"),
    (CRACK, "  verdict: scrap", "  verdict: 7", "no verdict is called '7'", "Write one of: keep, mend, scrap."),
    (CRACK, "because: <crack length> is more", "because: Over 60 mm is more",
     "a number is typed in the sentence: Over 60 mm is more than a mend holds.",
     "Write <limit> or the name of a fact between < and >."),
    (CRACK, "because: <crack length> is more", "because: <crack lengt> is more",
     "no fact is called 'crack lengt'", "Did you mean 'crack length'?"),
    (CRACK, "source: house, cracks\nex", "source: huose, cracks\nex",
     "no source is called 'huose'", "Did you mean 'house'?"),
    (CRACK, "source: house, cracks\nex", "source: xyz, cracks\nex",
     "no source is called 'xyz'", "Describe it in knowledge/sources first."),
    (CRACK, "source: house, cracks\nex", "source: house\nex",
     "'house' is cited without a place", "Write 'house, <section or table>'."),
    (CRACK, "also: ladder standard, table 3", "also: ladder standard, tabel 3",
     "'ladder standard' has no place 'tabel 3'", "Did you mean 'table 3'?"),
    (ROT, "ladder standard, clause 5", "ladder standard, annex",
     "'ladder standard' has no place 'annex'", "Known places: table 3, clause 5."),
    (GLUE, "[hot glue]", "[hot glu]", "no method is called 'hot glu'", "Did you mean 'hot glue'?"),
    (GLUE, "[hot glue]", "[nails]", "no method is called 'nails'", "Write one of: hot glue, cold glue."),
    (GLUE, "{load: half}", "half", "a cap is a map of what is capped and where", "Write 'speed: 40 km/h'."),
    # Keys.
    (ROT, "because:", "becuase:", "a rule has no 'becuase'", "Did you mean 'because'?"),
    (CRACK, "    because: <crack length> is within <limit>.\n    source: l", "    becuase: so\n    source: l",
     "no fact is called 'becuase'", "Did you mean 'because'?"),
    (ROT, "verdict: scrap\nb", "rule: again\nverdict: scrap\nb", "'rule' stands on line 1 already", "Keep one"),
    (ROT, "verdict: scrap\nb", "otherwise: {verdict: scrap}\nverdict: scrap\nb",
     "'otherwise' cannot stand here", "It stands in a chart; a 'when' has none."),
    (CRACK, "examples:", "verdict: scrap\nexamples:",
     "'verdict' cannot stand here", "It stands on a line of the chart, or under 'otherwise'."),
    # Examples.
    (ROT, "{kind: ash, rot: deep", "{knid: ash, rot: deep", "no fact is called 'knid'", "Did you mean 'kind'?"),
    (ROT, "wood left: 5 mm", "wood left: up to 5 mm", "'up to 5 mm' is not a number with its unit", "Write for"),
    (ROT, "rot: deep,", "rot: at least deep,", "'rot' cannot be 'at least deep'", ""),
    (ROT, "5 mm, verdict: scrap", "5 mm, verdict: scarp", "no verdict is called 'scarp'", "Did you mean 'scrap'?"),
    (GLUE, "says: do", "says: shout", "'shout' is nothing a rule says", "Write one of: verdict, hold, stop,"),
    # Limit tables.
    (LOAD, "asks:", "aks:", "a table has no 'aks'", "Did you mean 'asks'?"),
    (LOAD, "down: crack length", "down: crack lenght", "no fact is called 'crack lenght'", "Did you mean 'crack"),
    (LOAD, "across: kind", "across: material", "no fact is called 'material'", "Write 'kind' for 'material'."),
    (LOAD, "{cleaned: 'yes'}", "{cleaned: maybe}", "'cleaned' cannot be 'maybe'", "Write one of: yes, no."),
    (LOAD, "90 x 3 kg", "90 kg", "cannot read '90 kg'", "Write 2 number(s): '60 x 60 kg'."),
    (LOAD, "90 x 3 kg", "90 x 3 x 1 kg", "cannot read '90 x 3 x 1 kg'", "Write 2 number(s): '60 x 60 kg'."),
    (LOAD, "90 x 3 kg", "90 x 3 lb", "cannot read '90 x 3 lb'", "Write 2 number(s): '60 x 60 kg'."),
    (LOAD, "90 x 3 kg", "nan x 3 kg", "cannot read 'nan x 3 kg'", "Write 2 number(s): '60 x 60 kg'."),
    (LOAD, "up to 20 mm:", "up to 20 cm:", "crack length is measured in mm, not cm", "Write '20 mm'."),
    (LOAD, "  all: {", "  up to 10 mm: {", "the rows above leave nothing to 'up to 10 mm'", "Let the numbers rise"),
    (LOAD, "  all: {'ash, spruce': 60 x 2 kg, metal: 100 x 4 kg}", "  all: 60 x 2 kg",
     "this row needs one cell for each value of 'kind'", ""),
    (LOAD, "metal: 100", "mettal: 100", "'kind' cannot be 'mettal'", "Did you mean 'metal'?"),
    (LOAD, "source: house, loads", "source: hose, loads", "no source is called 'hose'", "Did you mean 'house'?"),
    # Vocabulary.
    (WORDS, "means: length", "maens: length", "a fact has no 'maens'", "Did you mean 'means'?"),
    (WORDS, "range: 0 to 900", "range: 900 to 0", "cannot read the range '900 to 0'", "Write for example '0 to 600'."),
    (WORDS, "range: 0 to 900", "range: 0 - 900", "cannot read the range '0 - 900'", "Write for example '0 to 600'."),
    (WORDS, "reading error: 2 mm", "reading error: 2 cm", "cannot read '2 cm'", "Write a number in mm."),
    (WORDS, "{'yes': 1 mm}", "1 mm", "this names no fact with its errors", "Write '{fact: {value: error}}'."),
    (WORDS, "when missing: 0", "when missing: 901", "901 is outside the range of 'crack length'", "Write 'unknown'"),
    (WORDS, "when missing: none", "when missing: some", "'rot' cannot be 'some'", "Write one of: none, light, deep,"),
    (WORDS, "decimals: 1", "decimals: one", "cannot read 'one'", "Write how many decimals, from 0 to 6."),
    (WORDS, "about: injury", "about: ladder", "'ladder' is not one of tyre, injury", ""),
    (WORDS, "worse when: bigger", "worse when: large", "'large' is not one of bigger, smaller, later, neither", ""),
    (WORDS, "worse when: bigger", "worse when: later", "a measure is not worse when later", "Write one of bigger,"),
    (WORDS, "worse when: later", "worse when: bigger", "a list is not worse when bigger", "Write one of later,"),
    (WORDS, "synonyms: [material]", "synonyms: material", "this is no list", "Write [a, b]."),
    (WORDS, "values: [none, light, deep, through]", "values: none", "this is no list", "Write [a, b]."),
    # Sources.
    (STANDARD, "kind: standard", "kind: rumour",
     "no kind is called 'rumour'", "Write one of law, standard, guidance, practice, house."),
    # Cover page.
    (PAGE, "[keep, mend, scrap]", "[keep]", "verdicts is a list from mild to severe, each once: [a, b, c]", ""),
    (PAGE, "[keep, mend, scrap]", "[keep, mend, keep]", "verdicts is a list from mild to severe, each once", ""),
    (PAGE, "look: [rails]", "look: rails", "'look' needs a list: [a, b]", ""),
    (PAGE, "work: [mending]", "work: [mending, rails]", "'rails' stands twice under stages", "Keep one of the two."),
    (PAGE, "[hot glue, cold glue]", "hot glue", "'glue' needs a list: [a, b]", ""),
]  # fmt: skip


@pytest.mark.parametrize(
    ("place", "right", "wrong", "what", "instead"), MATRIX, ids=[f"{m[0]}: {m[3]}" for m in MATRIX]
)
def test_a_fault_is_named_with_its_line_and_what_to_write(
    place: str, right: str, wrong: str, what: str, instead: str, tmp_path: Path
) -> None:
    before = FILES[place]
    assert right in before
    after = before.replace(right, wrong, 1)
    write_book(tmp_path, **{place: after})
    message = refusal(tmp_path)
    assert message.startswith(f"{place}:{first_difference(before, after)}: {what}")
    assert instead in message


# The fault is not on the line that was changed: something is missing, or two places do not go together.
ELSEWHERE: list[tuple[str, str, str, int, str, str]] = [
    (CRACK, "verdict: scrap\n", "verdict: keep\n", 16,
     "'keep' is milder than 'mend' on line 10", "What is worse may never get a milder verdict. Move the milder line"),
    (CRACK, "  verdict: scrap\n", "  caution: mind it\n", 16,
     "no verdict is milder than 'mend' on line 10", "What is worse may never get a milder verdict."),
    (CRACK, CHART[CHART.index("otherwise:") : CHART.index("examples:")], "", 4,
     "the chart has a gap: no 'otherwise'", "Say after the chart what holds when no line fits."),
    (CRACK, "otherwise:\n", "otherwise:\n  wood left: at least 3 mm\n", 16, "'otherwise' has no limits", ""),
    (CRACK, "crack length: up to 60 mm\n    rot: up to light\n    verdict", "verdict", 10,
     "this line has no limit, so no line below can be reached", ""),
    (CRACK, CHART[CHART.index("chart:") : CHART.index("otherwise:")], "chart: []\n", 4,
     "a chart is a list of lines, each with a dash", ""),
    (CRACK, "examples:", "when: {rot: deep}\nexamples:", 1, "a rule is either a 'chart:' or a 'when:'", ""),
    (ROT, "when:\n  rot: at least deep\n  wood left: below 20 mm\n", "", 1, "a rule is either a 'chart:' or a", ""),
    (ROT, "verdict: scrap\nb", "b", 1, "this line says nothing", "Say one of: verdict, hold, stop, rule out, cap, do,"),
    (ROT, "verdict: scrap\nb", "do:\nb", 1, "this line says nothing", "Say one of:"),
    (ROT, "because: Rot this deep leaves no sound wood.\n", "", 1, "'because' is missing", "Say in one sentence why."),
    (ROT, "source: ladder standard, clause 5\n", "", 1, "no source is named", "a limit that nobody published says"),
    (ROT, "source: ladder standard, clause 5\n", "source: []\n", 1, "no source is named", "Write 'source: <id>,"),
    (ROT, "asks: Is the rail rotten?\n", "", 1, "the rule does not say 'asks'", "Add the line 'asks: ...'."),
    (ROT, WHEN[WHEN.index("examples:") :], "examples: none\n", 10, "a rule closes with worked examples", ""),
    (ROT, WHEN[WHEN.index("examples:") :], "examples: [none]\n", 10, "an example is a map", ""),
    (LOAD, "source: house, loads\n", "", 1, "the table does not say 'source'", "Add the line 'source: ...'."),
    (LOAD, TABLE[TABLE.index("rows:") :], "rows: many\n", 9, "rows is a map of row: numbers", ""),
    (WORDS, "    means: length of the longest crack\n", "", 2, "'crack length' does not say 'means'", "Add the line"),
    (WORDS, "    worse when: later\n", "", 26, "'rot' does not say 'worse when'", "Add the line 'worse when: ...'."),
    (WORDS, "    range: 0 to 900\n", "", 2, "'crack length' needs either 'values' or 'range'", ""),
    (WORDS, "    range: 0 to 900\n", "    range: 0 to 900\n    values: [a, b]\n", 2,
     "'crack length' needs either 'values' or 'range'", ""),
    (WORDS, VOCABULARY[VOCABULARY.index("  cleaned:") :], "  cleaned: yes or no\n", 38,
     "the fact 'cleaned' is described by 'key: value' lines", ""),
    (WORDS, "facts:\n", "fact:\n", 1, "a vocabulary file holds 'facts:' and nothing else", ""),
    (STANDARD, "kind: standard\n", "", 1, "'kind' is missing", "Add the line 'kind: ...'."),
    (STANDARD, "places:\n  table 3: cracks\n  clause 5: rot\n", "places: some\n", 7, "places is a list", ""),
    (STANDARD, "source: ladder standard", "source: house", 1, "the source 'house' is described twice", ""),
    (PAGE, "owner: nobody\n", "", 1, "the cover page does not say 'owner'", "Add the line 'owner: ...'."),
    (PAGE, "  look: [rails]\n  work: [mending]\n", "  - rails\n", 5, "stages is a map of names, each with a list", ""),
]  # fmt: skip


@pytest.mark.parametrize(
    ("place", "right", "wrong", "line", "what", "instead"), ELSEWHERE, ids=[f"{m[0]}: {m[4]}" for m in ELSEWHERE]
)
def test_a_fault_that_lies_between_lines_is_named_where_it_is_mended(
    place: str, right: str, wrong: str, line: int, what: str, instead: str, tmp_path: Path
) -> None:
    before = FILES[place]
    assert right in before
    write_book(tmp_path, **{place: before.replace(right, wrong, 1)})
    message = refusal(tmp_path)
    assert message.startswith(f"{place}:{line}: {what}")
    assert instead in message


def test_a_fact_described_in_two_files_is_refused(tmp_path: Path) -> None:
    again = "facts:\n  rot: {means: r, about: injury, worse when: later, values: [a, b]}\n"
    write_book(tmp_path, **{"knowledge/vocabulary/more.yaml": again})
    assert refusal(tmp_path) == "knowledge/vocabulary/more.yaml:2: the fact 'rot' is described twice"


def test_a_folder_that_belongs_to_no_stage_is_refused(tmp_path: Path) -> None:
    write_book(tmp_path, **{"rules/rungs/rot.yaml": WHEN})
    message = refusal(tmp_path)
    assert message.startswith("rules/rungs/rot.yaml:1: the folder 'rungs' belongs to no stage")
    assert "Name it in rulebook.yaml under stages." in message


def test_a_rule_that_would_be_passed_over_for_its_ending_is_refused(tmp_path: Path) -> None:
    write_book(tmp_path, **{"rules/rails/deep.yml": WHEN})
    assert refusal(tmp_path).endswith("deep.yml: this file would not be read. Rename it to end in '.yaml'.")


@pytest.mark.parametrize("name", ["vocabulary", "sources"])
def test_a_missing_folder_is_named(name: str, tmp_path: Path) -> None:
    write_book(tmp_path, **{place: None for place in FILES if place.startswith(f"knowledge/{name}")})
    assert f"no folder '{name}' here." in refusal(tmp_path)


def test_a_missing_cover_page_is_named(tmp_path: Path) -> None:
    write_book(tmp_path, **{PAGE: None})
    assert "no rulebook.yaml here." in refusal(tmp_path)
    with pytest.raises(RulebookError, match=r"no rulebook\.yaml here"):
        open_book(tmp_path / "nowhere", tmp_path / "knowledge")


def test_a_listed_fact_may_stand_in_any_order_on_its_good_side(tmp_path: Path) -> None:
    write_book(tmp_path, **{CRACK: CHART.replace("rot: up to light", "rot: any of [light, none]")})
    crack = next(rule for rule in open_ladders(tmp_path).rules if rule.is_chart)
    assert set(crack.lines[1].bounds[1].values) == {"none", "light"}


STAND_INS: tuple[Any, ...] = ("", "x", "7", "nan", "1e9", [], ["x"], [["x"]], [{"a": "b"}], {}, {"a": "b"}, {"a": {}})


def broken(tree: Any, rebuild: Any) -> Iterator[Any]:
    """Yield the whole tree with each node in turn left out or replaced by something that does not belong there."""
    for stand_in in STAND_INS:
        yield rebuild(stand_in)
    if isinstance(tree, dict):
        for key, value in tree.items():
            yield rebuild({k: v for k, v in tree.items() if k != key})
            yield rebuild({**tree, f"{key}x": value})
            yield from broken(value, lambda new, key=key: rebuild({**tree, key: new}))
    elif isinstance(tree, list):
        for place, value in enumerate(tree):
            yield rebuild([*tree, value])
            yield from broken(value, lambda new, place=place: rebuild([*tree[:place], new, *tree[place + 1 :]]))


@pytest.mark.parametrize("place", [place for place in FILES if place != "knowledge/sources/house.yaml"])
def test_whatever_is_written_a_book_is_refused_in_words_or_can_be_judged_with(place: str, tmp_path: Path) -> None:
    write_book(tmp_path)
    refusals: list[str] = []
    for tree in broken(parse_document(FILES[place], place).tree, lambda new: new):
        (tmp_path / place).write_text(json.dumps(tree), encoding="utf-8")
        try:
            book = open_ladders(tmp_path)
        except (RulebookError, DocumentError) as error:
            refusals.append(str(error))
        else:
            _can_judge(book)
    assert len(refusals) > 20
    assert all(message.startswith(f"{tmp_path}/") for message in refusals)


def _can_judge(book: Rulebook) -> None:
    for rule in book.rules:
        assert all(line.sources for line in rule.lines)
        lower(rule)
    Columns(book.rules, book.verdicts)
    check_examples(book)
