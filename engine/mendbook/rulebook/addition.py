"""What an own vocabulary may add to the vocabulary beneath it."""

from dataclasses import fields, replace

from mendbook.rulebook.errors import refuse
from mendbook.terms.document import Document, Way
from mendbook.terms.vocabulary import Fact, Vocabulary

# How a fact is written in the file, where that is not the name of the field.
_WRITTEN = {
    "subject": "about", "worse": "worse when", "low": "range", "high": "range", "section": "written in",
    "error": "reading error", "error_share": "reading error share", "error_if": "reading error if",
    "missing": "when missing",
}  # fmt: skip
_WORDING = ("means", "measure", "synonyms")


def check_addition(document: Document, path: Way, fact: Fact, beneath: Vocabulary) -> None:
    """Refuse a fact that changes one beneath in more than its wording, or that no case file could hold.

    Rules, stops and laws beneath look at their facts as they stand: one more value, a shorter range or a smaller
    reading error would let a case slip past them, and no rule would look any looser.
    """
    if fact.name in beneath:
        known = beneath[fact.name]
        worded = replace(fact, means=known.means, measure=known.measure, synonyms=known.synonyms)
        told = [field.name for field in fields(Fact) if field.compare]
        changed = next((name for name in told if getattr(worded, name) != getattr(known, name)), None)
        if changed is not None:
            key = _WRITTEN.get(changed, changed)
            raise refuse(
                document, (*path, key), f"'{key}' of '{fact.name}' differs from the shipped vocabulary",
                f"Only {', '.join(_WORDING)} of a shipped fact may change. Describe a fact of your own instead.",
            )  # fmt: skip
        return
    places = {known.section: known.subject for known in beneath if known.is_given}
    if fact.section not in places:
        raise refuse(
            document, (*path, "written in"),
            f"'{fact.name}' is written in no part of a case file, and nothing works it out",
            f"Write 'written in: ' and one of {', '.join(places)}.",
        )  # fmt: skip
    if fact.subject is not places[fact.section]:
        raise refuse(
            document, (*path, "about"), f"what is written in {fact.section} is not about the {fact.subject}",
            f"Write 'about: {places[fact.section]}'.",
        )  # fmt: skip
