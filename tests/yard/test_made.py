"""The generator of invented yards: seeded, spread over all answers, and soiled exactly where it says."""

from collections import Counter
from hashlib import sha256
from pathlib import Path

import polars as pl
import pytest

from mendbook.terms.case_file import CaseError
from mendbook.triage import Shop, judge
from mendbook.triage.places import ImpossibleCase
from tests.triage.cases import read
from tests.yard.dirt import CASE, CELL, KINDS, SHEET
from tests.yard.made import Made, main, make, pieces
from tests.yard.single import trees
from tests.yard.spine import Said, Spine

TYRES = 1_500
DIRTY = 300  # of a thousand tyres


@pytest.fixture(scope="module")
def spine(shop: Shop) -> Spine:
    return Spine(shop)


@pytest.fixture(scope="module")
def soiled() -> Made:
    return make(TYRES, seed=4, dirty=DIRTY)


def test_the_example_is_what_the_generator_makes(root: Path, tmp_path: Path) -> None:
    with pytest.raises(SystemExit):
        main(["--tyres", "40", "--seed", "7", "--out", str(tmp_path / "made.csv")])
    assert (tmp_path / "made.csv").read_bytes() == (root / "examples/yard/three_sites.csv").read_bytes()


def test_the_example_says_that_it_is_invented(root: Path) -> None:
    sheet = pl.read_csv(root / "examples/yard/three_sites.csv", infer_schema=False)
    assert sheet.get_column("site").str.ends_with("(invented)").all()
    assert sheet.get_column("tag").n_unique() == 40
    assert 50 < sheet.height < 70


def test_a_seed_gives_the_same_bytes_on_any_machine(soiled: Made) -> None:
    assert sha256(soiled.sheet.write_csv().encode()).hexdigest().startswith("80941bc4b3c46c73")


def test_another_seed_gives_another_yard() -> None:
    assert not make(50, seed=1).sheet.equals(make(50, seed=2).sheet)


def test_a_yard_made_in_pieces_is_the_same_yard(soiled: Made) -> None:
    made = list(pieces(TYRES, seed=4, dirty=DIRTY, size=400))
    assert len(made) == 4
    assert pl.concat(piece.rows for piece in made).equals(soiled.rows)
    assert pl.concat(piece.dirt for piece in made).equals(soiled.dirt)


def test_a_fleet_would_really_have_such_columns(spine: Spine, soiled: Made) -> None:
    read = {name for readers in spine.reader._readers.values() for one in readers for name in one.block.inputs}
    own = {*soiled.sheet.columns} - {"site", "tag", "name"}
    assert own <= read
    assert 35 <= len(soiled.sheet.columns) <= 45


def test_units_are_mixed_and_some_things_are_not_known(soiled: Made) -> None:
    length = soiled.injuries.get_column("length").drop_nulls()
    for ending, least in ((" mm", 0.8), (" cm", 0.03), (" in", 0.03)):
        assert length.str.ends_with(ending).mean() > least
    assert length.str.contains(" to ").any()
    for column in ("length", "reaches", "tyre.casing", "found.pressure at removal", "tyre.date code"):
        assert (soiled.rows.get_column(column) == "unknown").any(), column
    assert soiled.rows.get_column("found.pressure at removal").str.contains("psi|kPa").any()


def test_most_tyres_have_one_injury_and_some_have_none_or_many(soiled: Made) -> None:
    each = Counter(soiled.injuries.get_column("tyre").value_counts().get_column("count").to_list())
    assert each[1] > TYRES / 2
    assert each[2] > each[3] > each[4] > 0
    assert soiled.injuries.get_column("tyre").n_unique() < soiled.tyres.height == TYRES


def test_what_goes_together_goes_together(soiled: Made) -> None:
    """A long injury is wide; an old tyre is worn; a soft one shows signs of it."""
    found = soiled.injuries.filter(pl.all_horizontal(pl.col("length", "width").str.contains(r"^\d+ mm$")))
    size = found.select(pl.col("length", "width").str.strip_suffix(" mm").cast(pl.Int64))
    assert size.select(pl.corr("length", "width", method="spearman")).item() > 0.6
    read = soiled.tyres.filter(pl.all_horizontal(pl.col("tyre.tread new", "tyre.tread left").str.contains(r"^\d+ mm$")))
    read = read.filter(pl.col("tyre.date code").str.contains(r"^\d\d[012]\d$") & (pl.col("tyre.date code") != "0127"))
    new, left = (pl.col(name).str.strip_suffix(" mm").cast(pl.Int64) for name in ("tyre.tread new", "tyre.tread left"))
    built = pl.col("tyre.date code").str.slice(2).cast(pl.Int64)
    assert read.select(pl.corr(left / new, built, method="spearman")).item() > 0.3


