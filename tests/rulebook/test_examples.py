from dataclasses import replace
from pathlib import Path

import pytest

from mendbook.folders import folder
from mendbook.rulebook.book import Rulebook, open_book
from mendbook.rulebook.examples import check_examples, check_rule
from mendbook.rulebook.tree import Bound, Example, Line, Op, Outcome, Rule
from mendbook.terms.vocabulary import Subject

UP_TO_60 = Bound("length", Op.UP_TO, 60.0, text="up to 60 mm")
SMALL, LARGE = {"zone": "shoulder", "length": 60.0}, {"zone": "shoulder", "length": 61.0}


def chart(*examples: Example) -> Rule:
    return Rule(
        id="shoulder/cut",
        name="cut",
        asks="How large?",
        file="shoulder/cut.yaml",
        stage="injury",
        subject=Subject.INJURY,
        applies=(Bound("zone", Op.IN, values=("shoulder",)),),
        lines=(
            Line((UP_TO_60,), Outcome(verdict="spot"), "small", (), 5),
            Line((), Outcome(verdict="reject", caution=("mind it",)), "large", (), 9),
        ),
        is_chart=True,
        examples=examples,
    )


def example(facts: dict[str, float | str], at: int, verdict: str | None = None, says: str = "") -> Example:
    return Example(facts, verdict, says or ("verdict" if verdict else "nothing"), "", at)


GOOD = (
    example(SMALL, 12, "spot"),
    example(LARGE, 13, "reject"),
    example({**LARGE, "zone": "bead"}, 14),
    example(LARGE, 15, says="caution"),
)


def test_a_rule_whose_examples_come_true_and_reach_every_line_has_no_fault() -> None:
    assert check_rule(chart(*GOOD)) == []


@pytest.mark.parametrize(
    ("wrong", "fault"),
    [
        (
            example(SMALL, 20, "reject"),
            "shoulder/cut.yaml:20: the example expects the verdict 'reject', the rule says 'spot'",
        ),
        (
            example(LARGE, 20),
            "shoulder/cut.yaml:20: the example expects 'nothing', the rule says 'verdict' and 'caution'",
        ),
        (
            example({**SMALL, "zone": "bead"}, 20, "spot"),
            "shoulder/cut.yaml:20: the example expects 'verdict', the rule says 'nothing'",
        ),
        (
            example(SMALL, 20, says="hold"),
            "shoulder/cut.yaml:20: the example expects 'hold', the rule says 'verdict'",
        ),
        (
            example({"length": 5.0}, 20, "spot"),
            "shoulder/cut.yaml:20: the example does not say 'zone', which the rule looks at",
        ),
        (
            example({}, 20),
            "shoulder/cut.yaml:20: the example does not say 'length' and 'zone', which the rule looks at",
        ),
    ],
)
def test_an_example_that_does_not_come_true_is_named_with_its_line(wrong: Example, fault: str) -> None:
    assert check_rule(chart(*GOOD, wrong)) == [fault]


def test_a_verdict_asked_beside_another_saying_must_be_given_too() -> None:
    silent = replace(
        chart(example(SMALL, 12, "spot", says="do")),
        lines=(Line((), Outcome(do=("dry it",)), "wet", (), 5),),
    )
    assert check_rule(silent) == ["shoulder/cut.yaml:12: the example expects the verdict 'spot', the rule gives none"]


def test_a_line_that_no_example_reaches_is_named() -> None:
    assert check_rule(chart(GOOD[0], GOOD[2])) == ["shoulder/cut.yaml:9: no example reaches this line"]
    assert check_rule(chart(GOOD[2])) == [
        "shoulder/cut.yaml:5: no example reaches this line",
        "shoulder/cut.yaml:9: no example reaches this line",
    ]


def test_a_verdict_that_no_example_names_is_told() -> None:
    """One that only asks for the caution would let the verdict slip."""
    [fault] = check_rule(chart(GOOD[0], GOOD[2], GOOD[3]))
    assert fault.startswith("shoulder/cut.yaml:9: no example names the verdict of this line")


@pytest.fixture(scope="module")
def shipped() -> Rulebook:
    return open_book(folder("rules"), folder("knowledge"))


def test_every_example_of_the_shipped_rulebook_holds(shipped: Rulebook) -> None:
    assert check_examples(shipped) == []


def test_a_broken_copy_of_the_shipped_rulebook_is_caught_rule_by_rule(shipped: Rulebook) -> None:
    for rule in shipped.rules:
        assert check_examples(replace(shipped, rules=(replace(rule, examples=()),))), rule.id
        assert all(fault.startswith(f"{rule.file}:") for fault in check_rule(replace(rule, examples=())))
    assert Path(shipped.rules[0].file).suffix == ".yaml"
