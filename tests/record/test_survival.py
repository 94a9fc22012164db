"""Survival against a published example and another library.

The example: remission of 42 children with leukaemia, 6-MP arm (Freireich and others, Blood 21, 1963), as textbooks
print it, for one Kleinbaum and Klein, Survival analysis, table 2.2. Times and shares are quoted from memory.
"""

import json
from pathlib import Path

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy import integrate, stats

from mendbook.record import Record
from mendbook.record.outcomes import Outcome, find_outcomes
from mendbook.record.survival import EARLY, FEWEST_LOSSES, FEWEST_REPAIRS, jeffreys, kaplan_meier, learn
from tests.record.made import WHEN, decision, docket, follow_up

RELAPSED = [6, 6, 6, 7, 10, 13, 16, 22, 23]
STILL_WELL = [6, 9, 10, 11, 17, 19, 20, 25, 32, 32, 34, 35]
PUBLISHED = {6: 0.857, 7: 0.807, 10: 0.753, 13: 0.690, 16: 0.628, 22: 0.538, 23: 0.448}
AT_RISK = {6: 21, 7: 17, 10: 15, 13: 12, 16: 11, 22: 7, 23: 6}


def outcome(ran: float, state: str = "failed", klass: str = "section", zone: str = "upper sidewall") -> Outcome:
    return Outcome(1, "FH-1", "A", klass, zone, "h", ran, state, "")  # type: ignore[arg-type]  # drawn as text


def test_the_published_curve_comes_out() -> None:
    ran = np.array(RELAPSED + STILL_WELL, dtype=float)
    is_lost = np.array([True] * len(RELAPSED) + [False] * len(STILL_WELL))
    steps = {int(step.at): step for step in kaplan_meier(ran, is_lost) if step.lost}
    assert {at: step.at_risk for at, step in steps.items()} == AT_RISK
    # Textbooks round each step before the next, so the third figure may differ by one.
    assert {at: step.share for at, step in steps.items()} == pytest.approx(PUBLISHED, abs=0.0011)
    assert {at: step.share for at, step in steps.items()}[6] == pytest.approx(18 / 21)


DRAWN = st.lists(st.tuples(st.integers(1, 400), st.booleans()), min_size=3, max_size=60).filter(
    lambda drawn: any(lost for _, lost in drawn)
)


@settings(max_examples=8)  # the other library takes a tenth of a second for each
@given(DRAWN)
def test_another_library_draws_the_same_curve(drawn: list[tuple[int, bool]]) -> None:
    from lifelines import KaplanMeierFitter

    ran, is_lost = np.array([float(at) for at, _ in drawn]), np.array([lost for _, lost in drawn])
    fitted = KaplanMeierFitter().fit(ran, is_lost)
    ends = fitted.confidence_interval_
    for step in kaplan_meier(ran, is_lost):
        assert step.share == pytest.approx(float(fitted.predict(step.at)), abs=1e-9)
        if step.low is not None and step.share > 1e-9:
            low, high = (float(ends.loc[step.at].iloc[place]) for place in (0, 1))
            assert (step.low, step.high) == pytest.approx((low, high), abs=1e-9)


@pytest.mark.parametrize(("lost", "known"), [(0, 1), (0, 12), (1, 7), (5, 5), (3, 80)])
def test_the_interval_of_an_early_loss_holds_what_it_says(lost: int, known: int) -> None:
    """By integrating the density itself, not by the library's inverse."""
    found = jeffreys(lost, known)
    density = lambda p: p ** (lost - 0.5) * (1 - p) ** (known - lost - 0.5)  # noqa: E731  # a formula reads best on a line
    whole = integrate.quad(density, 0, 1)[0]
    below = integrate.quad(density, 0, found.low)[0] / whole
    above = integrate.quad(density, found.high, 1)[0] / whole
    assert found.value == lost / known
    assert below == pytest.approx(0.0 if lost == 0 else 0.025, abs=1e-6)
    assert above == pytest.approx(0.0 if lost == known else 0.025, abs=1e-6)


