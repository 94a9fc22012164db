"""A running life as a person writes it: hours run, or kilometres. Which of the two is the case's own choice."""

import re
from typing import Annotated, Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic.json_schema import JsonSchemaValue
from pydantic_core import CoreSchema, core_schema

from mendbook.terms.quantity import Quantity, QuantityError, read_quantity
from mendbook.terms.units import Dimension

RUN = (Dimension.DURATION, Dimension.DISTANCE)
_CALENDAR = re.compile(r"[0-9] ?(?:d|days?|weeks?|months?|years?|yrs?)\b", re.IGNORECASE)
_TWO_MEANINGS = re.compile(r"[0-9],[0-9]{3}\b")
_HOW = "Write hours run or kilometres, such as '6200 h' or '60000 km'."


def read_run(text: str) -> Quantity:
    """Return the running life `text` [h, or km]; it may be 'unknown'.

    Raises QuantityError for a calendar time, for nothing at all, and for any other unit or none.
    """
    if _CALENDAR.search(text):
        raise QuantityError(f"'{text[:40]}' is a time of the calendar, and a tyre wears while it runs. {_HOW}")
    for dimension in RUN:
        try:
            quantity = read_quantity(text, dimension)
        except QuantityError as problem:
            if _TWO_MEANINGS.search(text):
                raise problem from None
            continue
        if quantity.bounds and quantity.bounds[0] <= 0.0:
            raise QuantityError(f"'{text[:40]}': a life is longer than nothing, at its short end too. {_HOW}")
        return quantity
    raise QuantityError(f"'{text[:40]}' is no running life. {_HOW}")


class _Field:
    """Makes a running life a field of a pydantic model: text in, Quantity inside, text out."""

    def read(self, written: object) -> Quantity:
        if isinstance(written, Quantity) and written.dimension in RUN:
            return written
        if not isinstance(written, str):
            raise QuantityError(f"{written!r:.40} is no running life. {_HOW}")
        return read_run(written)

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        text = core_schema.to_string_ser_schema()
        return core_schema.no_info_plain_validator_function(self.read, serialization=text)

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> JsonSchemaValue:
        return {
            "type": "string",
            "description": "a running life in hours or kilometres: plain, with its error (±), a range (to), or unknown",
            "examples": ["6200 h", "60000 km", "unknown"],
        }


Run = Annotated[Quantity, _Field()]
