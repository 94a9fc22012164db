"""A number between two bounds: what lies outside is refused with words that say what to write instead."""

from dataclasses import dataclass
from typing import Any

from pydantic import GetCoreSchemaHandler, GetJsonSchemaHandler
from pydantic_core import CoreSchema, core_schema


@dataclass(frozen=True)
class Within:
    """Marks a field: `Annotated[float, Within(80, 200, "°C", "140")]`. The bounds are allowed; NaN is not."""

    low: float
    high: float
    unit: str
    example: str

    def check(self, value: float) -> float:
        """Return `value`. Raises ValueError when it lies outside."""
        if self.low <= value <= self.high:
            return value
        unit = f" {self.unit}" if self.unit else ""
        raise ValueError(f"{value:g}{unit} is not between {self.low:g} and {self.high:g}{unit}. Write {self.example}.")

    def __get_pydantic_core_schema__(self, source: Any, handler: GetCoreSchemaHandler) -> CoreSchema:
        return core_schema.no_info_after_validator_function(self.check, handler(source))

    def __get_pydantic_json_schema__(self, schema: CoreSchema, handler: GetJsonSchemaHandler) -> dict[str, Any]:
        return {**handler(schema), "minimum": self.low, "maximum": self.high}
