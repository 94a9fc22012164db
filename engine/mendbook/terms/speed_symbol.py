"""The letter that states the speed a tyre is made for (UN R30 and R54; table from a public copy)."""

from collections.abc import Mapping
from dataclasses import dataclass

# H stands between U and V. I, O and X are not used, lest they be read as 1, 0 and a size mark.
_LETTERS = "BCDEFGJKLMNPQRSTUHVWY"
_SPEEDS = (50, 60, 65, 70, 80, 90, 100, 110, 120, 130, 140, 150, 160, 170, 180, 190, 200, 210, 240, 270, 300)
SPEEDS_KM_H: Mapping[str, int] = {
    **{f"A{step}": 5 * step for step in range(1, 9)},
    **dict(zip(_LETTERS, _SPEEDS, strict=True)),
}


class SpeedSymbolError(ValueError):
    """A letter that states no speed."""


@dataclass(frozen=True)
class SpeedSymbol:
    """A speed symbol and the speed it states [km/h]."""

    symbol: str
    km_h: int


def read_speed_symbol(text: str) -> SpeedSymbol:
    """Return the speed symbol `text`, such as 'A2', 'B' or 'L'. Raises SpeedSymbolError for any other."""
    symbol = "".join(text.split()).upper()
    if symbol in SPEEDS_KM_H:
        return SpeedSymbol(symbol, SPEEDS_KM_H[symbol])
    why = "is not a speed symbol"
    if symbol in ("I", "O", "X"):
        why = "is never used as a speed symbol, as it looks like another mark"
    elif symbol == "A":
        why = "needs its digit"
    raise SpeedSymbolError(f"'{text[:20]}' {why}. Write A1 to A8, B to Y without I, O, X, as moulded on the tyre.")
