"""Where repairing and a new tyre cost the same: price, hours, tread and early loss, one at a time."""

from collections.abc import Iterator

from scipy.optimize import brentq

from mendbook.terms.worth import BreakEven
from mendbook.worth.figures import Figures
from mendbook.worth.sums import work_out

CERTAIN = 1.0 - 1e-9  # the highest early loss that is tried


def find_break_evens(f: Figures) -> Iterator[BreakEven]:
    """Yield the break-evens of `f`."""
    sums = work_out(f)
    ceiling = float(f.repair_price + sums.value)
    yield BreakEven(
        name="repair price",
        at=ceiling if ceiling >= 0.0 else None,
        kind="amount",
        says="repairing wins below it" if ceiling >= 0.0 else "a new tyre wins even where the repair costs nothing",
    )
    yield _hours(float(sums.repair - sums.short + sums.sold_now), float(sums.new_rate))
    yield _crossing(f, "tread ratio", "tread_ratio", (1e-9, 1.0))
    yield _crossing(f, "early loss", "early_loss", (0.0, CERTAIN))


def _hours(cost: float, new_rate: float) -> BreakEven:
    name, kind = "hours bought", "life"
    if cost <= 0.0 < new_rate:
        return BreakEven(name=name, at=None, kind=kind, says="repairing wins at any")
    if new_rate <= 0.0:
        return BreakEven(name=name, at=None, kind=kind, says="a new tyre costs nothing that could be broken even with")
    return BreakEven(name=name, at=cost / new_rate, kind=kind, says="repairing wins where it brings more")


def _crossing(f: Figures, name: str, field: str, ends: tuple[float, float]) -> BreakEven:
    def value(at: float) -> float:
        return float(work_out(f.changed(**{field: at})).value)

    low, high = (value(end) for end in ends)
    if (low > 0.0) == (high > 0.0):
        return BreakEven(
            name=name, at=None, kind="share", says=f"{'repairing' if low > 0.0 else 'a new tyre'} wins at any"
        )
    # Where failures cost more an hour than a new tyre does, more tread to run is worth less.
    says = f"repairing wins {'below' if low > 0.0 else 'above'} it"
    return BreakEven(name=name, at=float(brentq(value, *ends, xtol=1e-12)), kind="share", says=says)
