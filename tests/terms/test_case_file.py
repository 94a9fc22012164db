"""What a shop leaves open counts as left out; what it writes wrongly is one clear error with its line."""

import pytest

from mendbook.folders import folder
from mendbook.rulebook.files import read_files
from mendbook.rulebook.vocabulary_file import read_vocabulary
from mendbook.terms.case import Case
from mendbook.terms.case_file import CaseError, check_case
from mendbook.terms.document import STANDARD_INPUT, parse_document
from mendbook.terms.vocabulary import Vocabulary


@pytest.fixture(scope="module")
def vocabulary() -> Vocabulary:
    return read_vocabulary(read_files(folder("knowledge").joinpath("vocabulary")).values())


def read(text: str, vocabulary: Vocabulary, name: str = "case.yaml") -> Case:
    return check_case(parse_document(text, name), vocabulary)


def faults(text: str, vocabulary: Vocabulary) -> list[str]:
    with pytest.raises(CaseError) as refused:
        read(text, vocabulary)
    return str(refused.value).splitlines()


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("duty: dozer", "Did you mean 'dozer or compactor'?"),
        ("duty: compactor", "Did you mean 'dozer or compactor'?"),
        ("duty: Gantry", "Did you mean 'straddle or gantry'?"),
        ("duty: haul", "Did you mean 'haul short' or 'haul long'?"),
        ("duty: loader v-cicle", "Did you mean 'loader v-cycle'?"),
        ("use: quarry", "Write one of: off-road, road, unknown."),
        ("use: {a: b}", "Write one of: off-road, road, unknown."),
        ("country: france", "Write one of: us, uk, other, unknown."),
    ],
)
def test_a_value_of_no_list_is_answered_with_whole_values(line: str, told: str, vocabulary: Vocabulary) -> None:
    (fault,) = faults(f"case: x\nservice:\n  {line}\n", vocabulary)
    assert fault.startswith(f"case.yaml:3: service.{line.split(':')[0]}: ")
    assert fault.endswith(told)


def test_every_listed_value_is_answered_when_its_last_letter_is_missing(vocabulary: Vocabulary) -> None:
    """The names come from the vocabulary: also those that hold ' or ' or a comma."""
    listed = [fact for fact in vocabulary.given() if fact.is_listed]
    assert any(" or " in value for fact in listed for value in fact.values)
    for fact in listed:
        indent = f"{fact.section}:\n  " + ("- name: A\n    " if fact.section == "injuries" else "")
        for value in (value for value in fact.values if len(value) > 4 and value[:-1] not in fact.values):
            (fault,) = faults(f"case: x\n{indent}{fact.name}: '{value[:-1]}'\n", vocabulary)
            assert f"'{value}'" in fault


def test_what_is_left_open_counts_as_left_out(vocabulary: Vocabulary) -> None:
    case = read(
        "case:\ntyre:\n  designation:\n  tread left: ''\nfound:\ninjuries:\n"
        "  - name:\n    length:\n  - name: A\n    length:\n  -\nearlier repairs:\n",
        vocabulary,
        name="yard/tyre_7.yaml",
    )
    assert case == read("case: tyre_7\ninjuries: [{name: A}]\n", vocabulary)
    assert case.earlier_repairs == "unknown"
    assert case.injuries[0].written("length") is None


@pytest.mark.parametrize(
    ("file", "called"), [("yard/tyre_7.yaml", "tyre_7"), ("tyre 8", "tyre 8"), (STANDARD_INPUT, "case")]
)
def test_a_case_without_a_name_takes_that_of_its_file(file: str, called: str, vocabulary: Vocabulary) -> None:
    assert read("tyre: {tag: T}", vocabulary, name=file).case == called


def test_an_empty_list_that_somebody_wrote_is_kept(vocabulary: Vocabulary) -> None:
    """'[]' says that there is none; nothing says nothing."""
    assert read("earlier repairs: []", vocabulary).earlier_repairs == ()


def test_an_error_behind_a_dropped_item_keeps_its_line(vocabulary: Vocabulary) -> None:
    (fault,) = faults("case: x\ninjuries:\n  - name:\n  - name: A\n    length: 5 bar\n", vocabulary)
    assert fault.startswith("case.yaml:5: injuries [1].length: 5 bar is a pressure")


def test_two_injuries_of_one_name_are_told_at_the_second(vocabulary: Vocabulary) -> None:
    text = "case: x\ninjuries:\n  - name: A\n  -\n  - name: B\n  - length: 5 mm\n    name: A\n"
    assert faults(text, vocabulary) == [
        "case.yaml:7: injuries [3].name: two injuries are called 'A': give each its own name."
    ]


def test_errors_come_in_the_order_of_the_file(vocabulary: Vocabulary) -> None:
    injury = "injuries:\n  - name: A\n    kind: x\n    length: 5\n    side: up\n"
    text = f"{injury}service:\n  use: x\n  speed: 5 bar\ntyre:\n  casing: x\n"
    lines = [int(fault.split(":")[1]) for fault in faults(text, vocabulary)]
    assert lines == [3, 4, 5, 7, 8, 10]


@pytest.mark.parametrize(
    ("written", "told"),
    [
        ("maybe", "'maybe' is not known here. Write one of: none, not mapped, unknown."),
        ("{name: P1}", "stands where a list should be."),
        ("[{name: P1, class: spit}]", "Did you mean 'spot'?"),
    ],
)
def test_earlier_repairs_are_answered_once(written: str, told: str, vocabulary: Vocabulary) -> None:
    (fault,) = faults(f"case: x\nearlier repairs: {written}\n", vocabulary)
    assert fault.startswith("case.yaml:2: earlier repairs")
    assert fault.endswith(told)


@pytest.mark.parametrize("written", ["many", "250 tkph", "-5", "0", "nan", "inf", "[1]", "1,250"])
def test_a_rating_is_refused_in_our_own_words(written: str, vocabulary: Vocabulary) -> None:
    (fault,) = faults(f"case: x\nservice:\n  tkph rating: {written}\n", vocabulary)
    assert fault.startswith("case.yaml:3: service.tkph rating: '")
    assert "Write " in fault
    assert "Input should" not in fault


def test_a_rating_is_a_plain_figure_or_unknown(vocabulary: Vocabulary) -> None:
    def rating(written: str) -> object:
        return read(f"service: {{tkph rating: '{written}'}}", vocabulary).service.tkph_rating

    assert (rating("250"), rating("250,5"), rating("unknown")) == (250.0, 250.5, None)


@pytest.mark.parametrize(
    ("written", "degrees"), [("3 o'clock", 90.0), ("12 o'clock", 0.0), ("9 O’Clock", 270.0), ("95 deg", 95.0)]
)
def test_a_place_may_be_written_as_on_a_clock(written: str, degrees: float, vocabulary: Vocabulary) -> None:
    clock = read(f'injuries: [{{name: A, clock: "{written}"}}]', vocabulary).injuries[0].clock
    assert clock is not None
    assert (clock.value, str(clock)) == (degrees, written)


@pytest.mark.parametrize("written", ["13 o'clock", "0 o'clock"])
def test_an_hour_of_no_clock_is_refused(written: str, vocabulary: Vocabulary) -> None:
    (fault,) = faults(f'injuries: [{{name: A, clock: "{written}"}}]', vocabulary)
    assert "is not on the clock. Write 1 to 12 o'clock" in fault
