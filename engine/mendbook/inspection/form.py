"""How long the full form is, against which a guided inspection saves questions."""

from pydantic import BaseModel

from mendbook.terms.case import Found, Injury, Service, Tyre
from mendbook.terms.vocabulary import Vocabulary

SECTIONS: dict[str, type[BaseModel]] = {"tyre": Tyre, "found": Found, "service": Service, "injuries": Injury}


def full_form(vocabulary: Vocabulary, injuries: int) -> int:
    """Return how many fields the full form has for a tyre with so many injuries, the workshop left out."""
    length = 1  # earlier repairs
    for section, base in SECTIONS.items():
        fields = len(base.model_fields) + sum(fact.section == section for fact in vocabulary.given())
        length += fields * (injuries if section == "injuries" else 1)
    return length
