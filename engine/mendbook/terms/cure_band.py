"""How sure a cure is: what scatter of its inputs does to minutes and to cure."""

from pydantic import Field

from mendbook.terms.closed import Closed


class Spread(Closed):
    """Between what 5 and 95 in a hundred such cures lie."""

    low: float = Field(description="5 % lie below")
    high: float = Field(description="95 % lie below")


class Contributor(Closed):
    """An input and its part in the scatter."""

    name: str
    one_deviation: str = Field(description="how far it is off in one standard deviation")
    of_minutes: float = Field(description="share of the variance of the minutes [0 to 1]")
    of_cure: float = Field(description="share of the variance of the slowest point's cure [0 to 1]")


class Drawn(Closed):
    """The same by drawing inputs at random: the check of the straight lines."""

    draws: int
    minutes: Spread
    cure: Spread
    short: float = Field(description="share of draws that fall short of what the order asks [0 to 1]")


class Band(Closed):
    """5 to 95 % of minutes and of cure, from straight lines through the logarithms of both."""

    minutes: Spread = Field(description="heating that the schedule would ask for, were the inputs known [min]")
    cure: Spread = Field(description="slowest point after cooling, with the minutes of the sheet [multiples of t90]")
    short: float = Field(description="share of cures that end below what the order asks [0 to 1]")
    contributors: tuple[Contributor, ...] = Field(description="those that matter, largest part in the minutes first")
    drawn: Drawn | None = Field(None, description="only where draws were asked for")
