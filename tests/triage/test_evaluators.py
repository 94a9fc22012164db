"""The two evaluators: they agree, and the rule engine does nothing behind one's back."""

import sys
import threading
from dataclasses import replace
from typing import Any

import polars as pl
import pytest

from mendbook.columns.speak import SEVERITY
from mendbook.inference import Session
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop
from mendbook.triage.evaluators import BothEvaluators, ColumnEvaluator, EvaluatorsDisagree, rule_engine_is_available
from tests.triage.cases import CUT, LOADER, but, triage

needs_rule_engine = pytest.mark.skipif(not rule_engine_is_available(), reason="durable-rules cannot be imported here")


@needs_rule_engine
def test_a_session_starts_no_thread_of_its_own(shop: Shop) -> None:
    """A thread that looks for actions takes them out of the middle of an assertion, and their firing is lost."""
    before = threading.active_count()
    session = Session(shop.book.rules_of("people"))
    assert session.facts
    assert threading.active_count() == before


@needs_rule_engine
def test_the_rule_engine_gives_the_same_answer_however_often_it_is_asked(shop: Shop) -> None:
    """Threads that switch a thousand times as often as they do would bring out what others do meanwhile."""
    session = Session(rule for rule in shop.book.rules_of("people") if rule.subject is Subject.TYRE)
    facts = {name: shop.book.vocabulary[name] for name in session.facts}
    worst = {n: [f.values[-1] if f.is_listed else f.ends(f.low, f.high)[1]] for n, f in facts.items()}
    usual = sys.getswitchinterval()
    sys.setswitchinterval(1e-6)
    try:
        answers = {tuple(sorted((f.rule, f.line) for f in session.infer(worst, 1))) for _ in range(3000)}
    finally:
        sys.setswitchinterval(usual)
    assert len(answers) == 1
    assert len(answers.pop()) > 10


def test_the_columns_alone_give_the_same_docket(shop: Shop) -> None:
    """Where durable-rules cannot be imported they decide alone, and the docket says so."""
    alone = triage(but(LOADER, injuries=[CUT]), replace(shop, evaluator=ColumnEvaluator(shop.book)))
    both = triage(but(LOADER, injuries=[CUT]), shop)
    ignored = {"judged", "evaluator"}
    assert alone.model_dump(exclude=ignored) == both.model_dump(exclude=ignored)
    assert (alone.evaluator, both.evaluator) == ("columns", "durable-rules")


@needs_rule_engine
def test_a_disagreement_is_never_passed_over(shop: Shop) -> None:
    class Deaf(ColumnEvaluator):
        def fold(self, *args: Any, **options: Any) -> pl.DataFrame:
            return super().fold(*args, **options).with_columns(pl.lit(0, pl.Int16).alias(SEVERITY))

    both = BothEvaluators(shop.book)
    both._columns = Deaf(shop.book)
    with pytest.raises(EvaluatorsDisagree, match="durable-rules and columns disagree"):
        triage(but(LOADER, injuries=[CUT]), replace(shop, evaluator=both))
