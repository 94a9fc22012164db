"""The front door: what a repair is worth, after the tyre was judged."""

from collections.abc import Iterator, Sequence
from typing import Any

from mendbook.terms.case import Case
from mendbook.terms.docket import Docket
from mendbook.terms.units import Dimension
from mendbook.terms.vocabulary import Vocabulary
from mendbook.terms.worth import Reckoned, WhatIf, Worth
from mendbook.worth.answers import answer
from mendbook.worth.break_evens import find_break_evens
from mendbook.worth.choices import REPAIR_IT, cheapest, list_choices
from mendbook.worth.given import NEW, REPAIR, RETREAD, Given, gather
from mendbook.worth.levers import find_levers
from mendbook.worth.odds import draw_odds
from mendbook.worth.remarks import discounting, lacking, notes, scrap, yardstick
from mendbook.worth.striking import why_held, why_struck
from mendbook.worth.sums import work_out
from mendbook.worth.survival import Survival

WEEKS = (2, 6, 10, 20)  # a new tyre may take; tried beside what the case says
DAY = 24.0  # h
UNITS = {Dimension.DURATION: "h", Dimension.DISTANCE: "km"}


def weigh(
    case: Case, docket: Docket, survival: Survival, vocabulary: Vocabulary, scrapped: Sequence[str] = ()
) -> Worth | None:
    """Return what repairing the tyre of `case` is worth after it was judged in `docket`; None without money.

    scrapped : what is said of a casing that goes
    """
    if case.money is None:
        return None
    repairs = [(injury.verdict or "", injury.zone) for injury in docket.injuries]
    given = gather(case, repairs, docket.tyre.construction, survival, vocabulary)
    currency, unit = case.money.currency or "", UNITS[case.money.measure]
    beside: dict[str, Any] = {
        "currency": currency,
        "unit": unit,
        "struck": why_struck(docket),
        "held": why_held(docket),
        "discounting": discounting(given, unit),
        "yardstick": yardstick(given, currency),
        "reckoned": tuple(_reckoned(given)),
        "scrap": tuple(scrap(case, docket, scrapped)),
        **_values(given),
    }
    if docket.outcome == "serve":
        return Worth(**beside, answer="Nothing is to be repaired: it runs on as it is.")
    reckoned = _sum(given, currency, unit)
    if beside["struck"] and reckoned.get("best"):  # whoever reads these two alone must not act on them
        reckoned |= {"best": None, "answer": f"Struck out. The sum alone would say: {reckoned['answer']}"}
    return Worth(**beside, **reckoned, lacking=tuple(lacking(given)), notes=tuple(notes(given, unit)))


def _sum(given: Given, currency: str, unit: str) -> dict[str, Any]:
    """Return the fields of the sum itself, as far as it can be made."""
    choices = tuple(list_choices(given))
    best, repair = cheapest(choices), next(choice for choice in choices if choice.name == REPAIR_IT)
    if not given.has(*REPAIR):
        return {"choices": choices, "answer": answer(None, repair, None, None, currency, unit)}
    figures = given.figures
    break_evens = tuple(find_break_evens(figures))
    ceiling = break_evens[0].at
    if not given.has("repair_price"):
        told = answer(None, repair, None, ceiling or 0.0, currency, unit)
        return {"choices": choices, "ceiling": ceiling, "answer": told}
    sums = work_out(figures)
    spreads = {name: known.spread for name, known in given.known.items()}
    odds = draw_odds(figures, spreads, has_retread=given.has(*RETREAD))
    return {
        "choices": choices,
        "ceiling": ceiling,
        "answer": answer(best, repair, odds, ceiling, currency, unit),
        "best": best.name if best else None,
        "value": float(sums.value),
        "gross": float(sums.gross),
        "cost": float(sums.repair),
        "hours": float(sums.hours),
        "survival": float(sums.survival),
        "break_evens": break_evens,
        "odds": odds,
        "levers": find_levers(figures, given.known),
        "without_spare": tuple(_without_spare(given)),
    }


def _values(given: Given) -> dict[str, float]:
    """Return what is left of tyre and casing."""
    figures, values = given.figures, {}
    if given.has(*NEW, "tread_ratio"):
        values["remaining"] = float(figures.remaining)
    if given.has("new_price", "tread_ratio"):
        values["tread_value"] = float(figures.new_price * figures.tread_ratio)
    if given.has("casing_value", "casing_sold_now"):
        values["casing_now"] = float(figures.casing_value * figures.casing_sold_now)
    return values


def _without_spare(given: Given) -> Iterator[WhatIf]:
    """Yield what repairing is worth without a spare, by the days until a new tyre is there."""
    if not given.has("standing_cost"):
        return
    times = {weeks * 7 * DAY for weeks in WEEKS}
    if given.has("lead_time"):
        times.add(given.known["lead_time"].spread.value)
    for time in sorted(times):
        value = float(work_out(given.figures.changed(lead_time=time).without_spare()).value)
        yield WhatIf(days=time / DAY, value=value)


def _reckoned(given: Given) -> Iterator[Reckoned]:
    for known in given.known.values():
        spread = known.spread
        yield Reckoned(
            name=known.name,
            value=spread.value,
            low=spread.low,
            high=spread.high,
            kind=known.kind,
            origin=known.origin,
        )
