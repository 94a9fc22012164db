"""What can be done with the tyre, side by side: cost per hour or km, and over the hours that a repair would bring."""

from collections.abc import Iterator

from mendbook.terms.worth import Choice
from mendbook.worth.given import NEW, REPAIR, RETREAD, Given
from mendbook.worth.streams import stream
from mendbook.worth.sums import Sums, work_out, work_out_retread

REPAIR_IT, NEW_TYRE, SELL, RETREAD_IT = "repair", "new tyre", "new tyre, casing sold", "repair and retread"


def list_choices(given: Given) -> Iterator[Choice]:
    """Yield every choice; one of which too little is known says what is lacking."""
    figures = given.figures
    sums = work_out(figures)
    yield _repair(given, sums)
    yield _new(given, sums)
    yield _sell(given, sums)
    lacking = given.lacks(*REPAIR, "repair_price", *RETREAD)
    if lacking:
        yield Choice(name=RETREAD_IT, lacking=lacking)
        return
    retread = work_out_retread(figures)
    cost = float(sums.bought * retread.rate)
    yield Choice(
        name=RETREAD_IT,
        rate=float(retread.rate),
        buys=float(retread.hours),
        cost=cost,
        saves=float(sums.replacing) - cost,
    )


def cheapest(choices: tuple[Choice, ...]) -> Choice | None:
    """Return the choice that costs least over the hours of the repair; None when that cannot be told."""
    told = {choice.name: choice for choice in choices if choice.cost is not None}
    if REPAIR_IT not in told or NEW_TYRE not in told:
        return None
    return min(told.values(), key=lambda choice: choice.cost or 0.0)


def _repair(given: Given, sums: Sums) -> Choice:
    lacking = given.lacks(*REPAIR, "repair_price")
    if lacking:
        return Choice(name=REPAIR_IT, lacking=lacking)
    return Choice(
        name=REPAIR_IT,
        rate=float(sums.repair_rate),
        buys=float(sums.hours),
        cost=float(sums.repair),
        saves=float(sums.value),
    )


def _new(given: Given, sums: Sums) -> Choice:
    if lacking := given.lacks(*NEW):
        return Choice(name=NEW_TYRE, lacking=lacking)
    return _bought(given, sums, NEW_TYRE, float(sums.short))


def _sell(given: Given, sums: Sums) -> Choice:
    if lacking := given.lacks(*NEW, "casing_value", "casing_sold_now"):
        return Choice(name=SELL, lacking=lacking)
    return _bought(given, sums, SELL, float(sums.short - sums.sold_now))


def _bought(given: Given, sums: Sums, name: str, at_once: float) -> Choice:
    """Return the choice of a new tyre with what it costs `at_once` beside, shared over its life in the rate."""
    figures = given.figures
    rate = float(sums.new_rate) + at_once / float(stream(figures.interest, figures.new_life))
    is_told = given.has(*REPAIR)
    cost = float(sums.bought * sums.new_rate) + at_once
    return Choice(
        name=name,
        rate=rate,
        buys=float(figures.new_life),
        cost=cost if is_told else None,
        saves=float(sums.replacing) - cost if is_told else None,
    )
