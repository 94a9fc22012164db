"""When money has no say: a tyre that is stopped or rejected, and one that is held."""

from mendbook.terms.docket import Docket


def why_struck(docket: Docket) -> str:
    """Return why the sum does not count, nothing where it does."""
    if docket.outcome == "stop":
        return "stop: people first. Nothing is decided about this tyre, and no money changes that."
    if docket.outcome != "reject":
        return ""
    if docket.basis == "law":
        return "rejected by law. No money overrides that; nobody may waive it."
    who = "only a named person may overrule it, in writing" if docket.may_be_overruled else "it cannot be overruled"
    return f"rejected by the rulebook. Money does not change that; {who}."


def why_held(docket: Docket) -> str:
    """Return what must be settled before the sum counts, nothing where it counts now."""
    if docket.outcome != "hold":
        return ""
    return "the tyre is on hold. The sum counts once its holds are cleared, and only if a repair is then allowed."
