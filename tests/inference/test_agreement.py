"""Two evaluators, one answer: durable-rules and the columns say what the tree says, about any facts."""

from collections.abc import Mapping, Sequence
from random import Random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.columns import Columns
from mendbook.columns.speak import HOLDS, SEVERITY, SILENT, STOPS
from mendbook.folders import folder
from mendbook.inference import Session, is_available
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.tree import Op, Rule
from tests.columns.rows import Row, Spoken, aimed, around, as_frame, choices, groups, referee

if not is_available():  # every test here compares with durable-rules; without it there is nothing to compare
    pytest.skip("durable-rules cannot be imported here (Python 3.13 and later)", allow_module_level=True)


class Bench:
    """Both evaluators of the rules of one stage and subject, made ready once."""

    def __init__(self, book: Rulebook, rules: Sequence[Rule]) -> None:
        self.book, self.rules = book, rules
        self.session, self.columns = Session(rules), Columns(rules, book.verdicts)
        self.choices = choices(rules, book.vocabulary)
        self.lines = [(rule, line) for rule in rules for line in range(len(rule.lines))]

    def compare(self, rows: Sequence[Row]) -> Spoken:
        """Assert that both evaluators and the tree agree about `rows`; return what was said."""
        want = referee(self.rules, rows)
        frame = as_frame(rows, self.book.vocabulary)
        firings = self.session.infer({name: frame.get_column(name).to_list() for name in self.session.facts}, len(rows))
        assert len(firings) == len(set(firings))
        assert {(firing.row, firing.rule, firing.line) for firing in firings} == want
        spoken = enumerate(self.columns.speak(frame).rows())
        heard = {(row, r.id, n) for row, said in spoken for r, n in zip(self.rules, said, strict=True) if n != SILENT}
        assert heard == want
        assert self.columns.fold(frame).to_dict(as_series=False) == self.fold(want, len(rows))
        return want

    def fold(self, said: Spoken, height: int) -> Mapping[str, list[int]]:
        severity, holds, stops = [SILENT] * height, [0] * height, [0] * height
        rules = {rule.id: rule for rule in self.rules}
        for place, name, line in said:
            outcome = rules[name].lines[line].outcome
            severity[place] = max(severity[place], self.book.rank(outcome.verdict) if outcome.verdict else SILENT)
            holds[place] += outcome.hold is not None
            stops[place] += outcome.stop is not None
        return {SEVERITY: severity, HOLDS: holds, STOPS: stops}

    def draw(self, pick: Random) -> Row:
        return {name: pick.choice(values) for name, values in self.choices.items()}


GROUPS = tuple(name for name, _ in groups(open_book(folder("rules"), folder("knowledge"))))


@pytest.fixture(scope="module")
def benches(book: Rulebook) -> Mapping[str, Bench]:
    return {name: Bench(book, rules) for name, rules in groups(book)}


def draw_and_compare(bench: Bench, data: st.DataObject) -> None:
    row = data.draw(st.fixed_dictionaries({name: st.sampled_from(tried) for name, tried in bench.choices.items()}))
    at: list[tuple[Rule, int]] = data.draw(st.lists(st.sampled_from(bench.lines), max_size=4))
    pick = data.draw(st.randoms(use_true_random=False))
    bench.compare([row, *(aimed(rule, line, row, pick) for rule, line in at)])


@pytest.mark.parametrize("name", GROUPS)
@settings(max_examples=20, deadline=None)
@given(data=st.data())
def test_three_readers_of_one_book_agree(name: str, benches: Mapping[str, Bench], data: st.DataObject) -> None:
    draw_and_compare(benches[name], data)


@pytest.mark.long
@pytest.mark.parametrize("name", GROUPS)
@settings(max_examples=2_000, deadline=None)
@given(data=st.data())
def test_three_readers_of_one_book_agree_at_length(
    name: str, benches: Mapping[str, Bench], data: st.DataObject
) -> None:
    draw_and_compare(benches[name], data)


@pytest.mark.parametrize("name", GROUPS)
def test_every_rule_speaks_in_both_evaluators(name: str, benches: Mapping[str, Bench]) -> None:
    bench, pick = benches[name], Random(20261125)
    said = bench.compare([aimed(rule, line, bench.draw(pick), pick) for rule, line in bench.lines])
    assert {rule for _, rule, _ in said} == {rule.id for rule in bench.rules}


@pytest.mark.parametrize("name", GROUPS)
def test_at_every_limit_and_beside_it_all_agree(name: str, benches: Mapping[str, Bench]) -> None:
    """Each measure in turn takes every value on and beside its limit, in a row that meets the rest of the line."""
    bench, pick = benches[name], Random(7)
    rows: list[Row] = []
    for rule, line in bench.lines:
        reached = aimed(rule, line, bench.draw(pick), pick)
        for bound in (*rule.applies, *rule.lines[line].bounds):
            values = bound.values + bound.others if bound.op is Op.IN else around(bound.number)
            rows += [{**reached, bound.fact: value} for value in values]
    assert len(rows) > len(bench.rules)
    bench.compare(rows)
