"""A week at the bench: which tyres of a yard to repair, worth most within the hours and the kit there are."""

from pydantic import Field

from mendbook.terms.closed import Closed
from mendbook.terms.worth import Cents, Fine


class Job(Closed):
    """All repairs of one tyre, done together."""

    tag: str
    repairs: tuple[str, ...] = Field(description="verdict and zone of each injury")
    value: Cents = Field(description="of repairing, against a new tyre")
    labour_hours: Fine
    watching_hours: Fine = Field(description="share of the time under heat that one person stands by")
    kit_hours: dict[str, Fine] = Field(description="time under heat, by kit")
    is_chosen: bool = False
    is_greedy: bool = Field(False, description="chosen too when tyres are taken by value per bench hour alone")

    @property
    def bench_hours(self) -> float:
        """Hours of one person."""
        return self.labour_hours + self.watching_hours

    @property
    def value_an_hour(self) -> float:
        """What an hour at the bench brings."""
        return self.value / self.bench_hours if self.bench_hours > 0.0 else float("inf")


class LeftOut(Closed):
    """Tyres that were not looked at, and why."""

    why: str
    tyres: int
    tags: tuple[str, ...] = Field(description="the first of them")


class Week(Closed):
    """The choice, and what it was made from."""

    currency: str
    bench_hours: Fine = Field(description="that there are")
    kit_hours: dict[str, Fine] = Field(description="that there are; kit that is not named has no limit")
    jobs: tuple[Job, ...] = Field(description="worth repairing, by value per bench hour, the best first")
    value: Cents = Field(description="of what is chosen")
    hours_used: Fine
    kit_used: dict[str, Fine]
    bound: Cents = Field(description="no choice can be worth more")
    gap: Fine = Field(description="share by which the bound lies above the choice")
    is_proven: bool = Field(description="whether the solver proved that nothing is worth more")
    greedy_value: Cents = Field(description="worth when tyres are taken by value per bench hour, as long as they fit")
    more_hours: Fine = Field(description="a tenth more of bench hours")
    more_value: Cents = Field(description="what those would add")
    left_out: tuple[LeftOut, ...]
    basis: tuple[str, ...] = Field(description="where the hours are from")
