"""An overrule: a named person lets a house reject go, and says why."""

import re
from datetime import date

from pydantic import Field, field_validator

from mendbook.terms.closed import Closed

_WORD = re.compile(r"[^\W\d_]{2,}")
_NOBODY = ("unknown", "nobody", "none", "anonymous", "foreman", "the foreman", "engineer", "shop", "the shop")


class Overrule(Closed):
    """One reject that a named person overrules, as a case file writes it."""

    rule: str = Field(description="id of the rule that says reject, as the findings name it")
    injury: str | None = Field(None, description="name of the injury; left out, every injury that the rule rejects")
    by: str = Field(description="who overrules it: a person's name")
    on: date = Field(description="the day on which it was overruled")
    why: str = Field(description="the reason, in a sentence")

    @field_validator("rule")
    @classmethod
    def _without_ending(cls, rule: str) -> str:
        """Return the id alone: people copy it with the line behind it, or as the name of a file."""
        return re.sub(r"(\.yaml)?(:\d+)?$", "", rule.strip())

    @field_validator("by")
    @classmethod
    def _is_named(cls, by: str) -> str:
        if not _WORD.search(by) or by.strip().casefold() in _NOBODY:
            raise ValueError(f"'{by[:40]}' names no person. Write the name of whoever answers for it.")
        return " ".join(by.split())

    @field_validator("why")
    @classmethod
    def _is_a_reason(cls, why: str) -> str:
        if len(_WORD.findall(why)) < 2:
            raise ValueError(f"'{why[:40]}' is no reason. Write a sentence that says why the limit may be passed here.")
        return " ".join(why.split())
