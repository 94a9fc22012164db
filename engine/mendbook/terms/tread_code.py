"""The industry tread code of an off-road tyre: the service it is for, its pattern, and how deep the tread is.

The letters and digits are the trade's open code as public pages give it; its yearbook is quoted from memory.
Depths are shares of the regular depth of the same size: 100, 150 and 250 % read on three pages, flotation 80
% from memory.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum


class Service(StrEnum):
    """The work a tread is made for; the value is the mark on the tyre."""

    COMPACTOR = "C"
    EARTHMOVER = "E"
    GRADER = "G"
    LOADER = "L"  # loaders and dozers
    INDUSTRIAL = "IND"
    LOGGING = "ML"  # mining and logging


# Digit 6 is given two meanings in public copies, so it says nothing here.
_PATTERNS: Mapping[int, str] = {
    1: "rib or smooth",
    2: "traction",
    3: "rock",
    4: "rock, deep",
    5: "rock, extra deep",
    7: "flotation",
}
_DEPTHS: Mapping[int, float] = {1: 1.0, 2: 1.0, 3: 1.0, 4: 1.5, 5: 2.5, 7: 0.8}
_SUFFIXES: Mapping[str, str] = {"": "", "S": "smooth", "T": "traction", "R": "rock"}
_DIGITS: Mapping[Service, range] = {
    Service.COMPACTOR: range(1, 3),
    Service.EARTHMOVER: range(1, 8),
    Service.GRADER: range(1, 5),
    Service.LOADER: range(2, 8),
    Service.INDUSTRIAL: range(1, 6),
    Service.LOGGING: range(1, 5),
}
_CODE = re.compile(r"(?P<service>IND|ML|[CEGL])[ -]?(?P<digit>[0-9])?(?P<suffix>[STR])?")


class TreadCodeError(ValueError):
    """A mark that is no tread code."""


@dataclass(frozen=True)
class TreadCode:
    """A tread code. `depth_share` is the tread depth as a share of the regular depth, None when not known."""

    text: str
    service: Service
    digit: int | None
    pattern: str
    suffix: str
    depth_share: float | None

    def __str__(self) -> str:
        digit = "" if self.digit is None else f"-{self.digit}"
        return f"{self.service}{digit}{self.suffix}"


def read_tread_code(text: str) -> TreadCode:
    """Return the tread code in `text`: 'L-5', 'L5S', 'E-4', 'G-2', 'IND-3', 'ML'. Raises TreadCodeError."""
    match = _CODE.fullmatch(" ".join(text.upper().replace("–", "-").split()))
    if not match:
        raise TreadCodeError(
            f"'{text[:20]}' is not a tread code. Write the letter of the service and a digit, such as 'L-5': "
            "C compactor, E earthmover, G grader, L loader or dozer, IND industrial, ML logging."
        )
    service, suffix = Service(match["service"]), match["suffix"] or ""
    if match["digit"] is None:
        if service is not Service.LOGGING:
            raise TreadCodeError(f"'{text[:20]}' has no digit. Write it as moulded, such as '{service}-2'.")
        return TreadCode(text, service, None, "", suffix, None)
    digit, digits = int(match["digit"]), _DIGITS[service]
    if digit not in digits:
        raise TreadCodeError(
            f"'{text[:20]}': these codes go from {service}-{digits[0]} to {service}-{digits[-1]}. Read the mark again."
        )
    pattern = _SUFFIXES[suffix] or _PATTERNS.get(digit, "")
    return TreadCode(text, service, digit, pattern, suffix, _DEPTHS.get(digit))
