"""The schema of the cover page."""

from mendbook.rulebook.context import Context
from mendbook.rulebook.cover import NEEDED, NOT_COVERED, REFER_TO
from mendbook.rulebook.schemas.limits import warned
from mendbook.rulebook.schemas.scalars import TEXT, TEXTS, Schema, record


def cover_schema(context: Context) -> Schema:
    """Return the schema of the cover page."""
    names = {"type": "object", "additionalProperties": TEXTS}
    referral = record(
        (REFER_TO,),
        {
            **warned(fact for fact in context.vocabulary if fact.is_listed),
            REFER_TO: {**TEXT, "description": "Who decides instead."},
        },
        minProperties=2,
    )
    properties = {
        "rulebook": {**TEXT, "description": "What the book is about."},
        "edition": {**TEXT, "description": "Which edition this is; change it with the rules."},
        "date": {**TEXT, "description": "The day of the edition, such as 2026-11-25."},
        "owner": {**TEXT, "description": "Who answers for the house defaults."},
        "asks": {**TEXT, "description": "The question that the book answers."},
        "verdicts": {**TEXTS, "minItems": 2, "uniqueItems": True, "description": "The scale, from mild to severe."},
        "stages": {**names, "description": "Passes of the inference, in order, and the folders that speak in each."},
        "methods": {**names, "description": "What a rule may rule out, in groups, best first."},
        NOT_COVERED: {
            "type": "array",
            "items": referral,
            "description": "Combinations of listed facts without a rule, each with the person to refer to.",
        },
    }
    return record(NEEDED, properties, description="The cover page: edition, scale, stages and methods.")
