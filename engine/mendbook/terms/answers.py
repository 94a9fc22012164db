"""What a verdict and an outcome are called in a sentence."""

from collections.abc import Mapping

from mendbook.terms.docket import Outcome

VERDICTS: Mapping[str, str] = {
    "leave": "leave as it is",
    "dress": "dress",
    "spot": "spot repair",
    "reinforce": "reinforced repair",
    "section": "section repair",
    "reject": "reject",
}


def verdict_words(verdict: str | None) -> str:
    """Return what `verdict` is called in a sentence; 'not judged' for None."""
    return "not judged" if verdict is None else VERDICTS.get(verdict, verdict)


def bracket_words(bracket: tuple[str, str]) -> str:
    """Return 'section repair', or 'between section repair and reject' when the ends differ."""
    mild, severe = (verdict_words(end) for end in bracket)
    return mild if mild == severe else f"between {mild} and {severe}"


def answer_words(outcome: Outcome, verdict: str | None, bracket: tuple[str, str] | None) -> str:
    """Return what an outcome means for the tyre, in a sentence or two."""
    match outcome:
        case "stop":
            return "People first. Nothing else is decided until this is cleared."
        case "reject":
            return "No repair and no further service."
        case "hold":
            return f"No release yet. So far: {bracket_words(bracket)}." if bracket else "No release yet."
        case "serve":
            return "Back to service as it is."
        case _:
            said = verdict_words(verdict)
            return f"{said[:1].upper()}{said[1:]}."


def of_hundred(chance: float) -> str:
    """Return a `chance` [0 to 1] as so many of a hundred, never as certain."""
    if chance >= 0.995:
        return "more than 99"
    return "fewer than 1" if chance < 0.005 else f"{100 * chance:.0f}"