def test_the_interval_of_early_losses_is_the_published_one() -> None:
    """Brown, Cai and DasGupta 2001, table 5 of Jeffreys intervals: n = 10, x = 1 gives 0.011 to 0.381 (from memory)."""
    found = jeffreys(1, 10)
    assert (found.low, found.high) == pytest.approx((0.011, 0.381), abs=0.0006)


def test_few_are_never_told_as_a_share() -> None:
    groups = learn([outcome(100.0 * n, "failed" if n < 3 else "in service") for n in range(1, FEWEST_REPAIRS + 5)])
    assert [(one.repairs, one.lost, one.is_too_few, one.curve, one.at(300)) for one in groups] == [
        (FEWEST_REPAIRS + 4, 2, True, (), None)
    ]
    assert groups[0].early is not None
    assert groups[0].early.chance.high > 0.1
    (enough,) = learn([outcome(100.0 * n, "failed" if n <= FEWEST_LOSSES else "in service") for n in range(1, 15)])
    assert not enough.is_too_few
    assert enough.at(20_000) == "beyond"
    assert enough.at(50).share == 1.0  # type: ignore[union-attr]  # a step, as the line above the last shows


def test_early_losses_are_told_of_repairs_whose_first_shifts_are_known() -> None:
    """Two were removed before anybody could know, and one ran exactly so long."""
    ran = [(5, "failed"), (EARLY["h"], "failed"), (EARLY["h"], "in service"), (4, "removed"), (9, "in service")]
    (group,) = learn([outcome(hours, state) for hours, state in [*ran, (500, "failed"), (800, "in service")]])
    assert group.early is not None
    assert (group.early.lost, group.early.known) == (2, 5)


def test_the_mean_life_finds_the_rate_it_was_drawn_with() -> None:
    drawn = np.random.default_rng(7)
    life, inside = 5000.0, 0
    for _ in range(200):
        ran = drawn.exponential(life, 40) + EARLY["h"]
        (group,) = learn([outcome(min(hours, 6000.0), "failed" if hours < 6000 else "in service") for hours in ran])
        assert group.mean_life is not None
        inside += group.mean_life.low <= life <= group.mean_life.high
    assert stats.binomtest(inside, 200, 0.95).pvalue > 0.001


def test_groups_are_of_class_zone_and_unit() -> None:
    groups = learn([outcome(5, klass="spot"), outcome(6, zone="crown"), outcome(7), outcome(8, "removed")])
    assert [(one.klass, one.zone, one.repairs, one.lost) for one in groups] == [
        ("section", "", 3, 2),
        ("section", "crown", 1, 1),
        ("section", "upper sidewall", 2, 1),
        ("spot", "upper sidewall", 1, 1),
    ]


def test_outcomes_follow_what_counts(record: Record) -> None:
    both = docket("FH-2", {"A": "section", "B": "spot", "C": "leave"}, zone="shoulder (also touches crown)")
    record.add_all(
        [
            decision("FH-1"),  # 1
            decision("FH-2").model_copy(update={"docket": both}),  # 2
            follow_up(2, 24, on="2027-01-02"),  # 3, of both
            follow_up(2, 300, "failed", injury="B", on="2027-02-01"),  # 4
            follow_up(2, 900, "removed", injury="A", on="2027-03-01"),  # 5
            follow_up(1, 50, "failed", on="2027-01-09"),  # 6
            follow_up(2, 910, injury="A", on="2027-03-01", corrects=5),  # 7
            decision("FH-1", corrects=1),  # 8
            decision("FH-3"),  # 9
            follow_up(9, 40),  # 10
            follow_up(9, 3000, unit="km", on="2027-05-01"),  # 11
        ]
    )
    found = {(one.decision, one.injury): one for one in find_outcomes(record)}
    assert {key: (one.klass, one.zone, one.ran, one.unit, one.state) for key, one in found.items()} == {
        (2, "A"): ("section", "shoulder", 910, "h", "in service"),
        (2, "B"): ("spot", "shoulder", 300, "h", "failed"),
        (8, "A"): ("section", "upper sidewall", 50, "h", "failed"),
        (9, "A"): ("section", "upper sidewall", 3000, "km", "in service"),
    }
    from mendbook.record import Withdrawal

    record.add_all([Withdrawal(by="a", recorded=WHEN, corrects=number, note="x") for number in (8, 4)])
    left = {(one.decision, one.injury): one.state for one in find_outcomes(record)}
    assert left == {(2, "A"): "in service", (2, "B"): "in service", (9, "A"): "in service"}


