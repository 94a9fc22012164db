"""Read a case file: YAML or JSON in, a checked case out, every fault with its line and what to write instead."""

from collections.abc import Sequence
from importlib.resources.abc import Traversable
from typing import Any

from pydantic import BaseModel, ValidationError

from mendbook.terms.case import Case
from mendbook.terms.case_model import case_model
from mendbook.terms.document import Document, DocumentError, read_document
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Vocabulary


class CaseError(ValueError):
    """A case file that cannot be judged. The message carries file, line, what, why and what to write."""


def read_case(source: Traversable, vocabulary: Vocabulary, *, name: str = "") -> Case:
    """Return the case written in `source`. Raises CaseError with every fault found, one a paragraph."""
    try:
        document = read_document(source, name=name)
    except DocumentError as error:
        raise CaseError(str(error)) from None
    return check_case(document, vocabulary)


def check_case(document: Document, vocabulary: Vocabulary) -> Case:
    """Return the case in `document`. Raises CaseError with every fault found."""
    model = case_model(vocabulary)
    try:
        case = model.model_validate(document.tree)
    except ValidationError as error:
        faults = [_fault(document, dict(fault), model, vocabulary) for fault in error.errors()]
        raise CaseError("\n".join(dict.fromkeys(faults))) from None
    return case


def _fault(document: Document, fault: dict[str, Any], model: type[BaseModel], vocabulary: Vocabulary) -> str:
    # A Literal or tuple inside a union leaves its type's name in the path; only names and places are in the file.
    path = tuple(step for step in fault["loc"] if _is_written(document.tree, fault["loc"], step))
    where = f"{document.name}:{document.line(path)}"
    field = ".".join(f"[{step + 1}]" if isinstance(step, int) else step for step in path).replace(".[", " [")
    return (
        f"{where}: {field}: {_words(fault, model, vocabulary)}"
        if field
        else f"{where}: {_words(fault, model, vocabulary)}"
    )


def _is_written(tree: Any, path: Sequence[str | int], step: str | int) -> bool:
    here = tree
    for part in path:
        if (isinstance(here, list) and isinstance(part, int) and part < len(here)) or (
            isinstance(here, dict) and part in here
        ):
            inside = True
        else:
            inside = False
        if part is step:
            return inside or isinstance(here, dict)
        if inside:
            here = here[part]
    return False


def _words(fault: dict[str, Any], model: type[BaseModel], vocabulary: Vocabulary) -> str:
    kind, written = fault["type"], fault.get("input")
    if kind == "extra_forbidden":
        return _unknown_key(str(fault["loc"][-1]), known_keys(model, fault["loc"][:-1]), vocabulary)
    if kind == "literal_error":
        known = str(fault["ctx"]["expected"])
        names = [name.strip("' ") for name in known.replace(" or ", ", ").split(", ")]
        near = suggest(str(written), names)
        hint = f"Did you mean '{near}'?" if near else f"Write one of: {', '.join(names)}."
        return f"'{written}' is not known here. {hint}"
    if kind == "missing":
        return "it is missing. Add it."
    if kind.startswith("date"):
        return f"'{written}' is not a date. Write year-month-day, such as 2026-11-25."
    if kind in ("model_type", "model_attributes_type", "tuple_type"):
        return f"'{str(written)[:40]}' stands where {'a list' if kind == 'tuple_type' else 'fields'} should be."
    if kind == "string_type":
        return "write one line of text here."
    return str(fault["msg"]).removeprefix("Value error, ")


def _unknown_key(key: str, known: list[str], vocabulary: Vocabulary) -> str:
    right = vocabulary.synonyms.get(key)
    near = right if right in known else suggest(key, known)
    if near:
        return f"no field is called '{key}' here. Did you mean '{near}'?"
    section = vocabulary[key].section if key in vocabulary else ""
    if section:
        return f"'{key}' does not belong here: write it under '{section}:'."
    return f"no field is called '{key}' here. Known: {', '.join(known)}."


def known_keys(model: type[BaseModel], path: Sequence[str | int]) -> list[str]:
    """Return the keys that may be written at `path` of a case."""
    here: Any = model
    for step in path:
        if isinstance(step, int):
            continue
        found = (
            [f for n, f in here.model_fields.items() if step in (n, f.alias)] if hasattr(here, "model_fields") else []
        )
        if not found:
            return []
        here = _model_inside(found[0].annotation)
    return [f.alias or n for n, f in here.model_fields.items()] if hasattr(here, "model_fields") else []


def _model_inside(annotation: Any) -> Any:
    if isinstance(annotation, type) and issubclass(annotation, BaseModel):
        return annotation
    for argument in getattr(annotation, "__args__", ()):
        if inner := _model_inside(argument):
            return inner
    return None
