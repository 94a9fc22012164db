"""Text, words and figures as schemas. The reader takes every scalar as text; an editor may take 12.00 for a number."""

import re
from collections.abc import Iterable
from typing import Any, TypeAlias

Schema: TypeAlias = dict[str, Any]

NUMBER = r"-?[0-9]+(?:\.[0-9]+)?"
ZERO = r"-?0+(?:\.0+)?"
BOOLEAN = re.compile(r"(?i)yes|no|on|off|true|false|y|n")
FIGURE = re.compile(NUMBER)

# Plain words in YAML may reach the schema as a number or as true and false.
TEXT: Schema = {"type": ["string", "number", "boolean"], "minLength": 1}
FIGURES: Schema = {"anyOf": [{"type": "string", "pattern": f"^{NUMBER}$"}, {"type": "number"}]}
TEXTS: Schema = {"type": "array", "items": TEXT, "minItems": 1}
NEVER: Schema = {"not": {}}  # unlike False, an error of it names the key
BLANK: Schema = {"type": ["null", "string"], "maxLength": 0}


def pattern(text: str) -> Schema:
    """Return the schema of a text that as a whole looks like `text`, a regular expression of ECMA 262."""
    return {"type": "string", "pattern": f"^(?:{text})$"}


def alternatives(words: Iterable[str]) -> str:
    """Return the regular expression of any one of `words`, the longest first."""
    return "|".join(escape(word) for word in sorted(words, key=lambda word: (-len(word), word)))


def escape(word: str) -> str:
    """Return the regular expression of `word` itself, any space in it one or more."""
    return re.sub(r"\s+", r"\\s+", re.sub(r"([\\^$.*+?()\[\]{}|])", r"\\\1", word))


def one_of(words: Iterable[str]) -> Schema:
    """Return the schema of any one of `words`, also where an editor reads a word as a number or as true and false."""
    written = list(dict.fromkeys(words))
    figures = [float(word) for word in written if FIGURE.fullmatch(word)]
    twins: list[Schema] = [{"enum": figures}] if figures else []
    if any(BOOLEAN.fullmatch(word) for word in written):
        twins.append({"type": "boolean"})
    return {"anyOf": [{"enum": written}, *twins]} if twins else {"enum": written}


def some_of(words: Iterable[str]) -> Schema:
    """Return the schema of a list of some of `words`, each once."""
    return {"type": "array", "items": one_of(words), "minItems": 1, "uniqueItems": True}


def record(required: Iterable[str], properties: Schema, **more: Any) -> Schema:
    """Return the schema of a map with these keys and no others."""
    return {
        "type": "object",
        "required": list(required),
        "properties": properties,
        "additionalProperties": False,
        **more,
    }
