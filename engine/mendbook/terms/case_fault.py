"""What is wrong in a case, in our own words: the line, the field, and what to write instead."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from typing import Any, Literal, get_args, get_origin

from pydantic import BaseModel, ValidationError
from pydantic.fields import FieldInfo

from mendbook.terms.case import SAME_NAME
from mendbook.terms.document import Document, Tree, Way
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Vocabulary

LONGEST = 40  # characters of what was written that an error repeats
MOST_OFFERED = 3  # values in a "did you mean"


@dataclass(frozen=True)
class Fault:
    """One fault: the line it stands on, the field as errors write it, and what, why and what to write."""

    line: int
    field: str
    words: str


def find_faults(
    error: ValidationError, document: Document, model: type[BaseModel], vocabulary: Vocabulary
) -> Iterator[Fault]:
    """Yield the faults in `error`, which `model` found in `document`."""
    for found in error.errors():
        fault: dict[str, Any] = {**found}
        if fault["type"] == SAME_NAME:
            path: Way = ("injuries", fault["ctx"]["place"], "name")
        else:
            path = _written(document.tree, fault["loc"])
        if not _is_beside_the_point(fault, path, model):
            field = ".".join(f"[{step + 1}]" if isinstance(step, int) else step for step in path).replace(".[", " [")
            yield Fault(document.line(path), field, _words(fault, path, model, vocabulary))


def _written(tree: Tree, steps: Sequence[str | int]) -> Way:
    """Return the names and places among `steps`; a list or a Literal inside a union leaves its type there too."""
    here: Tree = tree
    path: Way = ()
    for count, step in enumerate(steps, 1):
        if isinstance(here, dict) and isinstance(step, str):
            if step in here:
                here = here[step]
            elif count < len(steps) or "[" in step:
                continue
        elif isinstance(here, list) and isinstance(step, int) and step < len(here):
            here = here[step]
        else:
            continue
        path = (*path, step)
    return path


def _is_beside_the_point(fault: dict[str, Any], path: Way, model: type[BaseModel]) -> bool:
    """Return whether the other part of a union, a word or a list, tells better what is wrong."""
    kind, is_text = fault["type"], isinstance(fault["input"], str)
    if kind == "literal_error":
        return not is_text and len(fault["loc"]) > len(path)
    return kind == "tuple_type" and is_text and bool(_values(_field(model, path)))


def _words(fault: dict[str, Any], path: Way, model: type[BaseModel], vocabulary: Vocabulary) -> str:
    kind, written = fault["type"], str(fault["input"])[:LONGEST]
    if kind == "extra_forbidden":
        return _unknown_key(str(path[-1]), known_keys(model, path[:-1]), vocabulary)
    if kind == "literal_error":
        return f"'{written}' is not known here. {_offer(written, _values(_field(model, path)))}"
    if kind == "missing":
        return "it is missing. Add it."
    if kind.startswith("date"):
        return f"'{written}' is not a date. Write year-month-day, such as 2026-11-25."
    if kind in ("model_type", "model_attributes_type", "tuple_type"):
        return f"'{written}' stands where {'a list' if kind == 'tuple_type' else 'fields'} should be."
    if kind == "string_type":
        return "write one line of text here."
    if kind.startswith("float"):
        return f"'{written}' is no figure. Write a plain one, such as '250'."
    return str(fault["msg"]).removeprefix("Value error, ")


def _offer(written: str, values: Sequence[str]) -> str:
    """Return what to write instead: the values that hold every word of `written`, or the one nearest to it."""
    words = set(written.casefold().split())
    whole = [value for value in values if words <= set(value.casefold().split())] if words else []
    if not 1 <= len(whole) <= MOST_OFFERED:
        nearest = suggest(written, values)
        whole = [nearest] if nearest else []
    if whole:
        offered = " or ".join(f"'{value}'" for value in whole)
        return f"Did you mean {offered}?"
    return f"Write one of: {', '.join(values)}."


def _unknown_key(key: str, known: Sequence[str], vocabulary: Vocabulary) -> str:
    if key.isdecimal():
        return f"'{key}' stands behind a comma inside braces. Write a number without one, such as 14800, or quote it."
    right = vocabulary.synonyms.get(key)
    near = right if right in known else suggest(key, known)
    if near:
        return f"no field is called '{key}' here. Did you mean '{near}'?"
    section = vocabulary[key].section if key in vocabulary else ""
    if section:
        return f"'{key}' does not belong here: write it under '{section}:'."
    return f"no field is called '{key}' here. Known: {', '.join(known)}."


def known_keys(model: type[BaseModel], path: Way) -> list[str]:
    """Return the keys that may be written at `path` of a case."""
    inside = _model_at(model, path)
    return [field.alias or name for name, field in inside.model_fields.items()] if inside else []


def _field(model: type[BaseModel], path: Way) -> FieldInfo | None:
    names = [step for step in path if isinstance(step, str)]
    inside = _model_at(model, tuple(names[:-1]))
    if inside is None or not names:
        return None
    return next((field for name, field in inside.model_fields.items() if names[-1] in (name, field.alias)), None)


def _model_at(model: type[BaseModel], path: Way) -> type[BaseModel] | None:
    if not any(isinstance(step, str) for step in path):
        return model
    field = _field(model, path)
    return _model_inside(field.annotation) if field else None


def _model_inside(annotation: Any) -> type[BaseModel] | None:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    return next((inner for part in get_args(annotation) if (inner := _model_inside(part))), None)


def _values(field: FieldInfo | None) -> tuple[str, ...]:
    return _literals(field.annotation) if field else ()


def _literals(annotation: Any) -> tuple[str, ...]:
    if get_origin(annotation) is Literal:
        return get_args(annotation)
    return tuple(value for part in get_args(annotation) for value in _literals(part))
