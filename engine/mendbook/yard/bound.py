"""What rules bind a repair to, for all rows at once: the methods they rule out, and the caps that the bench keeps."""

from collections.abc import Iterator, Sequence

import polars as pl

from mendbook.columns.speak import lines
from mendbook.facts.caps import CAPPED
from mendbook.facts.readings import READ
from mendbook.facts.scenarios import END, INJURY
from mendbook.plan.bench import least_caps
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Subject
from mendbook.triage.passes import Judged
from mendbook.triage.stages import BEFORE_CLASS, METHOD, PEOPLE, WITH_CLASS
from mendbook.yard.reading import TYRE

RULED_OUT = "methods ruled out"  # as bits, one a method of the book in its order
BEFORE = (*PEOPLE, *BEFORE_CLASS, *WITH_CLASS)


class Binding:
    """What the rules of one book bind repairs to."""

    def __init__(self, book: Rulebook) -> None:
        self.methods = tuple(word for words in book.methods.values() for word in words)
        self._said: dict[tuple[Sequence[str], Subject], tuple[pl.Expr, ...]] = {
            (stages, subject): tuple(self._sayings(book, stages, subject))
            for stages in (BEFORE, METHOD)
            for subject in Subject
        }

    def bind(self, repairable: pl.DataFrame, judged: Judged) -> pl.DataFrame:
        """Return TYRE, INJURY, RULED_OUT and the least of each cap for each row of `repairable`, in its order.

        judged : the frames up to the verdict, for what was ruled out and capped before the method rules spoke
        A cap binds all repairs of the tyre, null where there is none.
        """
        of_tyre = repairable.unique(TYRE, keep="first", maintain_order=True)
        read = [frame.filter(pl.col(END) == READ) for frame in (judged.tyres, judged.injuries)]
        keys = [TYRE, INJURY]
        found = [
            (self._of(repairable, METHOD, Subject.INJURY), keys),
            (self._of(of_tyre, METHOD, Subject.TYRE), keys[:1]),
            (self._of(read[0], BEFORE, Subject.TYRE), keys[:1]),
            (self._of(read[1].join(repairable, on=keys, how="semi"), BEFORE, Subject.INJURY), keys),
        ]
        rows = repairable.select(keys)
        parts = [
            rows.join(said.group_by(on).agg(self._folds()), on=on, how="left", maintain_order="left").drop(keys)
            for said, on in found
            if said is not None
        ]
        names = [RULED_OUT, *CAPPED]
        together = pl.concat(
            [rows, *(part.rename({name: f"{name} {n}" for name in names}) for n, part in enumerate(parts))],
            how="horizontal",
        )
        out = [pl.col(f"{RULED_OUT} {n}").fill_null(0) for n in range(len(parts))]
        mask = pl.lit(0, pl.Int64)
        for one in out:
            mask = mask | one
        caps = [
            pl.min_horizontal([pl.lit(None, pl.Float64), *(f"{name} {n}" for n in range(len(parts)))]).min().over(TYRE)
            for name in CAPPED
        ]
        return together.select(
            *keys, mask.alias(RULED_OUT), *(cap.alias(name) for cap, name in zip(caps, CAPPED, strict=True))
        )

    def ruled_out(self, bits: int) -> tuple[str, ...]:
        """Return the methods that `bits` stand for."""
        return tuple(method for place, method in enumerate(self.methods) if bits >> place & 1)

    def _of(self, rows: pl.DataFrame, stages: Sequence[str], subject: Subject) -> pl.DataFrame | None:
        said = self._said[stages, subject]
        return rows.select(*(name for name in (TYRE, INJURY) if name in rows.columns), *said) if said else None

    def _folds(self) -> list[pl.Expr]:
        return [pl.col(RULED_OUT).bitwise_or(), *(pl.col(name).min() for name in CAPPED)]

    def _sayings(self, book: Rulebook, stages: Sequence[str], subject: Subject) -> Iterator[pl.Expr]:
        rules = [rule for rule in book.rules_of(*stages) if rule.subject is subject and _binds(rule)]
        if not rules:
            return
        mask = pl.lit(0, pl.Int64)
        for rule in rules:
            mask = mask | lines(rule, [self._bits(line.outcome.rule_out) for line in rule.lines], pl.Int64).clip(0)
        yield mask.alias(RULED_OUT)
        for name in CAPPED:
            yield pl.min_horizontal([pl.lit(None, pl.Float64), *_caps(rules, name)]).alias(name)

    def _bits(self, words: Sequence[str]) -> int:
        known = {method: place for place, method in enumerate(self.methods)}
        return sum(1 << known[word] for word in {word.casefold() for word in words} if word in known)


def _binds(rule: Rule) -> bool:
    return any(line.outcome.rule_out or any(name in CAPPED for name, _ in line.outcome.cap) for line in rule.lines)


def _caps(rules: Sequence[Rule], name: str) -> Iterator[pl.Expr]:
    """Yield what each of `rules` caps `name` at [bar or °C], null where it does not."""
    for rule in rules:
        limits = [least_caps(line.outcome.cap).get(name) for line in rule.lines]
        if any(limit is not None for limit in limits):
            spoken = lines(rule, range(len(limits)), pl.Int64)
            yield spoken.replace_strict(list(range(len(limits))), limits, default=None, return_dtype=pl.Float64)
