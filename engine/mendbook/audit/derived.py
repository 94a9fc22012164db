"""What follows from a case of unknowns, by the expressions the machine itself runs."""

from collections.abc import Collection, Iterable, Mapping, Sequence

import polars as pl
import z3

from mendbook.audit.relations import Relations
from mendbook.audit.written import cases, write_unknowns
from mendbook.facts.derive import Derivation, FillUnknown
from mendbook.facts.injuries import share
from mendbook.facts.pairs import WALLS
from mendbook.facts.readings import READ
from mendbook.facts.scenarios import END
from mendbook.facts.section import ZONES
from mendbook.facts.sectors import alone_in_sector
from mendbook.facts.spacing import CLASS, TYRE_CLASS, alone
from mendbook.facts.steps import Columns, Join, Step
from mendbook.facts.zones import Touch
from mendbook.proof.expressions import Lowering
from mendbook.proof.functions import ExactFunctions, Functions, NotUnderstood
from mendbook.proof.symbols import NEVER, Finite, Symbol, all_of, any_of, collect, constant, opposite
from mendbook.proof.unknowns import one_of
from mendbook.rulebook.book import Rulebook
from mendbook.terms.vocabulary import Subject
from mendbook.triage.stages import BEFORE_CLASS, METHOD, PEOPLE, RELEASE, WITH_CLASS


def relate(
    book: Rulebook,
    derivation: Derivation,
    twin: Relations | None = None,
    freed: Collection[str] = (),
    functions: Functions | None = None,
) -> Relations:
    """Return the unknowns of a case under `book` and all that follows from them.

    With a `twin`: of a second case that differs from it in the facts `freed` alone, and in those is no better.
    """
    found = Relations(book, twin, freed, functions or ExactFunctions())
    found.row[END] = constant(float(READ))
    write_unknowns(found)
    run(derivation.tyre_steps, found)
    run(derivation.injury_steps, found)
    _class(found)
    run((*derivation.number_steps, *derivation.spacing_steps, Columns((*alone(), alone_in_sector()))), found)
    _count(found)
    _finish(found, derivation)
    return found


def run(steps: Iterable[Step], found: Relations) -> None:
    """Add what `steps` derive to the row."""
    for step in steps:
        match step:
            case Columns():
                _add(found, ((e.meta.output_name(), e) for e in step.expressions))
            case Join():
                for name in step.cells.columns:
                    if name not in step.keys:
                        found.row[name] = _look_up(step.cells, step.keys, name, found.row)
            case FillUnknown():
                _add(found, step.stand_ins.items())
            case Touch():
                _touch(step, found)
            case _:
                raise NotUnderstood(f"the proof does not understand the step '{step}'")


def _add(found: Relations, expressions: Iterable[tuple[str, pl.Expr]]) -> None:
    lowering = Lowering(found.row, found.functions)
    found.row |= {name: lowering.lower(expression) for name, expression in expressions}


def _look_up(cells: pl.DataFrame, keys: tuple[str, ...], name: str, row: Mapping[str, Symbol]) -> Finite:
    """Return the number that a table gives, null where it has none; keys that change nothing are left out."""
    table = cells.select(*keys, name).unique(maintain_order=True)
    for key in keys:
        rest = [other for other in table.columns if other not in (key, name)]
        narrow = table.select(*rest, name).unique(maintain_order=True)
        if narrow.height == (narrow.select(rest).n_unique() if rest else 1):
            table = narrow
    left = [key for key in table.columns if key != name]
    guards = {key: cases(row[key]) for key in left}
    return collect(
        (entry[-1], all_of(guards[key].get(value, NEVER) for key, value in zip(left, entry[:-1], strict=True)))
        for entry in table.select(*left, name).iter_rows()
    )


def _touch(step: Touch, found: Relations) -> None:
    """Let the row be that of one of the zones that the injury touches."""
    lowering = Lowering(found.row, found.functions)
    first, last = (lowering.lower(expression) for expression in (step.first, step.last))
    assert isinstance(first, Finite)
    assert isinstance(last, Finite)
    zone, is_one = one_of("zone touched" if found.twin is None else "zone touched'", ZONES)
    found.require(is_one)
    for place, name in enumerate(ZONES):
        begins = any_of(first.cases.get(float(before), NEVER) for before in range(place + 1))
        ends = any_of(last.cases.get(float(after), NEVER) for after in range(place, len(ZONES)))
        found.require(z3.Implies(zone.cases[name], all_of((begins, ends))))
    found.is_in_one_zone = any_of(
        all_of((first.cases[one], last.cases[one])) for one in first.cases if one in last.cases
    )
    found.row["zone"] = zone


def _class(found: Relations) -> None:
    """Add the class of the injury by its own rules; one of which no rule says anything counts as the worst."""
    speech = found.listen(BEFORE_CLASS, Subject.INJURY)
    ranks = [speech.at_least(rank) for rank in range(len(found.book.verdicts))]
    found.row[CLASS] = found.row[TYRE_CLASS] = _ranked(found.book.verdicts, ranks, opposite(ranks[0]))


def _ranked(verdicts: Sequence[str], ranks: Sequence[z3.BoolRef], silent: z3.BoolRef) -> Finite:
    above = (*ranks[1:], NEVER)
    only = [all_of((own, opposite(next_up))) for own, next_up in zip(ranks, above, strict=True)]
    return Finite(dict(zip(verdicts, (*only[:-1], any_of((only[-1], silent))), strict=True)))


def _count(found: Relations) -> None:
    """Add the numbers of repairs that this one injury makes."""
    is_section = found.equals(CLASS, "section")
    in_wall = any_of(found.equals("zone", zone) for zone in WALLS)
    repaired = any_of(found.equals(CLASS, value) for value in ("spot", "reinforce", "section"))
    flags = {"section": is_section, "sidewall": all_of((is_section, in_wall)), "all": repaired}
    for what, flag in flags.items():
        found.row[what] = Finite({1.0: flag, 0.0: opposite(flag)})
    _add(
        found,
        (
            ("share of section repairs", share(pl.col("section"), pl.col("section repairs allowed"))),
            ("share of sidewall repairs", share(pl.col("sidewall"), pl.col("sidewall repairs allowed"))),
            ("share of all repairs", share(pl.col("all"), pl.col("all repairs allowed"))),
        ),
    )


def _finish(found: Relations, derivation: Derivation) -> None:
    """Add pairs and method: the final class is the more severe of the injury's own and that of the pairs."""
    for stages in (PEOPLE, BEFORE_CLASS, WITH_CLASS):
        found.listen(stages, Subject.TYRE)
    pairs, own = found.listen(WITH_CLASS, Subject.INJURY), found.listen(BEFORE_CLASS, Subject.INJURY)
    ranks = [any_of((pairs.at_least(rank), own.at_least(rank))) for rank in range(len(found.book.verdicts))]
    found.row[CLASS] = _ranked(found.book.verdicts, ranks, opposite(own.at_least(0)))
    run(derivation.method_steps, found)
    for subject in Subject:
        found.listen((*METHOD, *RELEASE), subject)
