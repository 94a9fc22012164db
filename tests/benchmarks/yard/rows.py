"""The flat rows that all engines judge: every fact derived once, by our own passes, of a made yard."""

from dataclasses import dataclass

import polars as pl

from mendbook.columns import Columns
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Subject
from mendbook.triage import Shop
from mendbook.triage.stages import BEFORE_CLASS, PEOPLE, WITH_CLASS
from tests.benchmarks.yard.peers import Answer, Row
from tests.yard.made import make
from tests.yard.spine import Spine

STAGES = {Subject.TYRE: (*PEOPLE, *BEFORE_CLASS, *WITH_CLASS), Subject.INJURY: (*BEFORE_CLASS, *WITH_CLASS)}


@dataclass(frozen=True)
class Task:
    """The rules of one subject up to the verdict, the rows of some injuries, and what the columns say of them."""

    rules: tuple[Rule, ...]
    frame: pl.DataFrame
    rows: list[Row]
    wanted: list[Answer]


def tasks(shop: Shop, tyres: int, seed: int) -> tuple[list[Task], int]:
    """Return the tasks of a made yard, and how many injuries it has. Tyres that are stopped are left out."""
    spine, made = Spine(shop), make(tyres, seed)
    sound, _ = spine.read(made.tyres, made.injuries)
    judged = spine.judge(sound).judged
    found = []
    for subject, frame in ((Subject.TYRE, judged.tyres), (Subject.INJURY, judged.injuries)):
        rules = tuple(rule for rule in shop.book.rules_of(*STAGES[subject]) if rule.subject is subject)
        facts = sorted({fact for rule in rules for fact in rule.facts()})
        flat = frame.select(facts)
        wanted = Columns(rules, shop.book.verdicts).fold(flat).rows()
        found.append(Task(rules, flat, flat.to_dicts(), wanted))
    return found, made.injuries.filter(pl.col("tyre").is_in(judged.tyres["tyre"].unique().implode())).height
