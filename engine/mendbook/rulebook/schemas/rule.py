"""The schema of a rule file: a chart or a when-rule."""

from collections.abc import Iterable

from mendbook.rulebook.clearing import CLEARED_BY
from mendbook.rulebook.context import Context
from mendbook.rulebook.rule_file import RULE_NEEDED
from mendbook.rulebook.sayings import NOTHING, OUTCOME_KEYS, SAYING_KEYS
from mendbook.rulebook.schemas.limits import applying, charted, clearing, exemplified, warned
from mendbook.rulebook.schemas.scalars import BLANK, NEVER, TEXT, Schema, alternatives, escape, one_of, pattern, record
from mendbook.rulebook.sentences import LIMIT
from mendbook.rulebook.source import Source
from mendbook.terms.vocabulary import Worse

_MEANS = {
    "verdict": "How severe, on the scale of the cover page.",
    "hold": "The look or measurement that is missing, as a sentence. It blocks release.",
    "cleared by": "What is written when the look is done: {fact: value}; of a list of such maps, one is enough.",
    "stop": "What must be done for people first, as a sentence. Nothing else is decided until then.",
    "rule out": "Methods that may not be used.",
    "cap": "What is capped and where: 'speed: 40 km/h'.",
    "do": "Steps, as sentences.",
    "caution": "Cautions, as sentences.",
    "because": "Why, in a sentence. No digit stands in it: <fact> prints a fact, <limit> the limits of the line.",
    "source": "What the line rests on: 'id, place'; the first one carries it.",
    "also": "Further sources.",
}


def rule_schema(context: Context) -> Schema:
    """Return the schema of a rule file."""
    facts = tuple(context.vocabulary)
    said = {key: {"$ref": f"#/$defs/{_slug(key)}"} for key in SAYING_KEYS}
    line = record(("because", "source"), {**said, **charted(facts)}, **_says_something())
    neither = {fact.name: NEVER for fact in facts if fact.worse is Worse.NEITHER and not fact.is_listed}
    examples = {
        "asks": {**TEXT, "description": "What the example tries, in a few words."},
        "verdict": one_of(context.verdicts),
        "says": {
            **one_of((*OUTCOME_KEYS, NOTHING)),
            "description": "What the rule must say; left out, it is the verdict.",
        },
    }
    properties = {
        "rule": {**TEXT, "description": "The name of the rule, as reports print it."},
        "asks": {**TEXT, "description": "The one question that the rule answers."},
        "in reserve": {**TEXT, "description": "Why a rule is kept that today's tables keep silent."},
        "applies to": _limits(applying(facts), "Listed facts that must hold for the rule to speak at all."),
        "chart": {
            "type": "array",
            "minItems": 1,
            "items": {**line, "not": {"propertyNames": {"enum": list(SAYING_KEYS)}}},
            "description": "Read down; the first line that fits decides. Verdicts never get milder downward.",
        },
        "otherwise": {
            **record(("because", "source"), said, **_says_something()),
            "description": "What holds when no line of the chart fits.",
        },
        "when": _limits(warned(facts), "The rule speaks only when all these lines hold."),
        **said,
        "examples": {
            "type": "array",
            "minItems": 1,
            "items": record((), {**examples, **exemplified(facts)}),
            "description": "Worked examples: each names every fact the rule looks at, and what it must say.",
        },
    }
    return record(
        RULE_NEEDED,
        properties,
        description="One question: a chart, read down, or a when-rule, which speaks when all its lines hold.",
        **{
            "if": {"required": ["when"]},
            "then": {
                "not": {"required": ["chart"]},
                "properties": {"otherwise": NEVER},
                "required": ["because", "source"],
                **_says_something(),
                "if": {"required": ["verdict"]},
                "then": {"properties": {"when": {"properties": neither}}},
            },
            "else": {"required": ["chart", "otherwise"], "properties": dict.fromkeys(SAYING_KEYS, NEVER)},
            "$defs": {_slug(key): {"description": _MEANS[key], **_saying(key, context)} for key in SAYING_KEYS},
        },
    )


def citation(sources: Iterable[Source]) -> Schema:
    """Return the schema of 'id, place': a place that its source lists, or any place of one that lists none."""
    known = tuple(sources)
    listed = [f"{source.id}, {place}" for source in known if source.places is not None for place in source.places]
    free = [source.id for source in known if source.places is None]
    kinds: list[Schema] = [{"enum": listed}] if listed else []
    if free:
        kinds.append({**pattern(f"(?:{alternatives(free)}), \\S.*"), "description": f"{', '.join(free)}: any place."})
    return {"anyOf": kinds}


def _limits(keys: Schema, description: str) -> Schema:
    return {
        "description": description,
        "anyOf": [BLANK, {"type": "object"}],
        "properties": keys,
        "additionalProperties": False,
    }


def _saying(key: str, context: Context) -> Schema:
    match key:
        case "verdict":
            return one_of(context.verdicts)
        case "rule out":
            return _one_or_more(one_of(context.methods))
        case "cap":
            return {"type": "object", "minProperties": 1, "additionalProperties": TEXT}
        case "cleared by":
            return _one_or_more(_way(context))
        case "source" | "also":
            return _one_or_more(citation(context.sources.values()))
        case "do" | "caution":
            return _one_or_more(_sentence(context))
        case _:
            return _sentence(context)


def _way(context: Context) -> Schema:
    return record((), clearing(context.vocabulary), minProperties=1)


def _sentence(context: Context) -> Schema:
    known = alternatives((LIMIT, *context.vocabulary.facts))
    return {
        "type": "string",
        "allOf": [
            {"pattern": r"^(?:[^0-9<>]|<[^<>]+>)+$", "description": "No digit, and no '<' or '>' that stands alone."},
            {"pattern": f"^(?:[^<>]|<(?:{known})>)+$", "description": "Only facts of the vocabulary between < and >."},
            {"pattern": r"\.\s*$", "description": "It ends with a full stop."},
        ],
    }


def _one_or_more(schema: Schema) -> Schema:
    return {
        "if": {"type": "array"},
        "then": {"minItems": 1, "items": schema},
        "else": schema,
    }


def _says_something() -> Schema:
    """Return that a line says something, and that what holds and what clears it stand together."""
    return {
        "anyOf": [{"required": [key]} for key in OUTCOME_KEYS],
        "dependentRequired": {"hold": [CLEARED_BY]},
        "allOf": [{"if": {"not": {"required": ["hold"]}}, "then": {"properties": {CLEARED_BY: NEVER}}}],
    }


def _slug(key: str) -> str:
    return escape(key).replace(r"\s+", "-")
