"""What may be written beside a fact: in `applies to`, on a line of a chart, in a `when`, in a clause, in an example."""

from collections.abc import Iterable, Mapping, Sequence

from mendbook.rulebook.phrases import BAD_SIDE, GOOD_SIDE
from mendbook.rulebook.schemas.scalars import NUMBER, ZERO, Schema, alternatives, escape, one_of, pattern, some_of
from mendbook.rulebook.tree import Op
from mendbook.terms.vocabulary import Fact, Worse

EITHER_SIDE = (Op.UP_TO, Op.BELOW, Op.AT_LEAST, Op.OVER)


def describe(fact: Fact) -> str:
    """Return what a fact means, within which range, in which direction it is worse, and how it is found."""
    if fact.is_listed:
        order = "from good to bad: " if fact.worse is Worse.LATER else ""
        span = f"One of, {order}{', '.join(fact.values)}." if order else f"One of: {', '.join(fact.values)}."
    else:
        worse = "" if fact.worse is Worse.NEITHER else f", worse when {fact.worse}"
        span = " ".join(f"From {fact.low:g} to {fact.high:g} {fact.unit}{worse}.".split())
    found = f" How: {fact.measure}." if fact.measure else ""
    return f"{fact.means[:1].upper()}{fact.means[1:]}. {span}{found}"


def applying(facts: Iterable[Fact]) -> Schema:
    """Return the keys of an `applies to`: listed facts, any of their values."""
    return {fact.name: _listed(fact, EITHER_SIDE) for fact in facts if fact.is_listed}


def charted(facts: Iterable[Fact]) -> Schema:
    """Return the keys of a chart line: each fact on its good side."""
    return _sided(facts, GOOD_SIDE, Op.UP_TO, Op.BELOW)


def warned(facts: Iterable[Fact]) -> Schema:
    """Return the keys of a `when`: each fact on its bad side, and what is worse in neither on both."""
    sides = {**BAD_SIDE, Worse.NEITHER: EITHER_SIDE}
    return _sided(facts, sides, Op.AT_LEAST, Op.OVER)


def clearing(facts: Iterable[Fact]) -> Schema:
    """Return the keys of a `cleared by`: facts that a person writes, on either side."""
    return anywhere(fact for fact in facts if fact.is_given or fact.follows)


def anywhere(facts: Iterable[Fact]) -> Schema:
    """Return the keys of a clause: each fact on either side."""
    return _sided(facts, dict.fromkeys(Worse, EITHER_SIDE), *EITHER_SIDE)


def exemplified(facts: Iterable[Fact]) -> Schema:
    """Return the keys of an example: each fact with one value."""
    return {fact.name: _described(fact, _value(fact)) for fact in facts}


def heads(fact: Fact) -> str:
    """Return the regular expression of the head of a row or column: 'up to 60 mm', or 'a, b'."""
    if not fact.is_listed:
        return _phrase(fact, EITHER_SIDE)
    value = alternatives((*fact.values, *(("true", "false") if {"yes", "no"} & {*fact.values} else ())))
    ordered = f"|(?:up to|below|at least|over) (?:{value})" if fact.worse is Worse.LATER else ""
    return f"(?:{value})(?:, (?:{value}))*{ordered}"


def _sided(facts: Iterable[Fact], sides: Mapping[Worse, Sequence[Op]], *ordered: Op) -> Schema:
    keys: Schema = {}
    for fact in facts:
        if fact.is_listed:
            keys[fact.name] = _listed(fact, ordered)
        elif fact.worse in sides:
            keys[fact.name] = _described(fact, pattern(_phrase(fact, sides[fact.worse])))
    return keys


def _phrase(fact: Fact, ops: Sequence[Op]) -> str:
    """Return the regular expression of 'up to 25 mm', or of two such with 'and' between them."""
    words = "|".join(escape(op.value) for op in ops)
    number = f"{NUMBER}\\s+{escape(fact.unit)}|{ZERO}" if fact.unit else NUMBER
    one = f"(?:{words})\\s+(?:{number})"
    return f"{one}(?:\\s+and\\s+{one})*"


def _value(fact: Fact) -> Schema:
    if fact.is_listed:
        return one_of(fact.values)
    if not fact.unit:
        return {"anyOf": [pattern(NUMBER), {"type": "number", "minimum": fact.low, "maximum": fact.high}]}
    return {"anyOf": [pattern(f"{NUMBER} {escape(fact.unit)}|{ZERO}"), {"const": 0}]}


def _listed(fact: Fact, ops: Sequence[Op]) -> Schema:
    """Return the schema of a value, a phrase or a list; of an ordered fact only what `ops` reach from its ends."""
    if fact.worse is not Worse.LATER:
        return _described(fact, _spelt(fact, fact.values, [some_of(fact.values)]))
    reached: dict[str, tuple[str, ...]] = {}
    for op in ops:
        for place, value in enumerate(fact.values):
            chosen = {
                Op.UP_TO: fact.values[: place + 1], Op.BELOW: fact.values[:place],
                Op.AT_LEAST: fact.values[place:], Op.OVER: fact.values[place + 1 :],
            }[op]  # fmt: skip
            if chosen:
                reached[f"{op.value} {value}"] = chosen
    if tuple(ops) == EITHER_SIDE:
        return _described(fact, _spelt(fact, (*fact.values, *reached), [some_of(fact.values)]))
    alone = [values[0] for values in reached.values() if len(values) == 1]
    lists = [{**some_of(values), "minItems": len(values)} for values in dict.fromkeys(reached.values())]
    return _described(fact, _spelt(fact, (*alone, *reached), lists))


def _spelt(fact: Fact, words: Iterable[str], lists: Iterable[Schema]) -> Schema:
    value = alternatives(fact.values)
    in_words = pattern(rf"any of \[\s*(?:{value})(?:\s*,\s*(?:{value}))*\s*\]")
    return {"anyOf": [one_of(words), *lists, in_words]}


def _described(fact: Fact, schema: Schema) -> Schema:
    return {"description": describe(fact), **schema}
