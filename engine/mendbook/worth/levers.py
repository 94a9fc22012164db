"""Which figures move the value of repairing most, each taken alone to its ends."""

from collections.abc import Mapping

from mendbook.terms.worth import Lever
from mendbook.worth.figures import Figures
from mendbook.worth.given import Known
from mendbook.worth.sums import work_out

TRIED = 0.2  # house default: how far a figure is tried of which no error is known
SHARES_END = 1.0
NO_LEVERS = ("retread_price", "retread_life", "retread_early_loss", "retread_mean_life", "retread_time")


def find_levers(f: Figures, known: Mapping[str, Known]) -> tuple[Lever, ...]:
    """Return the levers of `f`, largest first; a figure that moves nothing is none."""
    levers = [_lever(f, name, one) for name, one in known.items() if name not in NO_LEVERS]
    moving = [lever for lever in levers if swing(lever) >= 0.005]
    return tuple(sorted(moving, key=lambda lever: (-swing(lever), lever.name)))


def swing(lever: Lever) -> float:
    """Return by how much a lever moves the value from end to end."""
    return abs(lever.value_at_high - lever.value_at_low)


def _lever(f: Figures, name: str, known: Known) -> Lever:
    spread = known.spread
    low, high = spread.low, spread.high
    if spread.is_exact:
        low, high = (1.0 - TRIED) * spread.value, (1.0 + TRIED) * spread.value
        if known.kind == "share":
            high = min(high, SHARES_END)
    values = [float(work_out(f.changed(**{name: end})).value) for end in (low, high)]
    return Lever(
        name=known.name,
        kind=known.kind,
        low=low,
        high=high,
        value_at_low=values[0],
        value_at_high=values[1],
        is_written=not spread.is_exact,
    )