def outcome(said: Said, verdicts: tuple[str, ...]) -> str:
    """Return the outcome of a docket, but for what its plan lacks."""
    if said.bracket is None:
        return "stop"
    if said.bracket[0] == verdicts[-1]:
        return "reject"
    if said.holds or said.bracket[0] != said.bracket[1]:
        return "hold"
    return "serve" if said.verdict == verdicts[0] else "repair"


def test_every_verdict_and_every_outcome_turns_up(spine: Spine) -> None:
    made, verdicts = make(TYRES, seed=11), spine.book.verdicts
    read, _ = spine.read(made.tyres, made.injuries)
    told = spine.told(read, spine.judge(read)).values()
    by_verdict, by_outcome = Counter(one.verdict for one in told), Counter(outcome(one, verdicts) for one in told)
    assert {*by_verdict} == {*verdicts, None}
    assert {*by_outcome} == {"stop", "reject", "hold", "repair", "serve"}
    assert min(by_verdict.values()) > 0.02 * TYRES
    assert min(by_outcome.values()) > 0.02 * TYRES
    assert max(by_outcome.values()) < 0.6 * TYRES


def test_every_zone_and_kind_and_size_turns_up(spine: Spine, soiled: Made) -> None:
    vocabulary = spine.book.vocabulary
    for fact in ("kind", "zone", "reaches"):
        assert {*vocabulary[fact].values} <= {*soiled.injuries.get_column(fact)}
    assert {*vocabulary["duty"].values} <= {*soiled.tyres.get_column("service.duty")}
    read, _ = spine.read(soiled.tyres, soiled.injuries)
    classes = spine.judge(read).judged.tyres.get_column("width class")
    assert {*vocabulary["width class"].values} - {*classes} == {"W8"}  # beyond the tables of the shipped book


def test_a_clean_yard_has_nothing_to_set_aside(spine: Spine) -> None:
    made = make(TYRES, seed=5)
    _, faults = spine.read(made.tyres, made.injuries)
    assert made.dirt.is_empty()
    assert faults.is_empty()


def test_every_kind_of_dirt_is_there(soiled: Made) -> None:
    assert {*soiled.dirt.get_column("kind")} == {kind.name for kind in KINDS}
    assert {*soiled.dirt.get_column("seen")} == {CELL, CASE, SHEET}
    assert 0.15 < soiled.dirt.get_column("tyre").n_unique() / TYRES < 0.35
    clean = make(TYRES, seed=4).rows
    changed = {place for column in clean.columns for place in _unequal(clean.get_column(column), soiled.rows[column])}
    assert changed == {*soiled.dirt.get_column("row")}


def _unequal(clean: pl.Series, soiled: pl.Series) -> list[int]:
    return [2 + place for place, other in enumerate(clean.ne_missing(soiled)) if other]


def test_dirt_of_cells_is_found_in_its_column_and_nowhere_else(spine: Spine, soiled: Made) -> None:
    _, faults = spine.read(soiled.tyres, soiled.injuries)
    wanted = soiled.dirt.filter(pl.col("seen") == CELL).select("tyre", "column").unique()
    assert {*faults.select("tyre", "column").iter_rows()} == {*wanted.iter_rows()}
    assert faults.get_column("words").str.contains("[Ww]rite|Check|again").all()


def test_dirt_of_cases_is_refused_but_where_people_come_first(shop: Shop, soiled: Made) -> None:
    spoilt = dict(soiled.dirt.filter(pl.col("seen") == CASE).select("tyre", "kind").iter_rows())
    chosen = {tyre: kind for tyre, kind in spoilt.items() if tyre < TYRES / 6}
    assert {*chosen.values()} == {kind.name for kind in KINDS if kind.seen == CASE}
    for tyre, tree in enumerate(trees(soiled)):
        if tyre not in chosen:
            continue
        try:
            docket = judge(read(tree, shop.book.vocabulary), shop)
        except (CaseError, ImpossibleCase):
            continue
        assert docket.outcome == "stop", chosen[tyre]
