"""Rules as formulas against the rules themselves: on drawn facts both say the same."""

from collections.abc import Callable, Mapping

import pytest
import z3
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.proof.speech import Speech, meets, meets_all
from mendbook.proof.symbols import Finite, Number, Symbol, Truth, exact
from mendbook.proof.unknowns import unknown
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Bound, Op, Outcome, Value

# On every limit of the book, just past it, and far from it.
CASES = st.fixed_dictionaries(
    {
        "crack length": st.sampled_from((0.0, 24.9, 25.0, 25.1, 60.0, 60.1, 900.0)),
        "wood left": st.sampled_from((0.0, 9.9, 10.0, 19.9, 20.0, 100.0)),
        "damp": st.sampled_from((0.0, 39.9, 40.0, 80.0, 80.1, 100.0)),
        "rot": st.sampled_from(("none", "light", "deep", "through")),
        "kind": st.sampled_from(("ash", "spruce", "metal")),
        "cleaned": st.sampled_from(("yes", "no")),
    }
)
WORDS = ("hold", "stop", "rule out", "cap", "do", "caution")


class Asked:
    """All facts of a book as unknowns, pinned to those of a case; everything is settled then."""

    def __init__(self, book: Rulebook) -> None:
        self.row: dict[str, Symbol] = {}
        self.solver = z3.Solver()
        for fact in book.vocabulary:
            self.row[fact.name], within = unknown(fact)
            self.solver.add(within)

    def pin(self, facts: Mapping[str, Value]) -> None:
        for name, value in facts.items():
            symbol = self.row[name]
            if isinstance(symbol, Finite):
                self.solver.add(symbol.cases[value])
            elif isinstance(symbol, Number):
                self.solver.add(symbol.term == exact(float(value)))
        assert self.solver.check() == z3.sat

    def holds(self, guard: z3.BoolRef) -> bool:
        """Whether `guard` holds; fails when the pinned facts leave it open."""
        answers = [self.solver.check(side) == z3.sat for side in (guard, z3.Not(guard))]
        assert answers[0] is not answers[1]
        return answers[0]


@given(facts=CASES)
@settings(max_examples=60)
def test_formulas_speak_as_the_rules_do(ladders: Rulebook, facts: dict[str, Value]) -> None:
    rules = tuple(ladders.by_id().values())
    asked = Asked(ladders)
    asked.pin(facts)
    speech = Speech(rules, asked.row, ladders.verdicts)
    spoken: list[Outcome] = []
    for rule in rules:
        decides = rule.speaks(facts)
        found = [place for place, guard in enumerate(speech.lines[rule.id]) if asked.holds(guard)]
        assert found == ([] if decides is None else [decides])
        spoken += [rule.lines[place].outcome for place in found]
    verdicts = [ladders.rank(said.verdict) for said in spoken if said.verdict]
    for rank in range(len(ladders.verdicts)):
        assert asked.holds(speech.at_least(rank)) is any(own >= rank for own in verdicts)
    for word in WORDS:
        assert asked.holds(speech.says(word)) is any(word in said.words() for said in spoken)
    for method in ladders.methods["glue"]:
        assert asked.holds(speech.rules_out(method)) is any(method in said.rule_out for said in spoken)


@pytest.mark.parametrize("op", [Op.UP_TO, Op.BELOW, Op.AT_LEAST, Op.OVER])
@pytest.mark.parametrize("value", [9.9, 10.0, 10.1])
def test_a_limit_is_met_as_the_tree_meets_it(op: Op, value: float) -> None:
    bound = Bound("length", op, 10.0)
    guard = meets(bound, {"length": Number(exact(value))})
    assert z3.is_true(z3.simplify(guard)) is bound.holds(value)


@pytest.mark.parametrize("bound", [Bound("size", Op.AT_LEAST, 0.0), Bound("size", Op.UP_TO, 9.0)])
@pytest.mark.parametrize(
    "nothing",
    [lambda: Number(z3.RealVal(5), z3.BoolVal(val=True)), lambda: Finite({None: z3.BoolVal(val=True)})],
)
def test_what_is_null_meets_no_limit(bound: Bound, nothing: Callable[[], Symbol]) -> None:
    assert z3.is_false(z3.simplify(meets(bound, {"size": nothing()})))


def test_no_limits_are_always_met() -> None:
    assert z3.is_true(meets_all((), {}))


def test_a_condition_is_no_fact() -> None:
    with pytest.raises(TypeError, match="'size' is a condition"):
        meets(Bound("size", Op.UP_TO, 1.0), {"size": Truth(z3.Bool("p"))})
