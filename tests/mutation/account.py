"""The account of all breaks: how many each check catches, and by name what only the seal tells and what nobody does."""

from collections import Counter
from collections.abc import Iterable, Sequence

from tests.mutation.reasons import BY_FORM
from tests.mutation.run import CATCHERS, PROOF, READING, SEAL, Trial

COLUMNS = (READING, *CATCHERS)
HEAD = """\
Breaks of the shipped rulebook, drawn by chance before anything was tried. 'UPDATE_ACCOUNT=1 python -m pytest -m long
tests/mutation' writes this file anew. A break is felt when the broken book answers some case otherwise, to the letter.
"""


def share(some: int, all_of: int) -> str:
    return f"{100.0 * some / all_of:.1f} %"


def account(trials: Sequence[Trial]) -> str:
    """Return the account as text. Raises KeyError for a way of which nobody said why it goes unnoticed."""
    felt = [trial for trial in trials if trial.is_felt]
    caught = [trial for trial in felt if trial.caught_by]
    unsealed = [trial for trial in caught if trial.caught_by != SEAL]
    by_form = [trial for trial in unsealed if trial.caught_by != PROOF]
    ways = Counter(trial.broken.way for trial in trials)
    parts = [
        HEAD,
        f"{len(trials)} breaks in {len(ways)} ways; {len(felt)} felt.",
        f"Caught by form alone ({', '.join(name for name in COLUMNS if name not in (PROOF, SEAL))}): "
        f"{len(by_form)}, {share(len(by_form), len(felt))}.",
        f"Caught with the proofs as well: {len(unsealed)}, {share(len(unsealed), len(felt))}.",
        f"Caught with the seal as well: {len(caught)}, {share(len(caught), len(felt))}.",
        "",
        *_table(ways, trials),
        *_named("Felt, and told by the seal alone", (trial for trial in felt if trial.caught_by == SEAL)),
        *_named("Felt, and told by nobody", (trial for trial in felt if not trial.caught_by)),
        *_named("Not felt by any case, and told by no check of form", _quiet(trials)),
    ]
    return "\n".join(parts) + "\n"


def _quiet(trials: Iterable[Trial]) -> Iterable[Trial]:
    return (trial for trial in trials if not trial.is_felt and trial.caught_by in ("", SEAL))


def _table(ways: Counter[str], trials: Sequence[Trial]) -> list[str]:
    rows = [f"{'way':<50}{'drawn':>8}{'not felt':>10}" + "".join(f"{name:>10}" for name in (*COLUMNS, "nobody"))]
    for name, drawn in ways.items():
        own = [trial for trial in trials if trial.broken.way == name]
        found = Counter(trial.caught_by for trial in own if trial.is_felt)
        unfelt = sum(not trial.is_felt for trial in own)
        counts = "".join(f"{found[catcher] or '':>10}" for catcher in (*COLUMNS, ""))
        rows.append(f"{name:<50}{drawn:>8}{unfelt or '':>10}{counts}".rstrip())
    return rows


def _named(head: str, trials: Iterable[Trial]) -> list[str]:
    by_way: dict[str, list[str]] = {}
    for trial in trials:
        by_way.setdefault(trial.broken.way, []).append(trial.broken.where)
    lines: list[str] = []
    for name, places in by_way.items():
        lines += ["", f"{name}: {BY_FORM[name]}", *(f"- {place}" for place in places)]
    return ["", head, "=" * len(head), *(lines or ["", "none"])]
