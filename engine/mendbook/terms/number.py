"""A number as people write it: decimals with point or comma, and inch fractions. Exact, and never guessed."""

import re
from fractions import Fraction

_DECIMAL = r"(?:[0-9]+(?:[.,][0-9]+)?|[.,][0-9]+)"
_FRACTION = r"(?:[0-9]+[ ]?/[ ]?[0-9]+)"
_MIXED = rf"(?:[0-9]+(?:[ ]|[ ]?-[ ]?){_FRACTION})"
NUMBER = rf"[-+]?[ ]?(?:{_MIXED}|{_FRACTION}|{_DECIMAL})"

_THOUSANDS = re.compile(r"[1-9][0-9]{0,2},[0-9]{3}")
_PARTS = re.compile(r"(?P<sign>[-+]?)[ ]?(?:(?P<whole>[0-9]+)[ -]+)?(?P<top>[0-9]+)[ ]?/[ ]?(?P<bottom>[0-9]+)")


class NumberError(ValueError):
    """A number that could mean two things, or nothing."""


def read_number(text: str) -> Fraction:
    """Return the exact value of `text`, which matches `NUMBER`: '48.5', '48,5', '1 7/8', '1-7/8', '18/32'.

    Raises NumberError for '1,250' (a thousand or one and a quarter?) and for a fraction over zero.
    """
    if parts := _PARTS.fullmatch(text):
        if int(parts["bottom"]) == 0:
            raise NumberError(f"'{text}' divides by zero. Write the fraction of an inch again, such as 7/8 in.")
        part = int(parts["whole"] or 0) + Fraction(int(parts["top"]), int(parts["bottom"]))
        return -part if parts["sign"] == "-" else part
    unsigned = text.lstrip("+- ")
    if _THOUSANDS.fullmatch(unsigned):
        whole, point = unsigned.replace(",", ""), unsigned.replace(",", ".")
        raise NumberError(f"'{text}' may be {whole} or {point}. Write {whole}, or {point.rstrip('0').rstrip('.')}.")
    return Fraction(text.replace(",", ".").replace(" ", ""))
