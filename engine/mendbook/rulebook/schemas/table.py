"""The schema of a limit table."""

from mendbook.rulebook.context import Context
from mendbook.rulebook.limits import ALL, TABLE_NEEDED, Direction
from mendbook.rulebook.schemas.limits import applying, heads
from mendbook.rulebook.schemas.rule import citation
from mendbook.rulebook.schemas.scalars import BLANK, NUMBER, TEXT, TEXTS, Schema, one_of, record
from mendbook.terms.vocabulary import Fact

_CELL: Schema = {
    "anyOf": [{"type": "string", "pattern": rf"^{NUMBER}(?:\s+x\s+{NUMBER})*(?:\s*[^\s0-9].*)?$"}, {"type": "number"}],
    "description": "The numbers in the order of 'gives', with ' x ' between them and the unit behind.",
}
_WAY = one_of(tuple(Direction))


def table_schema(context: Context) -> Schema:
    """Return the schema of a limit table."""
    facts = tuple(context.vocabulary)
    names = {"enum": [fact.name for fact in facts]}
    properties: Schema = {
        "table": {**TEXT, "description": "The name of the table."},
        "asks": {**TEXT, "description": "The one question that the table answers."},
        "applies to": {
            "description": "Listed facts for which the table speaks at all.",
            "anyOf": [BLANK, {"type": "object"}],
            "properties": applying(facts),
            "additionalProperties": False,
        },
        "down": {**names, "description": "The fact that chooses the row."},
        "across": {**names, "description": "The fact that chooses the column; left out, a row is one cell."},
        "gives": {"anyOf": [TEXTS, TEXT], "description": "Names of the numbers in a cell."},
        "unit": {**TEXT, "description": "Unit of the numbers; left out, they are plain."},
        "source": {**citation(context.sources.values()), "description": "What the numbers rest on: 'id, place'."},
        "stricter when": {
            "anyOf": [_WAY, {"type": "object", "additionalProperties": _WAY}],
            "description": "Which way a number is stricter; a name of 'gives' that is left out is so in neither.",
        },
        "numbers turn": {**TEXT, "description": "Why the numbers rise and fall again along a list in order."},
        "rows": {"type": "object", "minProperties": 1, "description": f"Read down; '{ALL}' fits always."},
    }
    row = {"type": "object", "minProperties": 1, "additionalProperties": _CELL}
    return record(
        TABLE_NEEDED,
        properties,
        description="Numbers by one or two facts, with what they rest on.",
        **{
            "if": {"required": ["across"]},
            "then": {"properties": {"rows": {"additionalProperties": row}}},
            "else": {"properties": {"rows": {"additionalProperties": _CELL}}},
            "allOf": [*(_down(fact) for fact in facts), *(_across(fact) for fact in facts)],
        },
    )


def _down(fact: Fact) -> Schema:
    rows = {"patternProperties": {f"^(?:{ALL}|{heads(fact)})$": True}, "additionalProperties": False}
    return _where("down", fact, {"rows": rows})


def _across(fact: Fact) -> Schema:
    cells = {"patternProperties": {f"^(?:{heads(fact)})$": True}, "additionalProperties": False}
    return _where("across", fact, {"rows": {"additionalProperties": cells}})


def _where(key: str, fact: Fact, properties: Schema) -> Schema:
    chosen = {"required": [key], "properties": {key: {"const": fact.name}}}
    return {"if": chosen, "then": {"properties": properties}}
