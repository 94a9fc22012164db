"""Stricter is free, looser needs an answer on the cover, law and stops cannot be loosened."""

from pathlib import Path

import pytest

from tests.proof.sound_ladders import replaced
from tests.rulebook.ladders import CHART, SOURCES, TABLE, WHEN, WINDOW
from tests.rulebook.own_ladders import OWN_COVER, answered, open_own, refusal

CRACK, ROT, GLUE, LOAD = "rails/crack.yaml", "rails/rot.yaml", "mending/glue.yaml", "limits/load.yaml"
SMALLER = replaced(TABLE, "unit: kg\n", "unit: kg\nstricter when: {load: smaller}\n")
STANDARD_IS_LAW = {"knowledge/sources/standard.yaml": replaced(SOURCES["standard.yaml"], "kind: standard", "kind: law")}
STOP = WINDOW.replace(
    "rule out: [hot glue]\ncap: {load: half}\ndo: [warm the rail]\ncaution: [gloves]\n", "stop: Stand back.\n"
)
HOLD = STOP.replace("stop:", "cleared by: {crack length: up to 10 mm}\nhold:")


def test_stricter_is_free(tmp_path: Path) -> None:
    text = replaced(CHART, "up to 60 mm", "up to 50 mm").replace("rot: up to light", "rot: none", 1)
    book = open_own(tmp_path, {CRACK: text})
    assert book.own is not None
    assert book.own.places == {"rails/crack"}
    assert book.own.approvals == ()


@pytest.mark.parametrize(
    ("before", "after", "lost"),
    [
        ("up to 60 mm", "up to 70 mm", "lacks the verdict 'scrap' (it says 'mend') for kind: [ash, spruce], "
         "crack length: over 60 mm and up to 70 mm, rot: [none, light]"),
        ("    wood left: at least 10 mm\n", "", "lacks the verdict 'mend' (it says 'keep')"),
        ("verdict: scrap\n  because", "verdict: mend\n  because", "lacks the verdict 'scrap' (it says 'mend')"),
        ("{kind: [ash, spruce]}", "{kind: ash}", "lacks the verdict 'keep' for kind: spruce"),
        ("rot: up to light", "rot: up to deep", "(it says 'mend') for kind: [ash, spruce], "),
    ],
)  # fmt: skip
def test_looser_is_refused_with_the_region(before: str, after: str, lost: str, tmp_path: Path) -> None:
    message = refusal(tmp_path, {CRACK: replaced(CHART, before, after)})
    assert message.startswith("own/rails/crack.yaml:")
    assert lost in message
    assert "somebody answer for 'rails/crack' on the cover own/rulebook.yaml, under 'looser': - {rule or" in message


def test_an_answer_on_the_cover_allows_it(tmp_path: Path) -> None:
    text = replaced(CHART, "up to 60 mm", "up to 70 mm")
    book = open_own(tmp_path, {CRACK: text}, OWN_COVER + answered("rule", "rails/crack"))
    assert book.own is not None
    approval = book.own.approval("rails/crack")
    assert approval is not None
    assert (approval.approved_by, str(approval.on), approval.why) == ("the joiner", "2026-11-20", "Our wood is dry.")


def test_an_answer_for_another_rule_does_not(tmp_path: Path) -> None:
    text = replaced(CHART, "up to 60 mm", "up to 70 mm")
    message = refusal(tmp_path, {CRACK: text}, OWN_COVER + answered("rule", "rails/rot"))
    assert "somebody answer for 'rails/crack'" in message
    assert "own/rulebook.yaml:6: 'rails/rot' is nowhere looser than in the shipped book" in message


def test_an_answer_of_tomorrow_is_refused(tmp_path: Path) -> None:
    text = replaced(CHART, "up to 60 mm", "up to 70 mm")
    cover = OWN_COVER + answered("rule", "rails/crack").replace("2026-11-20", "2026-11-26")
    assert refusal(tmp_path, {CRACK: text}, cover).startswith("own/rulebook.yaml:6: 2026-11-26 is still to come")


