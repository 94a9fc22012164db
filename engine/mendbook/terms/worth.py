"""What a repair is worth, as a docket holds it. Amounts in `currency`, to the cent; rates per `unit` (h or km)."""

from typing import Annotated

from pydantic import AfterValidator, Field

from mendbook.terms.closed import Closed

FINE = 6  # decimals of a rate, a life, a share

Cents = Annotated[float, AfterValidator(lambda amount: round(amount, 2) + 0.0)]  # never -0.0
Fine = Annotated[float, AfterValidator(lambda figure: round(figure, FINE) + 0.0)]


class Reckoned(Closed):
    """A figure that was reckoned with, and where it is from."""

    name: str
    value: Fine = Field(description="shares as 1 for the whole, lives in h or km, times in h")
    low: Fine
    high: Fine
    kind: str = Field(description="amount, share, life, time, or rate a year")
    origin: str = Field(description="case, from the tread, or the basis of a default")


class Choice(Closed):
    """One thing that can be done with the tyre. What is not known is None, and `lacking` names it."""

    name: str
    rate: Fine | None = Field(None, description="cost per h or km")
    buys: Fine | None = Field(None, description="h or km that it is expected to bring")
    cost: Cents | None = Field(None, description="cost of as many h or km as the repair is expected to bring")
    saves: Cents | None = Field(None, description="against a new tyre, over those")
    lacking: tuple[str, ...] = ()


class BreakEven(Closed):
    """Where repairing and a new tyre cost the same, all else as it is; None where they never do."""

    name: str
    at: Fine | None
    kind: str
    says: str


class Odds(Closed):
    """How sure it is, by drawing every figure within its error."""

    draws: int
    scrambles: int = Field(description="independent sets of equally spread points that the draws come in")
    seed: int
    drawn: tuple[str, ...] = Field(description="the figures of which an error is known; the rest counts as exact")
    wins: Fine = Field(description="chance that repairing is the cheapest on average, the figures being what they are")
    wins_error: Fine = Field(description="standard error of that chance, from the sets")
    wins_once: Fine = Field(description="chance that this one repair pays, early failures and all")
    low: Cents = Field(description="value that nineteen in twenty draws exceed")
    high: Cents = Field(description="value that one in twenty draws exceeds")


class Lever(Closed):
    """How far one figure moves the value of repairing."""

    name: str
    kind: str
    low: Fine = Field(description="the figure at its low end")
    high: Fine
    value_at_low: Cents
    value_at_high: Cents
    is_written: bool = Field(description="True where its error is known; else a fifth less and more was tried")


class WhatIf(Closed):
    """What repairing is worth when no spare is at hand and a new tyre takes its time."""

    days: Fine = Field(description="until a new tyre is there")
    value: Cents


class Worth(Closed):
    """Whether a repair is worth its money. It never changes a verdict."""

    currency: str
    unit: str = Field(description="h or km")
    struck: str = Field("", description="why none of it counts: the tyre is stopped or rejected")
    held: str = Field("", description="what must be settled before it counts")
    answer: str
    best: str | None = Field(None, description="the cheapest choice; None where the sum cannot be made or is struck")
    value: Cents | None = Field(None, description="of repairing, against a new tyre")
    remaining: Fine | None = Field(None, description="h or km on the tread, if nothing fails")
    hours: Fine | None = Field(None, description="h or km to be expected of the repair")
    survival: Fine | None = Field(None, description="chance that it lasts the tread")
    gross: Cents | None = Field(None, description="repair, fitting and what failures cost on average")
    cost: Cents | None = Field(None, description="that, with standing and less the casing sold in the end")
    ceiling: Cents | None = Field(None, description="highest price at which repairing still wins against a new tyre")
    tread_value: Cents | None = Field(None, description="of the tread that is left, in proportion to the new price")
    casing_now: Cents | None = Field(None, description="what the casing as it is brings on average")
    choices: tuple[Choice, ...] = ()
    break_evens: tuple[BreakEven, ...] = ()
    odds: Odds | None = None
    levers: tuple[Lever, ...] = Field((), description="largest first")
    without_spare: tuple[WhatIf, ...] = ()
    discounting: str = ""
    yardstick: str = Field("", description="a published formula for the hourly cost of tyres, beside ours")
    reckoned: tuple[Reckoned, ...] = ()
    lacking: tuple[str, ...] = Field((), description="what is not known, and what cannot be told for it")
    notes: tuple[str, ...] = ()
    scrap: tuple[str, ...] = Field((), description="how the casing goes, if it goes")
