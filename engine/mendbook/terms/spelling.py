"""The nearest known word, for every "did you mean" of the machine."""

from collections.abc import Iterable
from difflib import get_close_matches

LIKENESS = 0.6  # difflib ratio below which a guess would only confuse
LONGEST = 60  # characters; difflib is quadratic, and no word of the trade is longer


def suggest(word: str, known: Iterable[str]) -> str | None:
    """Return the word of `known` that is spelled most like `word`, or None when nothing is near.

    Capitals and the space around `word` do not count; the word comes back as `known` spells it.
    """
    by_folded = {candidate.casefold(): candidate for candidate in known}
    near = get_close_matches(word.strip().casefold()[:LONGEST], by_folded, n=1, cutoff=LIKENESS)
    return by_folded[near[0]] if near else None


def did_you_mean(word: str, known: Iterable[str]) -> str:
    """Return " Did you mean '...'?" with a leading space, or nothing: made to end an error message."""
    near = suggest(word, known)
    return f" Did you mean '{near}'?" if near else ""