def test_an_answer_for_what_is_not_there_is_refused(tmp_path: Path) -> None:
    message = refusal(tmp_path, {}, OWN_COVER + answered("rule", "rails/crak"))
    assert "there is no rule or table 'rails/crak'\n  Did you mean 'rails/crack'?" in message


def test_words_alone_are_neither(tmp_path: Path) -> None:
    text = replaced(CHART, "is within <limit>.\n    source: ladder", "fits into <limit>.\n    source: ladder")
    window = replaced(WINDOW, "warm the rail", "warm the rail and the glue")
    assert refusal(tmp_path, {CRACK: text, GLUE: window}) == ""


def test_a_rule_taken_out_is_looser(tmp_path: Path) -> None:
    cover = f"{OWN_COVER}withdraw: [rails/rot]\n"
    message = refusal(tmp_path, {}, cover)
    assert message.startswith("own/rulebook.yaml:5: 'rails/rot' lacks the verdict 'scrap' for kind: ash, ")
    assert {rule.id for rule in open_own(tmp_path, {}, cover + answered("rule", "rails/rot")).rules} == {
        "rails/crack",
        "mending/glue",
    }


@pytest.mark.parametrize(
    ("before", "after", "lost"),
    [
        ("rule out: [hot glue]\n", "", "the ruling out of 'hot glue'"),
        ("cap: {load: half}\n", "", "the cap on load of half"),
        ("cap: {load: half}\n", "cap: {load: most}\n", "the cap on load of half (it says most)"),
        ("do: [warm the rail]\n", "", "the step 'warm the rail'"),
        ("caution: [gloves]\n", "", "the caution 'gloves'"),
        ("at least 40 % and", "at least 50 % and", "damp: at least 40 % and below 50 %"),
    ],
)
def test_less_said_is_looser(before: str, after: str, lost: str, tmp_path: Path) -> None:
    assert lost in refusal(tmp_path, {GLUE: replaced(WINDOW, before, after)})


def test_a_smaller_cap_is_stricter_and_a_larger_is_not(tmp_path: Path) -> None:
    beneath = {"rules/mending/glue.yaml": replaced(WINDOW, "load: half", "load: 50 kg")}
    assert refusal(tmp_path, {GLUE: replaced(WINDOW, "load: half", "load: 40 kg")}, beneath=beneath) == ""
    larger = refusal(tmp_path, {GLUE: replaced(WINDOW, "load: half", "load: 60 kg")}, beneath=beneath)
    assert "the cap on load of 50 kg (it says 60 kg)" in larger
    assert "(it says 40 t)" in refusal(
        tmp_path, {GLUE: replaced(WINDOW, "load: half", "load: 40 t")}, beneath=beneath
    )  # fmt: skip


def test_a_stop_may_stand_for_a_hold(tmp_path: Path) -> None:
    assert refusal(tmp_path, {GLUE: STOP}, beneath={"rules/mending/glue.yaml": HOLD}) == ""


def test_a_stop_cannot_be_loosened_whoever_answers(tmp_path: Path) -> None:
    cover = OWN_COVER + answered("rule", "mending/glue")
    message = refusal(tmp_path, {GLUE: HOLD}, cover, beneath={"rules/mending/glue.yaml": STOP})
    assert "'mending/glue' lacks the stop for " in message
    assert "A stop cannot be loosened, by nobody: rules/mending/glue.yaml:1 rests on house, glue." in message
    taken = f"{cover}withdraw: [mending/glue]\n"
    assert "A stop cannot be loosened" in refusal(tmp_path / "b", {}, taken, beneath={"rules/mending/glue.yaml": STOP})


def test_a_line_that_rests_on_law_cannot_be_loosened(tmp_path: Path) -> None:
    cover = OWN_COVER + answered("rule", "rails/rot")
    text = replaced(WHEN, "wood left: below 20 mm", "wood left: below 15 mm")
    message = refusal(tmp_path, {ROT: text}, cover, beneath=STANDARD_IS_LAW)
    assert "own/rails/rot.yaml:1: 'rails/rot' lacks the verdict 'scrap' for kind: ash, " in message
    assert "Law cannot be loosened, by nobody: rules/rails/rot.yaml:1 rests on ladder standard, clause 5." in message


