"""The rows of a review: each row of the sheet is decided or set aside, and none is lost."""

from datetime import date

import polars as pl
import pytest

from mendbook.triage import Shop
from mendbook.yard.batch import Batch
from mendbook.yard.review import Reviewed, Reviewer
from tests.yard.dirt import SHEET
from tests.yard.made import Made, make

DAY = date(2026, 11, 25)


def reviewed(made: Made, shop: Shop) -> Reviewed:
    return Reviewer(shop, DAY).review(Batch(made.tyres, made.injuries))


def test_every_row_is_decided_or_set_aside_and_dirt_is_set_aside(shop: Shop) -> None:
    made = make(1_000, seed=4, dirty=300)
    done = reviewed(made, shop)
    decided, aside = {*done.decisions.get_column("row")}, {*done.quarantined.get_column("row")}
    assert decided.isdisjoint(aside)
    assert decided | aside == {*made.rows.get_column("row")}
    spoilt = made.dirt.filter(pl.col("seen") != SHEET)  # what takes the whole sheet to see is the input's task
    stopped = done.decisions.filter(pl.col("outcome") == "stop").get_column("row")
    assert {*spoilt.get_column("row")} - aside <= {*stopped}
    tyres = spoilt.get_column("tyre").unique().implode()
    assert aside <= {*made.rows.filter(pl.col("tyre").is_in(tyres)).get_column("row")}
    assert done.quarantined.get_column("words").str.len_chars().min() > 20


def test_a_clean_yard_is_decided_whole(shop: Shop) -> None:
    made = make(1_500, seed=6)
    done = reviewed(made, shop)
    assert done.quarantined.is_empty()
    assert done.decisions.get_column("row").to_list() == made.rows.get_column("row").to_list()


def test_a_batch_has_the_same_columns_whatever_comes_of_it(shop: Shop) -> None:
    """Parts of a review are laid end to end: of stopped tyres alone, of tyres without injuries, of sound ones."""
    made = make(60, seed=6)
    stopped = made.tyres.with_columns(pl.lit("in").alias("found.valve core"))
    batches = (
        Batch(made.tyres, made.injuries),
        Batch(stopped, made.injuries),
        Batch(made.tyres, made.injuries.clear()),
    )
    parts = [Reviewer(shop, DAY).review(batch).decisions for batch in batches]
    assert [*parts[1].get_column("outcome").unique()] == ["stop"]
    assert parts[0].schema == parts[1].schema == parts[2].schema


def test_nothing_is_asked_of_a_method_where_the_tyre_is_rejected(shop: Shop) -> None:
    made = make(400, seed=8)
    done = reviewed(made, shop)
    rejected = done.decisions.filter(pl.col("outcome") == "reject")
    assert rejected.height > 20
    assert not rejected.get_column("held by").explode().drop_nulls().str.starts_with("method/").any()
    assert done.repairable.filter(pl.col("tyre").is_in(rejected.get_column("tyre").implode())).is_empty()


def test_a_depth_that_no_new_tread_had_is_set_aside_beside_a_plausible_tread_left(shop: Shop) -> None:
    """Two fields tell of the tread; the one that cannot be true is found though the other could be."""
    made = make(40, seed=6)
    depths = pl.when(pl.col("tyre") == 3).then(pl.lit("250 mm; 250 mm")).alias("tyre.tread depths")
    tyres = made.tyres.with_columns(
        depths, pl.lit("30 mm").alias("tyre.tread left"), pl.lit("60 mm").alias("tyre.tread new")
    )
    aside = Reviewer(shop, DAY).review(Batch(tyres, made.injuries)).quarantined
    assert {*aside.filter(pl.col("column") != "").get_column("column")} == {"tyre.tread depths"}
    assert aside.get_column("tag").unique().to_list() == tyres.filter(pl.col("tyre") == 3).get_column("tag").to_list()


def test_no_answer_hangs_on_which_facts_are_carried(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    """What nobody looks at is left behind for speed alone: with every fact carried along, the rows are the same."""
    made = make(120, seed=31)
    narrow = reviewed(made, shop)
    monkeypatch.setattr("mendbook.yard.carried.Carried.before", lambda _, frame: frame)
    monkeypatch.setattr("mendbook.yard.carried.Carried.after", lambda _, rows: rows)
    wide = reviewed(made, shop)
    assert wide.repairable.width > narrow.repairable.width + 50
    assert wide.decisions.equals(narrow.decisions)


def test_what_was_read_before_changes_no_answer(shop: Shop) -> None:
    """A reviewer keeps what cells say: a yard reviewed after others comes out as it does alone."""
    yards = [make(60, seed=seed, dirty=8) for seed in (51, 52, 53)]
    reviewer = Reviewer(shop, DAY)
    kept = [reviewer.review(Batch(made.tyres, made.injuries)) for made in yards]
    for made, after in zip(yards, kept, strict=True):
        alone = reviewed(made, shop)
        assert after.decisions.equals(alone.decisions)
        assert after.quarantined.equals(alone.quarantined)


def test_cells_that_never_say_the_same_twice_are_forgotten(shop: Shop, monkeypatch: pytest.MonkeyPatch) -> None:
    yards = [make(50, seed=seed) for seed in (54, 55)]
    wanted = [reviewed(made, shop).decisions for made in yards]
    monkeypatch.setattr("mendbook.yard.cell_table.MOST_ROWS", 20)
    monkeypatch.setattr("mendbook.yard.cells.MOST_KNOWN", 20)
    reviewer = Reviewer(shop, DAY)
    for made, decisions in zip(yards, wanted, strict=True):
        assert reviewer.review(Batch(made.tyres, made.injuries)).decisions.equals(decisions)