@pytest.fixture
def followed(tmp_path: Path) -> str:
    where = str(tmp_path / "record.sqlite")
    from mendbook.record import open_record

    record = open_record(where, is_new_allowed=True)
    states = {number: "failed" if number % 6 == 0 else "in service" for number in range(1, 31)}
    record.add_all(decision(f"FH-{number}") for number in states)
    record.add_all(follow_up(number, 150.0 * number, state) for number, state in states.items())
    return where


def test_what_is_learnt_can_be_reckoned_with(followed: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    from mendbook.cli.entry import run
    from mendbook.worth import open_survival

    assert run(["record", "survival", "--record", followed, "--write", str(tmp_path / "knowledge/survival")]) == 0
    assert "section.yaml" in capsys.readouterr().out
    held = open_survival(tmp_path / "knowledge").of("section", "upper sidewall", "radial")
    assert held is not None
    assert held.basis == "followed up, 30 repairs, 5 lost"
    assert held.early_loss.value == 0.0
    assert 0.05 < held.early_loss.high < 0.1
    assert held.mean_life.low < held.mean_life.value < held.mean_life.high
    ran = sum(150.0 * number - 24 for number in range(1, 31))
    assert held.mean_life.value == pytest.approx(ran / 5, abs=0.5)


def test_a_repair_is_worth_what_the_shops_own_repairs_tell(
    followed: str, tmp_path: Path, root: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """What the shop learnt comes before what is shipped; what stands in the case before both."""
    from mendbook.cli.entry import run

    written = (root / "examples/quarry/loader_worth.yaml").read_text(encoding="utf-8")
    case, learnt = tmp_path / "case.yaml", tmp_path / "learnt"
    case.write_text("".join(line for line in written.splitlines(keepends=True) if " mean life: 9000" not in line))
    assert run(["record", "survival", "--record", followed, "--write", str(learnt)]) == 0
    capsys.readouterr()

    def mean_life(*arguments: str) -> dict[str, str]:
        assert run(["worth", *arguments, "--json"]) == 0
        figures = json.loads(capsys.readouterr().out)["reckoned"]
        return next(one for one in figures if one["name"] == "mean life")

    shipped, own = mean_life(str(case)), mean_life(str(case), "--survival", str(learnt))
    assert shipped["origin"].startswith("house default")
    assert own["origin"].startswith("followed up, 30 repairs, 5 lost")
    stated = mean_life(str(root / "examples/quarry/loader_worth.yaml"), "--survival", str(learnt))
    assert stated["origin"] == "case"
    assert run(["worth", str(case), "--survival", str(tmp_path / "nowhere")]) == 2
    assert "that 'mendbook record survival --write' wrote" in " ".join(capsys.readouterr().err.split())
    (learnt / "section.yaml").write_text("survival: section\nitems: [{early loss: 4 %}]\n")
    assert run(["worth", str(case), "--survival", str(learnt)]) == 2
    assert "section.yaml" in capsys.readouterr().err


def test_what_is_learnt_is_told_with_its_numbers(followed: str, capsys: pytest.CaptureFixture[str]) -> None:
    from mendbook.cli.entry import run

    assert run(["record", "survival", "--record", followed, "--at", "1000 h"]) == 0
    told = " ".join(capsys.readouterr().out.split())
    assert all(
        said in told
        for said in ("section upper sidewall 30 5 0 of 30:", "0 % to", "96 % (", "Early: within 24 h (house default).")
    )
    assert "Hold 1000 h" in told
    assert run(["record", "survival", "--record", followed, "--json"]) == 0
    (group,) = json.loads(capsys.readouterr().out)
    assert (group["repairs"], group["lost"], group["too_few"]) == (30, 5, False)
    assert run(["record", "survival", "--record", followed, "--early", "soon"]) == 2
    assert "--early 'soon' is no running time" in " ".join(capsys.readouterr().err.split())
