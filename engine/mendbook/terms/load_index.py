"""The load index: a number that stands for the load of one tyre, with the speed symbol behind it.

The table is that of UN R54 and ISO 4000-1, from memory, and agrees with the rows read in public copies. It is
a series of preferred numbers: eighty steps make ten times the load, so one run of eighty steps holds it all.
"""

import re
from dataclasses import dataclass

from mendbook.terms.speed_symbol import SpeedSymbol, SpeedSymbolError, read_speed_symbol

LEAST, GREATEST = 70, 259
STEPS = 80  # to ten times the load

# Load indices 160 to 239 [kg].
_RUN = (
    *(4500, 4625, 4750, 4875, 5000, 5150, 5300, 5450, 5600, 5800),
    *(6000, 6150, 6300, 6500, 6700, 6900, 7100, 7300, 7500, 7750),
    *(8000, 8250, 8500, 8750, 9000, 9250, 9500, 9750, 10000, 10300),
    *(10600, 10900, 11200, 11500, 11800, 12150, 12500, 12850, 13200, 13600),
    *(14000, 14500, 15000, 15500, 16000, 16500, 17000, 17500, 18000, 18500),
    *(19000, 19500, 20000, 20600, 21200, 21800, 22400, 23000, 23600, 24300),
    *(25000, 25750, 26500, 27250, 28000, 29000, 30000, 30750, 31500, 32500),
    *(33500, 34500, 35500, 36500, 37500, 38750, 40000, 41250, 42500, 43750),
)
_FIRST_OF_RUN = 160

_MARK = re.compile(r"(?P<single>[0-9]{1,3}) ?(?:/ ?(?P<dual>[0-9]{1,3}))? ?(?P<speed>[A-Z] ?[0-9]?)?")


class LoadIndexError(ValueError):
    """A mark that states no load."""


@dataclass(frozen=True)
class LoadIndex:
    """The load index of a tyre fitted single, and dual where it is marked, with its speed symbol if any."""

    text: str
    single: int
    dual: int | None = None
    speed: SpeedSymbol | None = None

    @property
    def single_kg(self) -> int:
        """The load of one tyre fitted single [kg]."""
        return load_kg(self.single)

    @property
    def dual_kg(self) -> int | None:
        """The load of one of two tyres side by side [kg], None when it is not marked."""
        return None if self.dual is None else load_kg(self.dual)


def load_kg(index: int) -> int:
    """Return the load of one tyre [kg] that the load `index` 70..259 stands for.

    Raises LoadIndexError outside that range.
    """
    if not LEAST <= index <= GREATEST:
        raise LoadIndexError(f"there is no load index {index} on heavy tyres; they run from {LEAST} to {GREATEST}.")
    runs, place = divmod(index - _FIRST_OF_RUN, STEPS)
    return int(_RUN[place] * 10**runs) if runs >= 0 else _RUN[place] // 10**-runs


def read_load_index(text: str) -> LoadIndex:
    """Return the load index in `text`: '193', '193 B', '149/146L', '193/190 B'.

    Raises LoadIndexError for an index outside 70..259, for a dual load above the single one, for any
    other text, and for a second pair in brackets, which holds at another speed.
    """
    match = _MARK.fullmatch(" ".join(text.upper().split()))
    if not match:
        raise LoadIndexError(f"'{text[:30]}' is not a load index. Write one as moulded, such as '149/146L' or '193 B'.")
    single, dual = int(match["single"]), int(match["dual"]) if match["dual"] else None
    try:
        speed = read_speed_symbol(match["speed"]) if match["speed"] else None
        for index in (single, dual):
            if index is not None:
                load_kg(index)
    except (SpeedSymbolError, LoadIndexError) as problem:
        raise LoadIndexError(f"'{text[:30]}': {problem}") from None
    if dual is not None and dual > single:
        raise LoadIndexError(f"'{text[:30]}': no tyre carries more dual than single. Write it as {dual}/{single}.")
    return LoadIndex(text, single, dual, speed)
