"""How sure it is that repairing wins: every figure drawn within its error, and the luck of the one tyre."""

from collections.abc import Mapping

import numpy as np
from scipy.stats import qmc

from mendbook.terms.worth import Odds
from mendbook.worth.figures import Figures
from mendbook.worth.given import called
from mendbook.worth.spread import Array, Spread
from mendbook.worth.streams import present, stream
from mendbook.worth.sums import Sums, work_out, work_out_retread

SCRAMBLES = 8
POINTS = 1024  # a set; a power of two, as Sobol points want it
SEED = 1


def draw_odds(f: Figures, spreads: Mapping[str, Spread], *, has_retread: bool, seed: int = SEED) -> Odds:
    """Return how sure it is that repairing wins, with the figures called in `spreads` drawn and the rest as in `f`.

    Scrambled Sobol points (quasi-random: spread more evenly than random ones), in independent sets, whose scatter gives
    the error. One more coordinate is the luck of the one tyre: when its repair fails.
    """
    names = [name for name, spread in spreads.items() if not spread.is_exact]
    children = np.random.SeedSequence(seed).spawn(SCRAMBLES)
    sets = [_draw(f, {name: spreads[name] for name in names}, np.random.default_rng(child)) for child in children]
    margins, wins, wins_once = [], [], []
    for drawn, luck in sets:
        sums = work_out(drawn)
        others = sums.replacing
        if has_retread:
            others = np.minimum(others, sums.bought * work_out_retread(drawn).rate)
        margins.append(np.broadcast_to(sums.value, luck.shape))
        wins.append(float(np.mean(np.broadcast_to(others - sums.repair, luck.shape) > 0.0)))
        wins_once.append(float(np.mean(run_once(drawn, sums, luck) > 0.0)))
    low, high = np.percentile(np.concatenate(margins), [5, 95])
    return Odds(
        draws=SCRAMBLES * POINTS,
        scrambles=SCRAMBLES,
        seed=seed,
        drawn=tuple(called(name) for name in names),
        wins=float(np.mean(wins)),
        wins_error=float(np.std(wins, ddof=1) / np.sqrt(SCRAMBLES)),
        wins_once=float(np.mean(wins_once)),
        low=float(low),
        high=float(high),
    )


def _draw(f: Figures, spreads: Mapping[str, Spread], rng: np.random.Generator) -> tuple[Figures, Array]:
    points = qmc.Sobol(len(spreads) + 1, scramble=True, rng=rng).random(POINTS)
    drawn = {name: spread.drawn(points[:, place]) for place, (name, spread) in enumerate(spreads.items())}
    return f.changed(**drawn), np.asarray(points[:, -1], dtype=np.float64)


def run_once(f: Figures, sums: Sums, luck: Array) -> Array:
    """Return what one repair is worth against a new tyre, with the `luck` [0 to 1] of when it fails.

    On average over the luck this is the value of `Sums`.
    """
    holds = np.maximum((1.0 - luck) / (1.0 - f.early_loss), 0.0)  # chance to last longer, of those past the first hours
    with np.errstate(divide="ignore"):
        life = np.where(luck < f.early_loss, 0.0, -f.mean_life * np.log(np.minimum(holds, 1.0)))
    run = np.minimum(life, sums.remaining)
    has_failed = life < sums.remaining
    due = np.where(has_failed, f.failure_cost, -f.casing_sold_repaired * f.casing_value) * present(f.interest, run)
    cost = f.repair_price + f.fitting + f.standing(f.repair_time) + due
    return np.asarray(stream(f.interest, run) * sums.new_rate + sums.short - sums.sold_now - cost, dtype=np.float64)
