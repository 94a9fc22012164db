"""Read a cure order: a checked order out, every fault with its line and what to write instead."""

from typing import Any

from pydantic import ValidationError

from mendbook.cli.documents import place
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.document import Document
from mendbook.terms.spelling import did_you_mean


class OrderError(ValueError):
    """A cure order that cannot be worked out. The message carries file, line, what, and what to write."""


def read_order(document: Document) -> CureOrder:
    """Return the cure order in `document`. Raises OrderError with every fault found, one a line."""
    try:
        return CureOrder.model_validate(document.tree)
    except ValidationError as error:
        found = [_fault(document, dict(fault)) for fault in error.errors()]
        raise OrderError("\n".join(dict.fromkeys(found))) from None


def _fault(document: Document, fault: dict[str, Any]) -> str:
    return f"{place(document, tuple(fault['loc']))}: {_words(fault)}"


def _words(fault: dict[str, Any]) -> str:
    written = fault.get("input")
    match fault["type"]:
        case "missing":
            return "it is missing. Add it."
        case "extra_forbidden":
            key = str(fault["loc"][-1])
            near = did_you_mean(key, CureOrder.model_fields) if len(fault["loc"]) == 1 else ""
            return f"no field is called '{key}' here.{near} 'mendbook schema order' lists them."
        case "float_parsing" | "float_type" | "int_parsing" | "int_type":
            return f"'{written}' is not a number. Write plain figures; the name of the field says their unit."
        case kind if kind.startswith(("model", "list", "tuple", "dict")):
            return f"'{str(written)[:40]}' stands where fields or a list should be. See 'mendbook schema order'."
        case _:
            return str(fault["msg"]).removeprefix("Value error, ")
