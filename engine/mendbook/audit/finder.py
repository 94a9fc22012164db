"""Finds cases: a solver over everything a case can say, asked for one that is ordinary wherever it may be."""

from collections.abc import Collection, Iterable, Mapping, Sequence
from itertools import count

import z3

from mendbook.audit.derived import relate
from mendbook.audit.relations import Relations
from mendbook.audit.witness import Witness, write_witness
from mendbook.folders import folder
from mendbook.proof.speech import meets_all
from mendbook.proof.symbols import Number, Plain, all_of, exact, opposite, read_value
from mendbook.rulebook.tree import Bound
from mendbook.terms.case_file import read_case
from mendbook.terms.quantity import Quantity
from mendbook.terms.vocabulary import Subject, Vocabulary
from mendbook.triage.shop import Shop
from mendbook.triage.stages import PEOPLE

PATIENCE_MS = 20_000
DECIMALS = (0, 1, 3)  # to which a measure is written where that will do
# What is let go of first when an ordinary case will not do: the injury itself, and which tyre it is.
INJURED = (
    "skived", "depth", "depth is known", "kind", "duty", "casing", "construction", "designation", "reaches",
    "distance from bead", "placed from", "zone", "plies damaged", "belts damaged", "cords cut", "width", "length",
)  # fmt: skip
AGES = ("casing age", "retread age")
MOST_UNUSUAL = 6  # beyond it the solver let go of more than it had to
SHARED = 12  # cases that are looked at for what else they meet; later ones meet too little to be worth it
ORDINARY = "ordinary_case.yaml"
# Choices that are no facts of the vocabulary, and what they are when nothing else is needed.
_STRUCTURE: Mapping[str, Plain] = {
    "size": "read", "designation": "26.5R25", "serial": "read", "retreaded": "no", "tread readings": 0.0,
    "ply count": "counted", "pressure record": "known", "cords are counted": "yes", "depth is known": "yes",
    "earlier repair loose": "no", "earlier repairs": "none", "placed from": "bead", "law": "none",
    "zone": "upper sidewall",
    "distance from centreline": 0.0, "tread depth spread": 0.0, "load index": None, "casing age": 3.0,
    "retread age": 1.0,
}  # fmt: skip


