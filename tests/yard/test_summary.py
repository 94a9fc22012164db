"""A summary counts every row once, whatever the batches, and in any order."""

import json
from functools import reduce
from operator import add

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from mendbook.triage import Shop
from mendbook.yard.summary import MOST_ALIKE, MOST_NEAR, Near, Summary, nearest
from mendbook.yard.summing import Summariser
from tests.yard.drawn import Drawn, drawn


@pytest.fixture(scope="module")
def summariser(shop: Shop) -> Summariser:
    return Summariser(shop.book)


def whole(yard: Drawn, summariser: Summariser) -> Summary:
    return summariser.summarise(*yard.batch(yard.tyres))


@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_batches_add_up_to_the_whole_in_any_order(data: st.DataObject, shop: Shop, summariser: Summariser) -> None:
    yard = data.draw(drawn(shop.book))
    parts = [summariser.summarise(*batch) for batch in yard.batches(data.draw(st.integers(1, 4)))]
    shuffled = data.draw(st.permutations(parts))
    found = whole(yard, summariser)
    assert reduce(add, shuffled, Summary()) == found
    assert reduce(add, shuffled, Summary()).model_dump_json() == found.model_dump_json()
    assert Summary.model_validate_json(found.model_dump_json()) == found


@settings(max_examples=15, deadline=None)
@given(data=st.data())
def test_sums_match(data: st.DataObject, shop: Shop, summariser: Summariser) -> None:
    yard = data.draw(drawn(shop.book))
    found = whole(yard, summariser)
    rows = [row for one in yard.tyres for row in one["decisions"]]
    out = {row[0] for one in yard.tyres for row in one["quarantined"]}
    assert found.adds_up
    assert (found.rows, found.quarantined) == (len(rows) + len(out), len(out))
    assert found.undecided == sum(row[7] == "hold" for row in rows)
    injuries = [row for row in rows if row[1] is not None]
    assert found.injuries.number == sum(found.injuries.outcomes.values()) == len(injuries)
    assert found.tyres.number == len({row[0] for row in rows})
    for groups, number in (
        (found.sizes, found.tyres.number), (found.duties, found.tyres.number),
        (found.zones, len(injuries)), (found.causes, len(injuries)),
    ):  # fmt: skip
        assert sum(tally.number for tally in groups.values()) == number
    assert sum(found.fallen.values()) == sum(found.blocked.get("reject", {}).values())
    assert sum(found.fallen.values()) == found.tyres.outcomes.get("reject", 0)
    assert sum(fault.number for fault in found.faults.values()) == len(out)
    planned = [row for row in rows if row[20] and row[7] in ("repair", "hold")]
    work = [one for by_kit in found.work.values() for one in by_kit.values()]
    assert sum(one.repairs for one in work) == len(planned)
    assert sum(one.heat_s for one in work) == sum(round(60 * row[23]) for row in planned if row[23] is not None)
    assert sum(one.untimed for one in work) == sum(row[23] is None for row in planned)
    wanted: dict[str, list[tuple[int, int]]] = {}
    for row in (row for row in rows if row[7] == "repair"):
        seconds = sum(round(60 * (minutes or 0)) for minutes in row[23:25])
        for piece in {said.split(",")[0] for said in row[25] or ()}:
            number = sum(pieces_in(said) for said in row[25] if said.split(",")[0] == piece)
            wanted.setdefault(piece, []).append((number, number * seconds))
    assert {piece: (one.repairs, one.at_once, one.busy_s) for piece, one in found.pieces.items()} == {
        piece: (len(used), max(number for number, _ in used), sum(busy for _, busy in used))
        for piece, used in wanted.items()
    }


def pieces_in(said: str) -> int:
    return int(said.split(", ")[1].split()[0]) if said.endswith("pieces") else 1


def test_a_row_that_is_lost_is_seen(summariser: Summariser) -> None:
    batch, reviewed = Drawn((_tyre(0, "serve"), _tyre(1, "serve"))).batches(1)[0]
    lost = type(reviewed)(reviewed.decisions.head(1), reviewed.quarantined, reviewed.repairable)
    assert summariser.summarise(batch, reviewed).adds_up
    assert not summariser.summarise(batch, lost).adds_up


def _tyre(number: int, outcome: str, **of: object) -> dict[str, object]:
    row = 2 + number
    decided = [None] * 26
    decided[0], decided[3], decided[4], decided[7] = number, row, f"T{number}", outcome
    decided[12:15] = ["leave"] * 3
    return {"tyre": [(number, f"T{number}", row, of.get("size"), None)], "injuries": [], "faults": [],
            "decisions": [tuple(decided)], "quarantined": []}  # fmt: skip


def test_a_size_is_one_size_however_it_is_spelt(summariser: Summariser) -> None:
    spelt = ("27.00R49", "27.00 R 49", "27.00r49 **", "unknown", None)
    yard = Drawn(tuple(_tyre(number, "serve", size=size) for number, size in enumerate(spelt)))
    assert {size: tally.number for size, tally in whole(yard, summariser).sizes.items()} == {
        "27.00R49": 3, "not written": 2,
    }  # fmt: skip


def near(number: int, share: float, limit: str = "hole up to 6 mm", rank: int = 2) -> Near:
    return Near(share=share, rank=rank, tyre=number, injury=0, tag="", name="", row=number, rule="a/b", limit=limit,
                fact="hole", room=share, verdict="spot", outcome="hold")  # fmt: skip


def test_the_commonest_limit_does_not_fill_the_list() -> None:
    found = nearest([*(near(n, 0.0) for n in range(50)), near(50, 0.3, "hole up to 25 mm")])
    assert [one.tyre for one in found] == [*range(MOST_ALIKE), 50]


def test_of_two_as_near_the_more_severe_comes_first() -> None:
    assert [one.tyre for one in nearest([near(1, 0.1), near(2, -0.1, rank=4), near(3, 0.01)])] == [3, 2]


@given(st.lists(st.tuples(st.integers(-9, 9), st.integers(0, 30), st.integers(0, 5)), max_size=60), st.integers(0, 60))
def test_the_nearest_of_parts_are_the_nearest_of_all(drawn_near: list[tuple[int, int, int]], cut: int) -> None:
    every = [near(n, share / 100, f"limit {limit}", rank) for n, (share, limit, rank) in enumerate(drawn_near)]
    found = nearest([*nearest(every[:cut]), *nearest(every[cut:])])
    assert found == nearest(every)
    assert len(found) <= MOST_NEAR


def test_the_summary_is_written_as_plain_data(summariser: Summariser) -> None:
    told = json.loads(whole(Drawn((_tyre(0, "serve"),)), summariser).model_dump_json())
    assert told["tyres"] == {"verdicts": {"leave": 1}, "outcomes": {"serve": 1}}
