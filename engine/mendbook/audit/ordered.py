"""A worse case never gets a milder answer: across rules, tables and zones touched.

Moving a case for the worse is moving one fact after another. Most facts are followed step by step: what is derived
keeps the order of what it is derived from, and rules keep the order of what they look at. A listed fact that chooses
another rule or another table (how deep an injury reaches) is moved with everything that follows, value by value.
"""

from collections.abc import Collection, Iterator, Mapping, Sequence
from functools import cached_property
from itertools import pairwise, product
from types import MappingProxyType

import polars as pl
import z3

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.derived import relate
from mendbook.audit.finder import Finder
from mendbook.audit.given import given_columns, pair_columns
from mendbook.audit.relations import Relations
from mendbook.audit.witness import Witness
from mendbook.audit.written import cases
from mendbook.facts.derive import Derivation
from mendbook.facts.origins import ORIGINS
from mendbook.facts.pairs import measure_pair, share_pairs
from mendbook.facts.steps import Columns, Join, Step
from mendbook.facts.zones import HIGH, LOW, Touch
from mendbook.proof.copies import Turn
from mendbook.proof.directions import Directions
from mendbook.proof.functions import OrderedFunctions
from mendbook.proof.order import Milder, Pair, hold_is_lost, verdict_is_lost
from mendbook.proof.symbols import all_of, any_of
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject, Worse
from mendbook.triage.shop import Shop
from mendbook.triage.stages import BEFORE_CLASS

SPLIT = ("construction", "zone")  # each of their values is a question of its own, and a small one
PATIENCE_MS = 30_000
ROUGH, FINE = 300, 6000  # combinations of values that are worked out one by one
RULES = "When facts are worse, the rules say no milder verdict, and drop no hold or stop but for something stricter."
DERIVED = "Limits, shares, clearances, zones touched, gaps and joint boxes get worse with what they follow from."
STEPPED = "When '{fact}' is worse and all else is the same, the answer is no milder, with everything that follows."


def show_order(shop: Shop, finder: Finder) -> Iterator[Claim]:
    """Yield the claims that together say: worse is never milder."""
    directions = follow(shop, frozenset())
    stepped = _choosing(directions, shop.book)
    if stepped:
        directions = follow(shop, stepped)
    yield _show_rules(shop, finder, stepped)
    yield _show_derived(directions, finder, shop)
    for fact in sorted(stepped):
        yield _show_stepped(shop, finder, fact)


def follow(shop: Shop, held: Collection[str]) -> Directions:
    """Return the directions of all that is derived for one injury; facts that are `held` are the same in both cases."""
    found = Directions(given_columns(shop.book.vocabulary, held), shop.book.vocabulary)
    for step in (*shop.derivation.tyre_steps, *shop.derivation.injury_steps, *shop.derivation.spacing_steps):
        _follow_step(step, found)
    # Of several neighbours the least gap and the largest box count, and lengths are added: that keeps the order too.
    found.columns |= {column.name: column for column in pair_columns()}
    for step in (measure_pair(), share_pairs()):
        _follow_step(step, found)
    return found


def _follow_step(step: Step, found: Directions) -> None:
    match step:
        case Columns():
            for expression in step.expressions:
                name = expression.meta.output_name()
                if name == HIGH and pl.col(LOW).meta.output_name() in expression.meta.root_names():
                    continue  # edges cross at the good reading alone, and are put right there
                found.follow(name, expression)
        case Join():
            for name in step.cells.columns:
                if name not in step.keys:
                    found.table(name, step.keys, step.cells.get_column(name).to_list())
        case Touch():
            uncrossed = pl.col(LOW) < pl.col(HIGH)  # every injury has a size
            found.expect("first zone touched", step.first, Worse.SMALLER, uncrossed)
            found.expect("last zone touched", step.last, Worse.BIGGER, uncrossed)


def _choosing(directions: Directions, book: Rulebook) -> frozenset[str]:
    """Return the listed facts with a direction that the columns follow from whose order is not kept."""
    return frozenset(
        root
        for turn in directions.turns
        for root in turn.second
        if root in book.vocabulary and book.vocabulary[root].is_listed and turn.first[root] != turn.second[root]
        and book.vocabulary[root].worse is Worse.LATER
    )  # fmt: skip


def _show_rules(shop: Shop, finder: Finder, stepped: Collection[str]) -> Claim:
    found = tuple(Pair(shop.book, stepped, define(shop.book, shop.derivation)).find_milder())
    failures = tuple(Failure(_spell_milder(one), _two_cases(shop, finder, one.differs)) for one in found)
    return Claim("worse is never milder, rules", RULES, "proof", len(shop.book.verdicts) + 1, failures)


def define(book: Rulebook, derivation: Derivation) -> dict[str, pl.Expr]:
    """Return what those listed facts follow from that follow from facts of the vocabulary alone."""
    vocabulary = book.vocabulary
    return {
        name: expression
        for step in (*derivation.tyre_steps, *derivation.injury_steps)
        if isinstance(step, Columns)
        for expression in step.expressions
        if (name := expression.meta.output_name()) in vocabulary and vocabulary[name].is_listed
        if all(root in vocabulary for root in expression.meta.root_names())
    }


