"""How the repairs of a yard are done: as the plan of each tyre says.

The long run: python -m pytest -m long tests/yard/test_planning.py
"""

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

import polars as pl
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.plan.bench import read_bench
from mendbook.plan.method import choose
from mendbook.plan.way import find_way
from mendbook.rulebook.tree import Value
from mendbook.triage import Shop
from mendbook.triage.passes import Judged
from mendbook.yard.bound import RULED_OUT, Binding
from mendbook.yard.planning import LACKING, PLANNED_BY, kit_is_lacking
from tests.plan.requests import LOADER, METHODS, TRUCK, but, without
from tests.yard.made import make
from tests.yard.planned import compare, reviewed
from tests.yard.single import trees
from tests.yard.written import as_yard, draw_trees


@pytest.mark.parametrize("seed", [31])
def test_a_yard_is_planned_as_its_tyres_are(seed: int, shop: Shop) -> None:
    made = make(14, seed)
    assert compare(shop, made.tyres, made.injuries, list(trees(made))) > 5


@pytest.mark.long
@pytest.mark.parametrize("seed", range(300, 310))
def test_a_yard_is_planned_as_its_tyres_are_at_length(seed: int, shop: Shop) -> None:
    made = make(400, seed)
    assert compare(shop, made.tyres, made.injuries, list(trees(made))) > 140


def draw_and_compare(data: st.DataObject, shop: Shop) -> None:
    drawn = draw_trees(data, shop)
    compare(shop, *as_yard(drawn), drawn)


@settings(max_examples=4, deadline=None)
@given(data=st.data())
def test_drawn_tyres_are_planned_as_they_are_alone(data: st.DataObject, shop: Shop) -> None:
    draw_and_compare(data, shop)


@pytest.mark.long
@settings(max_examples=400, deadline=None)
@given(data=st.data())
def test_drawn_tyres_are_planned_as_they_are_alone_at_length(data: st.DataObject, shop: Shop) -> None:
    draw_and_compare(data, shop)


SHOPS = (
    {"workshop.kit on hand": "none"},
    {"workshop.setpoint": "150 °C", "workshop.shop temperature": "8 °C", "workshop.altitude": "2400 m"},
    {"workshop.compound": "no such rubber", "workshop.working pressure": "3 bar"},
    {"workshop.circuit": "120 V 20 A", "workshop.faces reached": "one"},
)


def test_each_workshop_has_its_own_bench(shop: Shop) -> None:
    made = make(15, seed=33)
    kit = [piece.id for piece in (*shop.stock.kit.pads[:3], *shop.stock.kit.arm_presses)]
    benches = [*SHOPS, {"workshop.kit on hand": "; ".join(kit)}]
    columns = dict.fromkeys(name for bench in benches for name in bench)
    rows = [benches[number % len(benches)] for number in range(made.tyres.height)]
    tyres = made.tyres.with_columns(pl.Series(name, [row.get(name) for row in rows], pl.String) for name in columns)
    alone = list(trees(made))
    for tree, row in zip(alone, rows, strict=True):
        tree["workshop"] = {name.removeprefix("workshop."): written(name, cell) for name, cell in row.items()}
    assert compare(shop, tyres, made.injuries, alone) > 5


def written(name: str, cell: str) -> str | list[str]:
    return cell.split("; ") if name.endswith("kit on hand") else cell


def test_a_repair_whose_kit_is_lacking_holds_its_tyre(shop: Shop) -> None:
    made = make(60, seed=34)
    bare = made.tyres.with_columns(pl.lit("none").alias("workshop.kit on hand"))
    decisions = reviewed(shop, bare, made.injuries).decisions
    lacking = decisions.filter(kit_is_lacking())
    assert lacking.height > 10
    assert set(lacking.get_column("outcome")) == {"hold"}
    assert any("none on hand serves" in why for why in lacking.get_column(LACKING).explode())
    able = reviewed(shop, made.tyres, made.injuries).decisions.filter(kit_is_lacking())
    assert able.height < lacking.height


def test_a_cell_of_the_workshop_that_cannot_be_read_is_set_aside(shop: Shop) -> None:
    made = make(6, seed=35)
    tyres = made.tyres.with_columns(pl.lit("high up").alias("workshop.altitude"))
    found = reviewed(shop, tyres, made.injuries)
    assert found.decisions.is_empty()
    assert set(found.quarantined.get_column("column")) >= {"workshop.altitude"}


class Watched(dict[str, Value]):
    """Facts that remember which of them were looked at."""

    def __init__(self, facts: Mapping[str, Value], seen: set[str]) -> None:
        super().__init__(facts)
        self.seen = seen

    def get(self, name: str, default: Any = None) -> Any:
        self.seen.add(name)
        return super().get(name, default)

    def __getitem__(self, name: str) -> Value:
        self.seen.add(name)
        return super().__getitem__(name)


def test_repairs_are_told_apart_by_all_that_a_plan_looks_at(shop: Shop) -> None:
    seen: set[str] = set()
    bench = read_bench({}, shop.stock)
    for wanted in (LOADER, TRUCK, but(LOADER, reaches="plies", cavity_depth=20.0), but(TRUCK, kind="liner only")):
        for zone in ("crown centre", "shoulder", "upper sidewall"):
            for asked in (wanted, without(wanted, "one stage"), without(wanted, "flexible pads")):
                one = replace(asked, zone=zone, facts=Watched(asked.facts, seen))
                way = find_way(one, choose(one, METHODS), bench, METHODS, shop.stock)
                for draft in way.drafts(one, bench):
                    draft.order(draft.first)
    assert len(seen) > 20
    assert seen <= {*PLANNED_BY}


def test_what_was_ruled_out_before_the_method_rules_binds_the_plan(shop: Shop) -> None:
    made = make(30, seed=36)
    repairable = reviewed(shop, made.tyres, made.injuries).repairable
    foamed = repairable.get_column("tyre")[0]
    filled = pl.when(pl.col("tyre") == foamed).then(pl.lit("foam")).otherwise(pl.lit("air")).alias("filled with")
    tyres = repairable.unique("tyre", keep="first", maintain_order=True).with_columns(filled)
    binding = Binding(shop.book)
    bound = binding.bind(repairable, Judged(tyres, repairable, pl.DataFrame()))
    out = [binding.ruled_out(bits) for bits in bound.get_column(RULED_OUT)]
    assert [("hot" in one) for one in out] == (bound.get_column("tyre") == foamed).to_list()
