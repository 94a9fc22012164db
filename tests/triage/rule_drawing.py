"""Strategies that draw whole rules in the form that the reader asks for, over the facts known in their stage."""

from hypothesis import strategies as st

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.phrases import BAD_SIDE, GOOD_SIDE, read_bounds
from mendbook.rulebook.tree import Bound, Citation, Line, Outcome, Rule, simplify
from mendbook.terms.vocabulary import Fact, Subject, Worse

SOURCE = (Citation("house", "drawn"),)
DRAWN = "drawn/rule"
SPEAKING = ("people", "casing", "injury", "pairs")  # stages in which a verdict, a hold or a stop is heard
MOST_LINES = 3


@st.composite
def listed_bounds(draw: st.DrawFn, fact: Fact) -> Bound:
    """Some values of a listed fact, in any order."""
    chosen = draw(st.sets(st.sampled_from(fact.values), min_size=1, max_size=max(1, len(fact.values) - 1)))
    return read_bounds(fact, [value for value in fact.values if value in chosen])[0]


@st.composite
def sided_bounds(draw: st.DrawFn, fact: Fact, *, is_good: bool) -> Bound:
    """A limit on the good side of a fact, or on its bad side."""
    if fact.is_listed:
        if fact.worse is Worse.NEITHER:
            return draw(listed_bounds(fact))
        place = draw(st.integers(1, max(1, len(fact.values) - 1)))
        return read_bounds(fact, list(fact.values[:place] if is_good else fact.values[place:] or fact.values[-1:]))[0]
    op = draw(st.sampled_from((GOOD_SIDE if is_good else BAD_SIDE)[fact.worse]))
    # Near the good end as well, where limits stand: the whole range of a share is a hundred thousand per cent.
    share = draw(st.sampled_from((0.0, 0.0001, 0.001, 0.005, 0.02, 0.1, 0.3, 0.6, 0.9)))
    number = round(fact.low + share * (fact.high - fact.low), fact.decimals)
    return read_bounds(fact, f"{op.value} {number:f} {fact.unit}".strip())[0]


@st.composite
def outcomes(draw: st.DrawFn, stage: str, verdicts: tuple[str, ...]) -> Outcome:
    """What a line says in a stage."""
    if stage == "people" and draw(st.booleans()):
        return Outcome(stop="Stand back.")
    hold = "Look again." if draw(st.integers(0, 3)) == 0 else None
    return Outcome(verdict=draw(st.sampled_from(verdicts)), hold=hold)


@st.composite
def rules(draw: st.DrawFn, book: Rulebook) -> Rule:
    """A whole rule: a chart whose verdicts never get milder downward, or a when."""
    stage = draw(st.sampled_from(SPEAKING))
    order = ["", *(one.name for one in book.stages)]
    known = [
        fact
        for fact in book.vocabulary
        if order.index(fact.stage) <= order.index(stage) and (stage != "people" or fact.subject is Subject.TYRE)
    ]
    # A placeholder for `use` and the like is a list; a measure that is worse in neither direction takes no verdict.
    ranked = [fact for fact in known if fact.is_listed or fact.worse is not Worse.NEITHER]
    applies = tuple(
        draw(listed_bounds(fact)) for fact in draw(some([fact for fact in known if fact.is_listed], least=0))
    )
    is_chart = draw(st.booleans())
    if is_chart:
        count = draw(st.integers(1, MOST_LINES))
        said = sorted((draw(st.sampled_from(book.verdicts)) for _ in range(count + 1)), key=book.verdicts.index)
        bounds = [tuple(draw(sided_bounds(fact, is_good=True)) for fact in draw(some(ranked))) for _ in range(count)]
        lines = tuple(
            Line(simplify(limits), Outcome(verdict=verdict), "drawn.", SOURCE, place)
            for place, (limits, verdict) in enumerate(zip([*bounds, ()], said, strict=True), 1)
        )
    else:
        limits = tuple(draw(sided_bounds(fact, is_good=False)) for fact in draw(some(ranked)))
        lines = (Line(limits, draw(outcomes(stage, book.verdicts)), "drawn.", SOURCE, 1),)
    names = {bound.fact for bound in applies} | {bound.fact for line in lines for bound in line.bounds}
    subjects = {book.vocabulary[name].subject for name in names}
    return Rule(
        id=DRAWN, name="drawn", asks="Drawn?", file="drawn.yaml", stage=stage,
        subject=Subject.INJURY if Subject.INJURY in subjects else Subject.TYRE, applies=applies, lines=lines,
        is_chart=is_chart,
    )  # fmt: skip


def some(facts: list[Fact], least: int = 1) -> st.SearchStrategy[list[Fact]]:
    """A few different facts."""
    return st.lists(st.sampled_from(facts), min_size=least, max_size=2, unique_by=lambda fact: fact.name)
