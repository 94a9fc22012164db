"""No case is called repairable that no kit of the catalogue can serve, without saying so.

The choice of kit is arithmetic of its own and no rule, so this is a trial and no proof: the largest injuries that the
tables allow, in every zone of a tyre of every class, since what serves the largest serves the smaller.
"""

from collections.abc import Iterator
from dataclasses import replace

from mendbook.audit.claims import Claim, Failure
from mendbook.audit.sizes import Size, all_sizes
from mendbook.audit.witness import Witness, read_witness, write_witness
from mendbook.facts.section import ZONES
from mendbook.proof.symbols import Plain
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Value
from mendbook.triage.evaluators import ColumnEvaluator
from mendbook.triage.judgement import judge
from mendbook.triage.shop import Shop

SAYS = (
    "The largest injury that the tables allow, in each zone of a tyre of each class, is served by kit, or the plan "
    "says what is missing."
)
BOX = 0.75  # of the other side, where one is used fully: within every area share of the tables


def show_served(shop: Shop, ordinary: dict[str, Plain]) -> Claim:
    """Return the claim that whatever may be repaired at its largest has kit, or a plan that says what is missing.

    `ordinary` is what an ordinary case says.
    """
    quick = replace(shop, evaluator=ColumnEvaluator(shop.book))
    failures: list[Failure] = []
    listed: dict[str, None] = {}
    asked = 0
    for size, zone, witness in _largest(shop.book, ordinary):
        asked += 1
        docket = judge(read_witness(witness, shop.book.vocabulary), quick, law=witness.law)
        if docket.verdict in (shop.book.verdicts[0], shop.book.verdicts[-1]):
            continue
        repairs = () if docket.plan is None else docket.plan.repairs
        for lacking in (lacking for repair in repairs for lacking in repair.not_served):
            listed[f"{size.text}, {zone}: {lacking}"] = None
        if not any(repair.kit or repair.not_served for repair in repairs):
            says = f"{size.text}, {zone}: {docket.verdict}, with neither kit nor a word of what is missing."
            failures.append(Failure(says, (witness,)))
    return Claim("kit serves what is allowed", SAYS, "trial", asked, tuple(failures), tuple(listed))


def _largest(book: Rulebook, ordinary: dict[str, Plain]) -> Iterator[tuple[Size, str, Witness]]:
    """Yield for each class, construction and zone the two largest injuries: as long, and as wide, as may be."""
    seen: set[tuple[Value, Value]] = set()
    for size in all_sizes():
        construction = str(size.designation.construction.value)
        casing = "steel" if construction == "radial" else "nylon"
        facts: dict[str, Value] = {"construction": construction, "casing": casing, "width class": _class(book, size)}
        key = (construction, facts["width class"])
        if key in seen:
            continue
        seen.add(key)
        for zone in ZONES:
            facts["zone"] = zone
            length, width = _limit(book, "table length", facts), _limit(book, "table width", facts)
            for around, across in ((length, BOX * width), (BOX * length, width)):
                if around >= 1.0 and across >= 1.0:
                    values: dict[str, Plain] = {
                        **ordinary, "designation": size.text, "construction": construction, "casing": casing,
                        "placed from": "zone", "zone": zone, "length": around, "width": across, "cords cut": 1.0,
                    }  # fmt: skip
                    yield size, zone, write_witness(values, book.vocabulary, ("designation", "length", "width", "zone"))


def _limit(book: Rulebook, name: str, facts: dict[str, Value]) -> float:
    numbers = (table.look_up(name, facts) for table in book.tables_giving(name) if set(table.facts()) <= facts.keys())
    return max((number for number in numbers if number is not None), default=0.0)


def _class(book: Rulebook, size: Size) -> str:
    rows = book.tables_giving("class from")[0].rows
    width = round(size.designation.nominal_width_mm, 1)
    return [row.bounds[-1].values[0] for row in rows if row.numbers[0] <= width][-1]
