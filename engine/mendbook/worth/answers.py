"""The answer in one line: what to do, how much it saves, and how sure that is."""

from mendbook.terms.answers import of_hundred
from mendbook.terms.worth import Choice, Odds
from mendbook.worth.choices import NEW_TYRE, RETREAD_IT, SELL

_DO = {
    NEW_TYRE: "Put a new tyre on",
    SELL: "Sell the casing as it is and put a new tyre on",
    RETREAD_IT: "Repair and retread it",
}


def amount(value: float, currency: str) -> str:
    """Return an amount as it is printed: '3,441.93 EUR'."""
    return f"{value:,.2f} {currency}"


def answer(
    best: Choice | None, repair: Choice, odds: Odds | None, ceiling: float | None, currency: str, unit: str
) -> str:
    """Return the answer in one line; without a repair price, up to which price repairing wins."""
    if best is None or repair.cost is None or repair.buys is None or best.cost is None:
        if ceiling is not None and ceiling > 0.0:
            return f"A repair is worth up to {amount(ceiling, currency)}, fitting beside it; it has no price yet."
        if ceiling is not None:
            return "A new tyre is cheaper even where the repair costs nothing."
        return "The sum cannot be made: too little is known."
    hours = f"over the {repair.buys:,.0f} {unit} that the repair is expected to bring"
    if best.name == repair.name:
        saved = amount(repair.saves or 0.0, currency)
        return f"Repair it: {saved} cheaper than a new tyre {hours}.{_sure(odds, is_won=True)}"
    saved = amount(repair.cost - best.cost, currency)
    return f"{_DO[best.name]}: {saved} cheaper than the repair {hours}.{_sure(odds, is_won=False)}"


def _sure(odds: Odds | None, *, is_won: bool) -> str:
    if odds is None:
        return ""
    chance, once = (of_hundred(share if is_won else 1.0 - share) for share in (odds.wins, odds.wins_once))
    if not odds.drawn:
        return f" No figure is written with its error; with the luck of one tyre it comes out so in {once} of 100."
    return f" It comes out so in {chance} of 100 draws of the figures; with the luck of one tyre alone, in {once}."