class Finder:
    """Finds cases for one rulebook. The unknowns are laid out once; each question is asked of the same solver."""

    def __init__(self, shop: Shop, patience_ms: int = PATIENCE_MS) -> None:
        self._vocabulary = shop.book.vocabulary
        self.relations: Relations = relate(shop.book, shop.derivation)
        self._solver = z3.Solver()
        self._solver.set("timeout", patience_ms)
        self._solver.push()  # from here on the solver keeps what it learns from one question for the next
        self._solver.add(*self.relations.conditions)
        self.ordinary = _usual(self.relations, self._vocabulary)
        self._usual = self._prefer(self.ordinary)
        self.is_sound = self.relations.is_in_one_zone
        stopped = self.relations.listen(PEOPLE, Subject.TYRE).says("stop")
        self.is_clear = all_of((opposite(stopped), self.relations.is_in_one_zone))

    def find_in(self, *boxes: Iterable[Bound]) -> Witness | None:
        """Return a case whose facts lie in all `boxes`, None when there is none."""
        return self.find(*(meets_all(tuple(box), self.relations.row) for box in boxes), self.is_clear)

    def is_possible(self, *conditions: z3.BoolRef) -> bool | None:
        """Return whether some case meets all `conditions`; None when the solver ran out of patience."""
        answer = self._solver.check(*self._name(conditions))
        return None if answer == z3.unknown else bool(answer == z3.sat)

    def find(self, *conditions: z3.BoolRef) -> Witness | None:
        """Return a case that meets all `conditions`, ordinary wherever it may be, None when there is none."""
        found = self._search(conditions)
        return None if found is None else self._write(*found)

    def find_pair(self, worse: Relations, *conditions: z3.BoolRef) -> tuple[Witness, ...]:
        """Return a case and its twin `worse` that together meet all `conditions`; nothing when there are none."""
        found = self._search((*worse.conditions, worse.is_in_one_zone, self.is_clear, *conditions))
        if found is None:
            return ()
        model, kept = found
        return self._write(model, kept), self._write(model, kept, worse)

    def find_impossible(self, conditions: Sequence[z3.BoolRef]) -> list[bool]:
        """Return for each of `conditions` whether no case meets it. The first cases answer for many."""
        names = self._name([all_of((condition, self.is_sound)) for condition in conditions])
        left = dict(enumerate(names))
        dead = [False] * len(names)
        for turn in count():
            place = next(iter(left), None)
            if place is None:
                break
            answer = self._solver.check(left.pop(place))
            dead[place] = bool(answer == z3.unsat)
            if answer == z3.sat and turn < SHARED:
                model = self._solver.model()
                met = [other for other in left if z3.is_true(model.eval(conditions[other], True))]
                for other in met:
                    del left[other]
        return dead

    def _search(self, conditions: Iterable[z3.BoolRef]) -> tuple[z3.ModelRef, Collection[str]] | None:
        wanted = self._name(conditions)
        answer, kept = self._let_go(wanted)
        if answer == z3.unsat:
            return None
        if answer == z3.unknown or len(self._usual) - len(kept) > MOST_UNUSUAL:
            less = {name: literal for name, literal in self._usual.items() if name not in INJURED}
            if self._solver.check(*wanted, *less.values()) == z3.sat:
                kept = self._usual_again(wanted, less)
        answer = self._solver.check(*wanted, *kept.values())
        if answer == z3.unknown:
            return None
        model = self._rounded([*wanted, *kept.values()], kept)
        return model, tuple(kept)

    def _let_go(self, wanted: list[z3.BoolRef]) -> tuple[z3.CheckSatResult, dict[str, z3.BoolRef]]:
        """Return what may stay usual, letting go of what speaks against `wanted`; unsat when nothing usual does."""
        kept = dict(self._usual)
        while (answer := self._solver.check(*wanted, *kept.values())) == z3.unsat:
            core = {str(literal) for literal in self._solver.unsat_core()}
            against = [name for name, literal in kept.items() if str(literal) in core]
            if not against:
                break
            for name in against:
                del kept[name]
        return answer, kept

    def _usual_again(self, wanted: list[z3.BoolRef], kept: Mapping[str, z3.BoolRef]) -> dict[str, z3.BoolRef]:
        """Return `kept` with what of the injury may be usual as well."""
        again = dict(kept)
        for name in (name for name in INJURED if name in self._usual):
            if self._solver.check(*wanted, *again.values(), self._usual[name]) == z3.sat:
                again[name] = self._usual[name]
        return again

    def _write(self, model: z3.ModelRef, kept: Collection[str], relations: Relations | None = None) -> Witness:
        written = (relations or self.relations).written
        values = {name: read_value(model, symbol) for name, symbol in written.items()}
        return write_witness(values, self._vocabulary, tuple(sorted(set(self._usual) - set(kept))))

    def _name(self, conditions: Iterable[z3.BoolRef]) -> list[z3.BoolRef]:
        """Give each condition a name that can be assumed."""
        literals = []
        for condition in conditions:
            literal = z3.FreshBool("wanted")
            self._solver.add(z3.Implies(literal, condition))
            literals.append(literal)
        return literals

    def _prefer(self, usual: Mapping[str, Plain]) -> dict[str, z3.BoolRef]:
        literals = {}
        for name, value in usual.items():
            literal = z3.Bool(f"usual {name}")
            self._solver.add(z3.Implies(literal, self._is_about(name, value)))
            literals[name] = literal
        return literals

    def _is_about(self, name: str, value: Plain) -> z3.BoolRef:
        """Return when `value` is what the case says for `name`; an age is told by the week."""
        symbol = self.relations.written[name]
        if name in AGES and isinstance(symbol, Number):
            age = float(value or 0.0)
            return z3.And(symbol.term > exact(age - 0.1), symbol.term < exact(age))
        return self.relations.is_written(name, value)

    def _rounded(self, fixed: list[z3.BoolRef], usual: Collection[str]) -> z3.ModelRef:
        """Return a model whose unusual measures have as few decimals as still meets everything."""
        model = self._solver.model()
        free = [s.term for n, s in self.relations.written.items() if isinstance(s, Number) and n not in usual]
        for decimals in DECIMALS:
            scaled = z3.And([z3.IsInt(term * 10**decimals) for term in free])
            if self._solver.check(*fixed, *self._name([scaled])) == z3.sat:
                return self._solver.model()
        return model


def _usual(relations: Relations, vocabulary: Vocabulary) -> dict[str, Plain]:
    """Return what an ordinary case says: the shipped one, and what is meant where it says nothing."""
    ordinary = read_case(folder("knowledge") / ORDINARY, vocabulary)
    usual: dict[str, Plain] = dict(_STRUCTURE)
    for fact in vocabulary.given():
        section = ordinary.injuries[0] if fact.subject is Subject.INJURY else ordinary.section(fact.section)
        written = section.written(fact.name)
        if isinstance(written, Quantity):
            usual[fact.name] = (written.value or 0.0) * (100.0 if fact.unit == "%" else 1.0)
        elif written is not None:
            usual[fact.name] = written
        elif fact.missing is not None:
            usual[fact.name] = fact.missing if fact.is_listed else float(fact.missing)
    return {name: value for name, value in usual.items() if name in relations.written}
