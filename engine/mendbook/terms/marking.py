"""What is moulded behind the size: tubeless or not, rim type, strength, load index, tread code."""

import re

from mendbook.terms.load_index import LoadIndexError, read_load_index
from mendbook.terms.strength import StrengthError, read_ply_rating, read_star_rating
from mendbook.terms.tread_code import TreadCodeError, read_tread_code

PLAIN = (
    "TL",
    "TT",
    "TG",
    "NHS",
    "TUBELESS",
    "TUBE TYPE",
    "RADIAL",
)  # TG: a grader's rim; NHS: not for highway service
_LONGEST = 4  # words in one marking: '193 / 190 B' is four

_READERS = (read_star_rating, read_ply_rating, read_load_index, read_tread_code)
_ERRORS = (StrengthError, LoadIndexError, TreadCodeError)


def find_markings(text: str) -> tuple[tuple[str, ...], str]:
    """Return the markings in `text` in order, and the first word that is none ('' when all are)."""
    words = re.sub(r"[(),;]", " ", text.upper()).split()
    found: list[str] = []
    while words:
        length = next((n for n in range(min(_LONGEST, len(words)), 0, -1) if is_marking(" ".join(words[:n]))), 0)
        if not length:
            return tuple(found), words[0]
        found.append(" ".join(words[:length]))
        words = words[length:]
    return tuple(found), ""


def is_marking(text: str) -> bool:
    """Return True when `text` is one marking that stands behind a size."""
    if text in PLAIN:
        return True
    for read in _READERS:
        try:
            read(text)
        except _ERRORS:
            continue
        return True
    return False
