"""What a sentence prints: numbers as people write them, and plain words where no number is known."""

import re

import pytest

from mendbook.facts.origins import ORIGINS
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import LIMIT, QUANTITY, fill, placeholders, spell_unknown, spell_value
from mendbook.terms.vocabulary import Fact, Subject, Worse

SIZE_CHARTS = [
    f"{zone}/{depth}_{casing}"
    for zone in ("shoulder", "sidewall")
    for depth in ("part_depth", "through")
    for casing in ("bias", "textile_radial", "steel_radial")
]
# The fact that a share of a limit must show beside its limit, or itself, when a chart has run out of lines.
SHOWN = {
    "share of length limit": ("deciding length", "length limit"),
    "share of width limit": ("deciding width", "width limit"),
    "share of cord limit": ("cords cut counted", "cord limit"),
    "share of area limit": ("share of area limit",),
}


def measure(unit: str, decimals: int = 0) -> Fact:
    return Fact("x", "x", Subject.TYRE, Worse.BIGGER, unit=unit, decimals=decimals)


def may_be_unknown(fact: Fact) -> bool:
    """Return whether a case file can leave nothing known of the measure."""
    return not fact.is_listed and (fact.is_given or fact.name in ORIGINS)


@pytest.mark.parametrize(
    ("unit", "words"),
    [
        ("mm", "an unknown size"), ("cm2", "an unknown area"), ("%", "an unknown share"),
        ("bar", "an unknown pressure"), ("h", "an unknown number of hours"),
        ("years", "an unknown number of years"), ("°C", "an unknown temperature"), ("km/h", "an unknown speed"),
        ("deg", "an unknown angle"), ("kg", "an unknown mass"), ("Shore A", "an unknown hardness"),
        ("plies", "an unknown number of plies"), ("cords", "an unknown number of cords"),
        ("", "an unknown value"), ("furlong", "an unknown value"),
    ],
)  # fmt: skip
def test_an_unknown_is_called_after_its_unit(unit: str, words: str) -> None:
    assert spell_unknown(measure(unit)) == words


def test_every_unit_of_the_vocabulary_that_has_one_has_a_name(book: Rulebook) -> None:
    units = {fact.unit for fact in book.vocabulary if fact.unit}
    assert {unit for unit in units if unit not in QUANTITY and not unit.endswith("s")} == set()


@pytest.mark.parametrize(
    ("unit", "decimals", "value", "words"),
    [("years", 0, 1.0, "1 year"), ("years", 1, 0.5, "0.5 years"), ("mm", 1, 48.0, "48 mm"), ("mm", 0, -0.2, "0 mm"),
     ("%", 0, 47.4, "47 %"), ("", 2, 1.50, "1.5")],
)  # fmt: skip
def test_a_value_is_written_as_people_write_it(unit: str, decimals: int, value: float, words: str) -> None:
    assert spell_value(measure(unit, decimals), value) == words


def test_only_what_is_unknown_loses_its_number(book: Rulebook) -> None:
    sentence = "<deciding length> by <deciding width> is long, at <pressure ratio> of its pressure."
    facts = {"deciding length": 300.0, "deciding width": 40.0, "pressure ratio": 0.0}
    told = fill(sentence, facts, (), book.vocabulary, unknown={"deciding length", "pressure ratio"})
    assert told == "An unknown size by 40 mm is long, at an unknown share of its pressure."


def test_no_sentence_of_the_book_stumbles_over_an_unknown(book: Rulebook) -> None:
    """An adverb of a measure ("8 mm deep"), a bare "only" or a "have" needs a number before or after it."""
    stumbling = re.compile(
        r"\b(?:Only|only) an unknown|an unknown (?:size|share)(?: (?:deep|long|wide|thick|past|have)\b)|\ba an\b"
    )
    for rule in book.rules:
        for line in rule.lines:
            outcome = line.outcome
            for sentence in (line.because, outcome.hold, outcome.stop, *outcome.do, *outcome.caution):
                names = {name for name in placeholders(sentence or "") if name != LIMIT}
                unknown = {name for name in names if may_be_unknown(book.vocabulary[name])}
                facts = dict.fromkeys(names, "")
                told = fill(sentence or "", facts, line.bounds, book.vocabulary, unknown)
                assert not stumbling.search(told), (rule.id, told)


@pytest.mark.parametrize("name", SIZE_CHARTS)
def test_a_reject_by_size_shows_every_limit_that_may_have_broken(name: str, book: Rulebook) -> None:
    """Else a fitter reads of a length and a width within their limits and of nothing that is past one."""
    rule = next(rule for rule in book.rules if rule.id == name)
    *lines, last = rule.lines
    assert last.outcome.verdict == "reject"
    looked_at = {bound.fact for line in lines for bound in line.bounds} & set(SHOWN)
    assert "share of area limit" in looked_at
    shown = set(placeholders(last.because))
    assert {fact for share in looked_at for fact in SHOWN[share]} <= shown
