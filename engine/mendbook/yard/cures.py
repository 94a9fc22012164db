"""The cures of many repairs at once: all of them look for their setpoint side by side, a table of cures a round."""

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from pydantic import ValidationError

from mendbook.cure import NeverCuredError, PadTooSmallError, compute
from mendbook.cure.bulk import CureTable, compute_many
from mendbook.cure.vapour import safe_setpoint
from mendbook.plan.draft import Draft
from mendbook.plan.order import tried, words
from mendbook.plan.setpoint import Search, Tried, seek_setpoint, settle_at_edge
from mendbook.terms.cure_order import CureOrder

NEAR = 0.006  # of the cure that a layer bears; so near to it a wall is worked out by itself, on its finer grid

Key = tuple[object, ...]


@dataclass(frozen=True)
class Cure:
    """The cure of one draft: setpoint [°C], heating and cooling [min]; `why_not` where there is none."""

    setpoint: float
    minutes: float
    to_release: float
    why_not: str = ""


class CureFinder:
    """Finds the cures of repairs as the plan of one tyre does. What it found under wide pads it knows from then on."""

    def __init__(self) -> None:
        self._wide: dict[Key, Cure] = {}

    def find(self, drafts: Sequence[Draft]) -> list[Cure]:
        """Return the cure of each of `drafts`, at the highest setpoint that is gentle."""
        keys = [_key(draft) for draft in drafts]
        new = {key: draft.wide for key, draft in zip(keys, drafts, strict=True) if key not in self._wide}
        searches = [seek_setpoint(draft.first) for draft in new.values()]
        self._wide |= zip(new, _follow(list(new.values()), searches), strict=True)
        found = [self._wide[key] for key in keys]
        near = [place for place, cure in enumerate(found) if not cure.why_not]
        settled = _follow([drafts[place] for place in near], [settle_at_edge(found[place].setpoint) for place in near])
        for place, cure in zip(near, settled, strict=True):
            found[place] = cure
        return found


def _key(draft: Draft) -> Key:
    """Return what tells drafts under wide pads apart: materials, compounds and benches are kept, and so their ids."""
    layers = (
        (layer.name, layer.thickness_mm, layer.cured_before, id(layer.material), id(layer.compound))
        for layer in draft.layers
    )
    return (id(draft.bench), draft.casing, draft.moisture, draft.both_faces, *layers)


@dataclass
class _Going:
    """A draft whose setpoint is being looked for: the one being tried, and the cure of each that was."""

    draft: Draft
    search: Search
    setpoint: float
    cures: dict[float, Cure]


def _follow(drafts: Sequence[Draft], searches: Sequence[Search]) -> list[Cure]:
    """Return the cure of each of `drafts` where its search comes to rest."""
    found: dict[int, Cure] = {}
    going = {
        place: _Going(draft, search, next(search), {})
        for place, (draft, search) in enumerate(zip(drafts, searches, strict=True))
    }
    while going:
        orders: dict[int, CureOrder] = {}
        for place, one in going.items():
            try:
                orders[place] = one.draft.order(one.setpoint)
            except ValidationError as problem:
                found[place] = _failed(f"no cure order can be written. {words(problem)}")
        table = compute_many(list(orders.values()))
        for row, place in enumerate(orders):
            if (cure := _step(going[place], table, row)) is not None:
                found[place] = cure
        going = {place: one for place, one in going.items() if place not in found}
    return [found[place] for place in range(len(drafts))]


def _step(one: _Going, table: CureTable, row: int) -> Cure | None:
    """Take what row `row` of `table` says of the setpoint tried; return the cure when the search is over."""
    if table.reason[row]:
        return _failed(str(table.reason[row]))
    minutes, to_release = table.minutes_from_switch_on[row], table.minutes_to_release[row]
    one.cures[one.setpoint] = Cure(one.setpoint, float(minutes), float(to_release))
    try:
        one.setpoint = one.search.send(_tried(one, table, row))
    except StopIteration as over:
        return one.cures[over.value]
    except (NeverCuredError, PadTooSmallError) as problem:
        return _failed(str(problem))
    return None


def _tried(one: _Going, table: CureTable, row: int) -> Tried:
    excess = float(np.nanmax(table.layer_most[row] / table.layer_limit[row]))
    if abs(excess - 1) < NEAR:
        return tried(compute(one.draft.order(one.setpoint), beside=False))
    bench = one.draft.bench
    return Tried(
        excess=excess,
        overcures=not bool(table.layer_ok[row].all()),
        boils=not bool(table.clamp_ok[row]),
        safe=safe_setpoint(bench.pressure, one.draft.water, bench.altitude),
    )


def _failed(why: str) -> Cure:
    return Cure(np.nan, 0.0, 0.0, why)
