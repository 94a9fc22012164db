"""What is said beside the sum: what is lacking, what was taken for granted, how interest counts, how a casing goes."""

from collections.abc import Iterator, Sequence

from mendbook.terms.case import Case
from mendbook.terms.docket import Docket
from mendbook.terms.quantity import format_quantity
from mendbook.terms.units import Dimension
from mendbook.worth.given import NEW, NOTHING, REPAIR, RETREAD, WRITTEN, Given, called
from mendbook.worth.sums import work_out
from mendbook.worth.yardstick import hourly_repair, hourly_wear

_FOR_WANT_OF = {
    "new_price": "nothing can be told against a new tyre",
    "new_life": "no cost per hour or km can be told",
    "tread_ratio": "nobody can say how long the tyre would still run; measure the tread, or write tread new",
    "early_loss": "it is not known how such a repair holds",
    "mean_life": "it is not known how long such a repair holds",
    "repair_price": "only the highest price at which repairing wins can be told",
}


def lacking(given: Given) -> Iterator[str]:
    """Yield what is not known, and what cannot be told for it."""
    for name in (*REPAIR, "repair_price"):
        if not given.has(name):
            yield f"{called(name)}: {_FOR_WANT_OF[name]}{_in_km(given, name)}"
    if some := given.lacks(*RETREAD):
        yield f"{_listed(some)}: retreading is left out"
    if some := given.lacks("casing_value", "casing_sold_now"):
        yield f"{_listed(some)}: selling the casing as it is is left out"
    if given.money.spare == "no" and (some := given.lacks("standing_cost", "lead_time")):
        yield f"{_listed(some)}: standing still until a new tyre is there counts as nothing"
    elif not given.has("standing_cost"):
        yield "standing cost: what it means to have no spare cannot be told"
    elif not given.has("repair_time"):
        yield "repair time: with no spare, the days without the tyre while it is repaired count as nothing"
    if given.has("discount_rate") and not given.has("use_a_year"):
        yield "use a year: the discount rate cannot be counted without it"


def _in_km(given: Given, name: str) -> str:
    if name != "mean_life" or given.money.measure is Dimension.DURATION:
        return ""
    return "; survival by class is known in hours: write average speed, and it is turned into km"


def notes(given: Given, unit: str) -> Iterator[str]:
    """Yield what was taken for granted."""
    if some := given.lacks(*NOTHING):
        yield f"Counted as nothing, since the case does not say: {_listed(some)}."
    if not given.has("failure_cost"):
        yield "Without a failure cost repairing looks better than it is: a failure in service is seldom free."
    if given.money.spare == "unknown":
        yield "A spare is taken to be at hand, so nothing stands still. Write spare: no where there is none."
    elif given.money.spare == "no":
        yield (
            "No spare: standing until a new tyre is there counts once, in full, against the new tyre; after the repair "
            "it can be ordered in time."
        )
    if given.has(*REPAIR) and _each_hour_loses(given):
        yield (
            f"Each further {unit} on the repair costs more in failures to be expected than the same {unit} on a new "
            "tyre: more tread does not help here."
        )
    yield "An amount, life or share that is written plainly counts as exact; write ± or a range for what is not."
    if any(given.has(name) and given.known[name].origin != WRITTEN for name in ("early_loss", "mean_life")):
        yield "How long such repairs hold is a house default; write early loss and mean life where your own are known."


def _each_hour_loses(given: Given) -> bool:
    f = given.figures
    hazard = float((f.failure_cost + f.casing_sold_repaired * f.casing_value) / f.mean_life)
    return hazard > float(work_out(f).new_rate)


def discounting(given: Given, unit: str) -> str:
    """Return how interest counts; nothing where none is written."""
    if not given.has("discount_rate", "use_a_year"):
        return ""
    rate = format_quantity(given.known["discount_rate"].spread.value, Dimension.SHARE)
    year = f"{given.known['use_a_year'].spread.value:,.0f} {unit}"
    if not given.looks_far:
        return f"No life here is longer than a year of {year}, so {rate} a year is left out."
    return (
        f"{rate} a year, {year} a year: an amount due after t {unit} counts exp(-r t) of itself, with "
        f"r = ln(1 + {rate}) / {year}; running is discounted the same way, so that rates stay comparable."
    )


def yardstick(given: Given, currency: str) -> str:
    """Return what a published formula says of a new tyre, in hours only; nothing where it cannot be worked out."""
    if not given.has(*NEW) or given.money.measure is not Dimension.DURATION:
        return ""
    wear = hourly_wear(given.known["new_price"].spread.value, given.known["new_life"].spread.value)
    return (
        f"{wear:,.2f} {currency} an hour of wear and {hourly_repair(wear):,.2f} of repairs: a new tyre that is "
        "retreaded once, wear factor 1 (us army corps ep 1110-1-8, tyre wear and tyre repair; read in an excerpt)."
    )


def scrap(case: Case, docket: Docket, said: Sequence[str]) -> Iterator[str]:
    """Yield how the casing goes, if it goes: how heavy it is, and what is `said` of a legal way."""
    weight = case.money.weight if case.money else None
    if weight is not None and not weight.is_unknown:
        yield f"{weight} to be carried away."
    if docket.outcome == "reject":
        yield "It is rejected: it may not be sold as a casing to be repaired for this use."
    yield from said


def _listed(names: Sequence[str]) -> str:
    *front, end = names
    return f"{', '.join(front)} and {end}" if front else end