def test_law_cannot_be_called_house(tmp_path: Path) -> None:
    text = replaced(WHEN, "source: ladder standard, clause 5", "source: house, rot")
    message = refusal(tmp_path, {ROT: text}, beneath=STANDARD_IS_LAW)
    assert "lacks the law that it rests on" in message
    assert "Law cannot be loosened" in message


def test_the_house_lines_of_a_chart_with_law_may_be_loosened(tmp_path: Path) -> None:
    text = replaced(CHART, "up to 60 mm", "up to 70 mm")
    cover = OWN_COVER + answered("rule", "rails/crack")
    assert refusal(tmp_path, {CRACK: text}, cover, beneath=STANDARD_IS_LAW) == ""


def test_a_rule_in_the_folder_of_law_cannot_be_loosened(tmp_path: Path) -> None:
    beneath = {
        "rules/law/glue.yaml": WINDOW,
        "rules/rulebook.yaml": (
            "edition: first\ndate: 2026-11-25\nowner: nobody\nverdicts: [keep, mend, scrap]\n"
            "stages: {look: [rails, law], work: [mending]}\nmethods: {glue: [hot glue, cold glue]}\n"
        ),
    }
    cover = f"{OWN_COVER}withdraw: [law/glue]\n{answered('rule', 'law/glue')}"
    assert "Law cannot be loosened" in refusal(tmp_path, {}, cover, beneath=beneath)


@pytest.mark.parametrize(
    ("before", "after", "said"),
    [
        ("90 x 3 kg", "95 x 3 kg", "load goes from 90 to 95 kg for cleaned: yes, crack length: up to 20 mm, "
         "kind: [ash, spruce], looser"),
        ("90 x 3 kg", "90 x 4 kg", "reach goes from 3 to 4 kg"),
        ("90 x 3 kg", "90 x 2 kg", "not known which way is stricter, so it counts as looser"),
        ("up to 20 mm", "up to 30 mm", "load goes from 60 to 90 kg for cleaned: yes, crack length: over 20 mm"),
        ("applies to: {cleaned: 'yes'}\n", "", "load is given as 90 kg for"),
        (", metal: 120 x 4 kg", "", "load of 120 kg is no longer given for cleaned: yes"),
    ],
)  # fmt: skip
def test_a_looser_cell_is_refused(before: str, after: str, said: str, tmp_path: Path) -> None:
    beneath = {"rules/limits/load.yaml": SMALLER}
    message = refusal(tmp_path, {LOAD: replaced(SMALLER, before, after)}, beneath=beneath)
    assert message.startswith("own/limits/load.yaml:")
    assert said in message
    cover = OWN_COVER + answered("table", "limits/load")
    assert refusal(tmp_path / "b", {LOAD: replaced(SMALLER, before, after)}, cover, beneath=beneath) == ""


def test_a_stricter_cell_is_free(tmp_path: Path) -> None:
    text = replaced(SMALLER, "90 x 3 kg", "80 x 3 kg")
    assert refusal(tmp_path, {LOAD: text}, beneath={"rules/limits/load.yaml": SMALLER}) == ""


def test_the_direction_is_that_of_the_table_beneath(tmp_path: Path) -> None:
    text = SMALLER.replace("90 x 3 kg", "95 x 3 kg").replace("load: smaller", "load: bigger")
    message = refusal(tmp_path, {LOAD: text}, beneath={"rules/limits/load.yaml": SMALLER})
    assert "the table 'limits/load' changes 'stricter when'" in message


@pytest.mark.parametrize(
    ("said", "fault"),
    [("lower", "a number is not stricter when 'lower'"), ("{weight: smaller}", "the table gives no 'weight'")],
)
def test_a_direction_that_is_none_is_refused(said: str, fault: str, tmp_path: Path) -> None:
    text = replaced(TABLE, "unit: kg\n", f"unit: kg\nstricter when: {said}\n")
    message = refusal(tmp_path, {LOAD: text})
    assert message.startswith("own/limits/load.yaml:8: ")
    assert fault in message
