"""The schema of a vocabulary file."""

from mendbook.rulebook.context import Context
from mendbook.rulebook.cover import Cover
from mendbook.rulebook.schemas.scalars import FIGURES, NEVER, NUMBER, TEXT, TEXTS, Schema, one_of, record
from mendbook.rulebook.vocabulary_file import FACT_NEEDED
from mendbook.terms.vocabulary import Subject, Worse

_WITH_UNIT: Schema = {
    "anyOf": [{"type": "string", "pattern": rf"^{NUMBER}(?:\s*[^\s0-9].*)?$"}, {"type": "number"}],
}


def vocabulary_schema(cover: Cover, context: Context) -> Schema:
    """Return the schema of a vocabulary file."""
    facts = context.vocabulary
    errors = {"type": "object", "minProperties": 1, "additionalProperties": _WITH_UNIT}
    properties: Schema = {
        "means": {**TEXT, "description": "What it is, in a few words."},
        "about": {**one_of(Subject), "description": "What it is a fact of."},
        "unit": {"type": "string", "description": "Unit of a measure, as rules write it; '' for plain figures."},
        "range": {
            "type": "string",
            "pattern": f"^{NUMBER} to {NUMBER}$",
            "description": "Least and most that is possible: '0 to 600'.",
        },
        "values": {**TEXTS, "description": "What a listed fact can be; from good to bad where it is worse when later."},
        "worse when": {**one_of(Worse), "description": "The direction in which it is worse."},
        "written in": {
            **one_of(dict.fromkeys(fact.section for fact in facts if fact.section)),
            "description": "The part of a form it is written in; left out, it is derived.",
        },
        "reading error": {**_WITH_UNIT, "description": "How far off a reading may be, with the unit."},
        "reading error share": {**_WITH_UNIT, "description": "The same as a share of the reading, in %."},
        "reading error if": {
            "type": "object",
            "propertyNames": {"enum": list(facts.facts)},
            "additionalProperties": errors,
            "description": "Another reading error for values of a listed fact: {fact: {value: error}}.",
        },
        "when missing": {**TEXT, "description": "What stands in when nobody wrote it; 'unknown' means anything."},
        "measure": {**TEXT, "description": "How it is found."},
        "changeable": {**one_of(("yes", "no")), "description": "Whether work can change it."},
        "synonyms": {**TEXTS, "description": "Words that people write for it; the reader answers with its name."},
        "stage": {
            **one_of(stage.name for stage in cover.stages),
            "description": "The pass from which on it is known; left out, from the beginning.",
        },
        "follows from": {
            "type": "string",
            "pattern": r"^[^,\s][^,]*(?:,\s*[^,\s][^,]*)?$",
            "description": "Where a person writes what a derived fact is read from: 'section, field', or a field.",
        },
        "asked with": {
            **TEXT,
            "description": "The group in which a guided inspection asks for it, such as 'the doors'.",
        },
        "decimals": {**FIGURES, "description": "Decimals that are printed, from 0 to 6."},
    }
    directions = {
        is_listed: {"properties": {"worse when": {"enum": [str(one) for one in allowed]}}}
        for is_listed, allowed in (
            (True, (Worse.LATER, Worse.NEITHER)),
            (False, (Worse.BIGGER, Worse.SMALLER, Worse.NEITHER)),
        )
    }
    fact = record(
        FACT_NEEDED,
        properties,
        **{
            "if": {"required": ["values"]},
            "then": {"not": {"required": ["range"]}, **directions[True]},
            "else": {"required": ["range"], **directions[False]},
            "dependentSchemas": {"follows from": {"properties": {"written in": NEVER}}},
        },
    )
    return record(
        ("facts",),
        {"facts": {"type": "object", "minProperties": 1, "additionalProperties": fact}},
        description="Facts by name: what each means, its unit and range or its values, and how it is found.",
    )
