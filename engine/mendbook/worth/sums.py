"""The sum itself: hours bought, cost per hour, and what repairing is worth against a new tyre.

A repair fails at once with the chance `early_loss`, else at a constant rate, one in `mean_life`. Money that is due
later is discounted at the force of interest r of `Figures.interest`, which is nothing within a year. With L hours of
tread left:

    S(L)    = (1 - early loss) exp(-L / mean life)                        chance that it lasts
    E       = (1 - early loss) * integral of exp(-(1/mean life + r) t)    hours bought
    failed  = early loss + (1 - early loss) / mean life * the same integral
    K       = repair + fitting + failed * failure cost + standing - sold * casing value * S(L) exp(-r L)
    c_new   = (new + fitting + (disposal - sold * casing value) exp(-r life)) / integral of exp(-r t) over its life
    value   = E c_new + standing without a new tyre - K

Without discounting `failed` is 1 - S(L). The interest is that of any text on engineering economy; the rest is a house
form, no publication gives it for tyres.
"""

from dataclasses import dataclass

from mendbook.worth.figures import Figures
from mendbook.worth.spread import Array
from mendbook.worth.streams import present, stream


@dataclass(frozen=True)
class Sums:
    """What comes out. Rates are per h or km; E and what hangs on it are of today's worth where interest counts."""

    remaining: Array  # h or km, if nothing fails
    survival: Array  # chance to last them
    hours: Array  # h or km to be expected, undiscounted
    bought: Array  # the same, of today's worth
    gross: Array  # repair, fitting and what failures cost
    repair: Array  # what repairing costs after standing and casing
    new_tyre: Array  # what a new tyre costs over its life, of today's worth
    new_rate: Array  # per h or km of a new tyre
    short: Array  # standing until a new tyre is there
    sold_now: Array  # for the casing as it is today, its disposal saved

    @property
    def repair_rate(self) -> Array:
        """Cost of repairing [per h or km]."""
        return self.repair / self.bought

    @property
    def replacing(self) -> Array:
        """What a new tyre costs over the hours that a repair would buy; the old casing is sold where it can be."""
        return self.bought * self.new_rate + self.short - self.sold_now

    @property
    def value(self) -> Array:
        """What repairing is worth against a new tyre: above nothing, repair."""
        return self.replacing - self.repair


def work_out(f: Figures) -> Sums:
    """Return the sums of `f`."""
    hazard, interest, remaining = 1.0 / f.mean_life, f.interest, f.remaining
    holds = 1.0 - f.early_loss
    survival = holds * present(hazard, remaining)
    bought = holds * stream(hazard + interest, remaining)
    gross = f.repair_price + f.fitting + (f.early_loss + hazard * bought) * f.failure_cost
    kept = f.casing_sold_repaired * f.casing_value * survival * present(interest, remaining)
    new_tyre = (
        f.new_price + f.fitting + (f.disposal - f.casing_sold_new * f.casing_value) * present(interest, f.new_life)
    )
    return Sums(
        remaining=remaining,
        survival=survival,
        hours=holds * stream(hazard, remaining),
        bought=bought,
        gross=gross,
        repair=gross + f.standing(f.repair_time) - kept,
        new_tyre=new_tyre,
        new_rate=new_tyre / stream(interest, f.new_life),
        short=f.standing(f.lead_time),
        sold_now=f.casing_sold_now * (f.casing_value + f.disposal),
    )


@dataclass(frozen=True)
class Retread:
    """The sums of repairing and retreading."""

    hours: Array  # h or km to be expected
    bought: Array  # the same, of today's worth
    cost: Array

    @property
    def rate(self) -> Array:
        """Cost [per h or km]."""
        return self.cost / self.bought


def work_out_retread(f: Figures) -> Retread:
    """Return the sums of repairing and retreading under `f`; its casing is not counted on in the end."""
    hazard, holds = 1.0 / f.retread_mean_life, 1.0 - f.retread_early_loss
    bought = holds * stream(hazard + f.interest, f.retread_life)
    failed = f.retread_early_loss + hazard * bought
    cost = f.retread_price + f.repair_price + f.fitting + failed * f.failure_cost + f.standing(f.retread_time)
    return Retread(holds * stream(hazard, f.retread_life), bought, cost)
