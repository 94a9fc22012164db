"""A rulebook broken on purpose: what notices, counted honestly. The default run tries a sample, the long run all."""

import os
from pathlib import Path

import pytest

from tests.mutation.account import account
from tests.mutation.reasons import BY_FORM
from tests.mutation.run import PROOF, SEAL, WAYS, Trial, attempt, draw, open_pages, whole
from tests.mutation.sense import sense
from tests.mutation.ways import breaks
from tests.mutation.written import Break, dump

ACCOUNT = Path(__file__).parent / "account.txt"
SAMPLED = 5  # every fifth way, one place each
LEAST_CAUGHT = 0.95  # of what is felt, by everything that `rulebook check` looks at
LEAST_BY_FORM = 0.70  # of what is felt, without proofs and seal


def names(broken: Break) -> str:
    return f"{broken.way}: {broken.where}"


def check_trial(trial: Trial) -> None:
    """Whatever nobody notices, or the seal alone, is of a way that somebody gave a reason for."""
    if trial.caught_by in ("", SEAL):
        assert trial.broken.way in BY_FORM, names(trial.broken)
    assert trial.caught_by or not trial.is_felt, names(trial.broken)


def test_there_are_many_ways_and_each_has_places() -> None:
    assert len(WAYS) >= 60
    for name in WAYS:
        assert next(breaks(name, whole().written), None) is not None, name
    assert BY_FORM.keys() <= WAYS.keys()


def test_writing_the_files_anew_changes_nothing() -> None:
    """Else a break might be noticed for the way in which it was written."""
    rewritten = {place: dump(tree) for place, tree in whole().written.trees.items()}
    assert sense(open_pages({**whole().written.files, **rewritten})) == whole().meant


def test_what_is_drawn_hangs_on_names_alone() -> None:
    some = list(WAYS)[::20]
    assert list(map(names, draw(3, some))) == list(map(names, draw(3, some)))
    assert list(map(names, draw(1, some))) == [names(broken) for broken in draw(3, some)[::3]]


@pytest.mark.parametrize("broken", draw(1, list(WAYS)[::SAMPLED]), ids=names)
def test_a_sample_is_noticed(broken: Break) -> None:
    check_trial(attempt(broken))


@pytest.mark.long
def test_all_that_is_drawn_is_noticed_as_the_account_says() -> None:
    trials = [attempt(broken) for broken in draw()]
    text = account(trials)
    if os.environ.get("UPDATE_ACCOUNT"):
        ACCOUNT.write_text(text, encoding="utf-8")
    for trial in trials:
        check_trial(trial)
    felt = [trial for trial in trials if trial.is_felt]
    assert sum(bool(trial.caught_by) for trial in felt) >= LEAST_CAUGHT * len(felt)
    assert sum(trial.caught_by not in ("", PROOF, SEAL) for trial in felt) >= LEAST_BY_FORM * len(felt)
    assert text == ACCOUNT.read_text(encoding="utf-8"), "run with UPDATE_ACCOUNT=1 and read what changed"
