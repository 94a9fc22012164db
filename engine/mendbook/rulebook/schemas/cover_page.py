"""The schema of the cover page."""

from mendbook.rulebook.context import Context
from mendbook.rulebook.cover import NEEDED, NOT_COVERED, REFER_TO
from mendbook.rulebook.layer import ANSWERS, OWN_NEEDED
from mendbook.rulebook.schemas.limits import warned
from mendbook.rulebook.schemas.scalars import TEXT, TEXTS, Schema, record

_ANSWERS = {"approved by": "The person or role who answers for it.", "why": "The reason."}
_DAY: Schema = {**TEXT, "pattern": r"^\d{4}-\d{2}-\d{2}$"}


def cover_schema(context: Context) -> Schema:
    """Return the schema of the cover page."""
    return record(NEEDED, _properties(context), description="The cover page: edition, scale, stages and methods.")


def own_cover_schema(context: Context) -> Schema:
    """Return the schema of the cover page of a shop's own book."""
    answers = {key: {**TEXT, "description": means} for key, means in _ANSWERS.items()} | {"on": _DAY}
    approval = {
        **record(ANSWERS, {"rule": TEXT, "table": TEXT, **answers}),
        "oneOf": [{"required": ["rule"]}, {"required": ["table"]}],
    }
    properties = {
        **_properties(context),
        "date": _DAY,
        "withdraw": {**TEXTS, "uniqueItems": True, "description": "Rules of the shipped book that are taken out."},
        "looser": {"type": "array", "items": approval, "description": "Each looser rule or table; who answers for it."},
    }
    return record(OWN_NEEDED, properties, description="The cover page of a shop's own book, laid over the shipped one.")


def _properties(context: Context) -> Schema:
    names = {"type": "object", "additionalProperties": TEXTS}
    referral = record(
        (REFER_TO,),
        {
            **warned(fact for fact in context.vocabulary if fact.is_listed),
            REFER_TO: {**TEXT, "description": "Who decides instead."},
        },
        minProperties=2,
    )
    return {
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