def _spell_milder(one: Milder) -> str:
    line = one.rule.lines[one.line]
    differs = ", ".join(one.differs) or "other facts"
    return f"{one.rule.file}:{line.at}: says {one.says}; with a worse {differs} no rule says as much."


def _show_derived(directions: Directions, finder: Finder, shop: Shop) -> Claim:
    failures = tuple(Failure(spell_turn(turn), _two_cases(shop, finder, _moved(turn))) for turn in directions.turns)
    return Claim("worse is never milder, what is derived", DERIVED, "proof", len(directions.proven), failures)


def spell_turn(turn: Turn) -> str:
    """Return in a sentence where the order of a column is not kept."""
    if turn.is_unsettled:
        return f"'{turn.column}' could not be settled in time."
    if turn.other_way is not None and not turn.other_way.is_unsettled:
        ways = (_spell_move(turn), _spell_move(turn.other_way))
        return f"'{turn.column}' runs both ways while what it follows from gets worse: {' here, '.join(ways)} there."
    return f"'{turn.column}' gets better while this gets worse: {_spell_move(turn)}."


def _spell_move(turn: Turn) -> str:
    return "; ".join(f"{name} from {turn.first[name]} to {turn.second[name]}" for name in _moved(turn))


def _moved(turn: Turn) -> tuple[str, ...]:
    return tuple(name for name in turn.first if turn.first[name] != turn.second[name])


def _show_stepped(shop: Shop, finder: Finder, fact: str) -> Claim:
    """Return the claim for one listed fact, value by value, construction by construction, zone by zone.

    Each question is put roughly first: limits as unknowns of which only the order is known. Where that is not enough
    they are worked out one by one.
    """
    views = [_View(shop, fact, most_cases) for most_cases in (ROUGH, FINE)]
    failures = []
    asked = 0
    for before, after in pairwise(shop.book.vocabulary[fact].values):
        for split in product(*(shop.book.vocabulary[name].values for name in SPLIT)):
            asked += 1
            answers = (view.ask(before, after, split) for view in views)
            answer = next((one for one in answers if one == z3.unsat), z3.unknown)
            if answer != z3.unsat:
                where = ", ".join(split)
                fixed = {fact: before, **dict(zip(SPLIT, split, strict=True))}
                pair = _two_cases(shop, finder, (fact,), fixed, {fact: after})
                says = "makes the answer milder" if pair else "could not be settled"
                failures.append(Failure(f"'{fact}' from {before} to {after}, {where}: {says}.", pair))
                break
    return Claim(f"worse is never milder, {fact}", STEPPED.format(fact=fact), "proof", asked, tuple(failures))


class _View:
    """A case and its twin with a worse value of one fact; laid out when it is first asked."""

    def __init__(self, shop: Shop, fact: str, most_cases: int) -> None:
        self._shop, self._fact, self._most_cases = shop, fact, most_cases

    @cached_property
    def _cases(self) -> tuple[Relations, Relations, z3.Solver]:
        functions = OrderedFunctions(self._most_cases)
        book, derivation = self._shop.book, self._shop.derivation
        one = relate(book, derivation, functions=functions)
        other = relate(book, derivation, one, (self._fact,), functions)
        better, worse = (case.listen(BEFORE_CLASS, Subject.INJURY) for case in (one, other))
        is_milder = any_of((verdict_is_lost(book, better, worse), hold_is_lost(book, better, worse)))
        solver = z3.Solver()
        solver.set("timeout", PATIENCE_MS)
        solver.push()  # from here on the solver keeps what it learns from one question for the next
        solver.add(*one.conditions, *other.conditions, *functions.conditions(), _same(one, other, "zone"), is_milder)
        return one, other, solver

    def ask(self, before: str, after: str, split: Sequence[str]) -> z3.CheckSatResult:
        """Return whether the answer can be milder: unsat is a proof that it cannot."""
        one, other, solver = self._cases
        step = (cases(one.written[self._fact])[before], cases(other.written[self._fact])[after])
        return solver.check(*step, *(cases(one.row[name])[value] for name, value in zip(SPLIT, split, strict=True)))


def _same(one: Relations, other: Relations, name: str) -> z3.BoolRef:
    others = cases(other.row[name])
    return all_of(guard == others[value] for value, guard in cases(one.row[name]).items())


def _two_cases(
    shop: Shop,
    finder: Finder,
    differs: Collection[str],
    fixed: Mapping[str, str] = MappingProxyType({}),
    moved: Mapping[str, str] = MappingProxyType({}),
) -> tuple[Witness, ...]:
    """Return a better and a worse case that differ in these facts alone and show it, if there are such.

    `fixed` are listed facts of the better case, `moved` those of the worse.
    """
    freed = {origin for name in differs for origin in ORIGINS.get(name, (name,))}
    better, worse = finder.relations, relate(shop.book, shop.derivation, finder.relations, freed)
    is_milder = any_of((verdict_is_lost(shop.book, better, worse), hold_is_lost(shop.book, better, worse)))
    known = [cases(better.row[name])[value] for name, value in fixed.items()]
    known += [cases(worse.row[name])[value] for name, value in moved.items()]
    return finder.find_pair(worse, is_milder, _same(better, worse, "zone"), *known)
