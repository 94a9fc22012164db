"""What is known of the money of a case: as written, from the tread, by class and zone, or by a default that says so."""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from mendbook.facts.readings import reading_error
from mendbook.terms.case import Case
from mendbook.terms.money import AMOUNTS, RUNS, Money
from mendbook.terms.quantity import Quantity
from mendbook.terms.units import Dimension
from mendbook.terms.vocabulary import Vocabulary
from mendbook.worth.figures import Figures
from mendbook.worth.spread import Spread
from mendbook.worth.survival import Held, Survival, together

USABLE = Spread(0.95, 0.90, 1.0, "peaked")  # house default: a tyre is seldom run to the last of its tread
WRITTEN = "case"
HOUSE = "house default"
TIMES = ("repair_time", "lead_time", "retread_time")
# What is left out and then counts as nothing; the first of these flatter the repair.
NOTHING = ("fitting", "failure_cost", "disposal", "casing_value", "casing_sold_new", "casing_sold_repaired")
SILENT = ("casing_sold_now", "repair_time", "lead_time", "retread_time", "standing_cost", "discount_rate")
NEW = ("new_price", "new_life")
REPAIR = (*NEW, "tread_ratio", "early_loss", "mean_life")
RETREAD = ("retread_price", "retread_life", "retread_early_loss", "retread_mean_life")
REPAIRED = ("spot", "reinforce", "section")

Mended = tuple[str, str]  # verdict of an injury, and the zone it lies in


@dataclass(frozen=True)
class Known:
    """One figure: what it is called, its spread, and where it is from."""

    name: str
    kind: str
    spread: Spread
    origin: str = WRITTEN


@dataclass(frozen=True)
class Given:
    """All that is known of the money of a case, by the names of `Figures`."""

    money: Money
    known: Mapping[str, Known]

    def lacks(self, *names: str) -> tuple[str, ...]:
        """Return which of `names` are not known, in the words of the case file."""
        return tuple(called(name) for name in names if name not in self.known)

    def has(self, *names: str) -> bool:
        """Return whether all of `names` are known."""
        return not self.lacks(*names)

    @property
    def figures(self) -> Figures:
        """The figures as read. What is not known counts as nothing, or as a life without end."""
        endless = dict.fromkeys(("mean_life", "retread_mean_life", "new_life", "retread_life", "use_a_year"), 1.0)
        missing = dict.fromkeys((*REPAIR, *RETREAD, *NOTHING, *SILENT, "repair_price", "usable_tread"), 0.0) | endless
        read = {name: known.spread.value for name, known in self.known.items()}
        return Figures.of(missing | read, has_spare=self.money.spare != "no", is_discounted=self.looks_far)

    @property
    def looks_far(self) -> bool:
        """True when a discount rate is written and some life of the sum is longer than a year of use."""
        if not self.has("discount_rate", "use_a_year"):
            return False
        lives = [self.known[name].spread.value for name in ("new_life", "retread_life") if name in self.known]
        return max(lives, default=0.0) > self.known["use_a_year"].spread.value


def called(name: str) -> str:
    """Return what a case file calls the figure `name`."""
    return Money.model_fields[name].alias or name


def kind_of(name: str) -> str:
    """Return what kind of figure `name` is."""
    if name == "discount_rate":
        return "rate a year"
    if name in AMOUNTS:
        return "amount"
    return "life" if name in RUNS else "time" if name in TIMES else "share"


def gather(
    case: Case, repairs: Sequence[Mended], construction: str, survival: Survival, vocabulary: Vocabulary
) -> Given:
    """Return what is known of the money of `case`, which has some, with the `repairs` that it was given."""
    money = case.money or Money()
    known = {name: Known(called(name), kind_of(name), spread) for name, spread in _written(money)}
    for name, spread, origin in _followed(case, held_by(repairs, construction, survival), vocabulary):
        known.setdefault(name, Known(called(name), kind_of(name), spread, origin))
    return Given(money, known)


def _written(money: Money) -> Iterator[tuple[str, Spread]]:
    for name in Figures.__dataclass_fields__:
        written = getattr(money, name, None)
        if isinstance(written, Quantity) and not written.is_unknown:
            yield name, Spread.of(written)


def _followed(case: Case, repairs: Sequence[Held], vocabulary: Vocabulary) -> Iterator[tuple[str, Spread, str]]:
    """Yield what follows where the case writes nothing."""
    yield "usable_tread", USABLE, HOUSE
    if (ratio := _tread_ratio(case, vocabulary)) is not None:
        yield "tread_ratio", ratio, "from tread left and tread new"
    if not repairs:
        return
    early_loss, hours = together(repairs)
    origin = f"{'; '.join(dict.fromkeys(held.basis for held in repairs))}, by class and zone"
    yield "early_loss", early_loss, origin
    if (life := _as_run(hours, case.money)) is not None:
        yield "mean_life", life, origin


def held_by(repairs: Sequence[Mended], construction: str, survival: Survival) -> list[Held]:
    """Return how long each of `repairs` holds; one that carries no load is none."""
    held = [survival.of(verdict, zone, construction) for verdict, zone in repairs if verdict in REPAIRED]
    return [one for one in held if one is not None]


def _as_run(hours: Spread, money: Money | None) -> Spread | None:
    """Return a life known in hours in the measure of the case; None when it is km and no speed is written."""
    if money is None or money.measure is Dimension.DURATION:
        return hours
    speed = money.average_speed
    if speed is None or speed.bounds is None:
        return None
    fast = Spread.of(speed)
    return Spread(hours.value * fast.value, hours.low * fast.low, hours.high * fast.high, "peaked")


def _tread_ratio(case: Case, vocabulary: Vocabulary) -> Spread | None:
    """Return the share of tread that is left, by the least reading as in every rule; None when it is not known."""
    new = case.tyre.written("tread new")
    if not isinstance(new, Quantity) or new.bounds is None or new.bounds[0] <= 0.0:
        return None
    left = _tread_left(case, vocabulary)
    if left is None:
        return None
    full = Spread.of(new)
    ends = (left.value / full.value, left.low / full.high, left.high / full.low)
    value, low, high = (min(1.0, end) for end in ends)
    return Spread(value, low, high, "peaked")


def _tread_left(case: Case, vocabulary: Vocabulary) -> Spread | None:
    written = case.tyre.written("tread left")
    if isinstance(written, Quantity) and not written.is_unknown:
        spread = Spread.of(written)
        if not spread.is_exact:
            return spread
        least = spread.value
    else:
        depths = [depth.value for depth in case.tyre.tread_depths if depth.value is not None]
        if not depths:
            return None
        least = min(depths)
    error = reading_error(vocabulary["tread left"], least, case.tyre)
    return Spread(least, max(0.0, least - error), least + error, "peaked")
