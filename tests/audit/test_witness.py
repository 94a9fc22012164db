"""The cases that a proof finds: triage reads them, judges them, and finds in them what the proof said."""

import random
import re
from dataclasses import dataclass
from datetime import UTC, datetime
from itertools import islice

import polars as pl
import pytest
import z3

from mendbook.audit.finder import Finder
from mendbook.audit.witness import Witness, read_witness, spell_witness
from mendbook.audit.written import JUDGED_ON
from mendbook.facts.case_reading import read_readings
from mendbook.facts.readings import READ
from mendbook.facts.scenarios import THREE_READINGS, USE, VARIANT, lay_out
from mendbook.facts.spacing import CLASS
from mendbook.proof.symbols import Finite, Number, Plain, Symbol
from mendbook.rulebook.tree import Rule
from mendbook.terms.docket import Docket
from mendbook.triage import Shop, judge
from mendbook.triage.evaluators import Asked
from mendbook.triage.passes import Passes
from mendbook.triage.stages import METHOD, PEOPLE, RELEASE

pytestmark = pytest.mark.long  # the finder's own tests judge such cases in the default run
SEED = 20261125
EACH, TRIES = 2, 3  # lines kept of each stage, and lines tried


@dataclass(frozen=True)
class Found:
    """A case in which a line speaks, and what the solver's model says of every column."""

    rule: Rule
    line: int
    witness: Witness
    row: dict[str, Plain]


@pytest.fixture(scope="session")
def found(shop: Shop, finder: Finder) -> list[Found]:
    """Cases for lines drawn from every stage; lines that no case with one injury reaches are passed over."""
    draw = random.Random(SEED)
    cases: list[Found] = []
    for stage in shop.book.stages:
        lines = [(rule, place) for rule in shop.book.rules_of(stage.name) for place in range(len(rule.lines))]
        some = (find(finder, *line) for line in draw.sample(lines, min(TRIES, len(lines))))
        cases += list(islice((one for one in some if one is not None), EACH))
    return cases


def find(finder: Finder, rule: Rule, line: int) -> Found | None:
    """Return a case in which this line decides, with its model."""
    guards = next(speech.lines[rule.id] for speech in finder.relations.speech.values() if rule.id in speech.lines)
    wanted = finder.is_sound if rule.stage in PEOPLE else finder.is_clear
    # The model behind a case is nobody's business but that of this test, which holds it against the machine.
    searched = finder._search((guards[line], wanted))
    if searched is None:
        return None
    model, kept = searched
    row = {name: _value(model, symbol) for name, symbol in finder.relations.row.items()}
    return Found(rule, line, finder._write(model, kept), row)


def _value(model: z3.ModelRef, symbol: Symbol) -> Plain:
    if isinstance(symbol, Finite):
        return next(value for value, guard in symbol.cases.items() if z3.is_true(model.eval(guard, True)))
    assert isinstance(symbol, Number)
    if z3.is_true(model.eval(symbol.null, True)):
        return None
    value = model.eval(symbol.term, True)
    exact = value.approx(12) if z3.is_algebraic_value(value) else value
    return float(exact.as_fraction())


NEARLY = 1e-3  # of a value; measures are written with at most six digits after the point
NOW = datetime(JUDGED_ON.year, JUDGED_ON.month, JUDGED_ON.day, tzinfo=UTC)


def judged(one: Found, shop: Shop) -> Docket:
    case = read_witness(one.witness, shop.book.vocabulary)
    return judge(case, shop, law=one.witness.law, now=NOW)


def speaks(one: Found, docket: Docket) -> bool:
    """Return whether triage finds this line in the case as read; of repairs that nobody plans it asks no method."""
    at = one.rule.lines[one.line].at
    if any(f.rule == one.rule.id and f.line == at and f.readings["as read"] for f in docket.findings):
        return True
    return one.rule.stage in (*METHOD, *RELEASE) and docket.plan is None


def test_a_line_of_every_stage_has_a_case(found: list[Found], shop: Shop) -> None:
    assert {one.rule.stage for one in found} >= {stage.name for stage in shop.book.stages} - {"pairs"}
    assert len(found) >= 10


def test_triage_finds_in_a_case_what_the_proof_found(found: list[Found], shop: Shop) -> None:
    silent = [f"{one.rule.id}, line {one.line}" for one in found if not speaks(one, judged(one, shop))]
    assert silent == []


def test_a_case_is_written_in_short_numbers(found: list[Found]) -> None:
    for one in found:
        assert max(map(len, re.findall(r"(?<=\.)\d+", spell_witness(one.witness))), default=0) <= 3


def test_the_machine_works_out_what_the_formulas_work_out(found: list[Found], shop: Shop) -> None:
    checked = 0
    for one in found:
        if one.rule.stage in PEOPLE:
            continue  # a stop: nothing is worked out
        rows = worked_out(one, shop)
        # Where something is not known the machine tries every value; the model stands for one of them.
        assert min((differing(one, row) for row in rows), key=len) == [], one.rule.id
        checked += len(one.row.keys() & rows[0].keys())
        [injury] = judged(one, shop).injuries
        assert injury.verdict == one.row[CLASS], one.rule.id
    assert checked > 50 * len(found)


def differing(one: Found, machine: dict[str, Plain]) -> list[tuple[object, ...]]:
    """Return the columns of which machine and model say something else; the class after the pairs is the docket's."""
    both = (one.row.keys() & machine.keys()) - {CLASS}
    return [(n, one.row[n], machine[n]) for n in sorted(both) if not is_near(one.row[n], machine[n])]


def worked_out(one: Found, shop: Shop) -> list[dict[str, Plain]]:
    """Return the rows of the machine at the reading as read, for the use of the model."""
    case, vocabulary = read_witness(one.witness, shop.book.vocabulary), shop.book.vocabulary
    readings = read_readings(case, vocabulary, JUDGED_ON, one.witness.law)
    frames = lay_out(readings, THREE_READINGS, vocabulary, vocabulary["use"].values)
    passes = Passes(shop.derivation, shop.book.verdicts, case.mapped_repairs, shop.book.not_covered)
    rows = passes.run(frames, shop.evaluator, Asked(frames.possible)).injuries
    here = rows.filter((pl.col(VARIANT) == READ_ROW) & (pl.col(USE) == one.row["use"]))
    return here.to_dicts()


READ_ROW = next(place for place, variant in enumerate(THREE_READINGS) if variant.end == READ)


def is_near(one: Plain, other: Plain) -> bool:
    if isinstance(one, float) and isinstance(other, float | int):
        return abs(one - other) <= NEARLY * max(1.0, abs(one))
    return one == other
