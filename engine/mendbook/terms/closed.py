"""The form of what one part hands to the next: never changed, and nothing in it that its schema does not name."""

from pydantic import BaseModel, ConfigDict


class Closed(BaseModel):
    """A document or a part of one: frozen, and closed to keys that are not in its schema."""

    model_config = ConfigDict(extra="forbid", frozen=True)
