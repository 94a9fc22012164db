"""How strong a casing is marked to be: stars on a radial earthmover tyre, a ply rating on a bias one."""

import re

MOST_STARS = 3
RATINGS = range(4, 86, 2)
PLIES_PER_100 = 55  # house default: nylon cord is nearly twice as strong as the cotton the rating was set by

_STARS = re.compile(r"(?P<marks>[*★]+)|(?P<number>[0-9]{1,2}|ONE|TWO|THREE) ?-?STARS?")
_RATING = re.compile(r"(?P<rating>[0-9]{1,3}) ?-?(?:PR|P\.R\.|PLY[ -]RATING)|PR ?(?P<after>[0-9]{1,3})")
_WORDS = {"ONE": 1, "TWO": 2, "THREE": 3}


class StrengthError(ValueError):
    """A mark that states neither stars nor a ply rating."""


def read_star_rating(text: str) -> int:
    """Return the number of stars, one to three, in `text`: '**', '2 star'. More stars carry more load.

    Raises StrengthError for any other text.
    """
    match = _STARS.fullmatch(_plain(text))
    if not match:
        raise StrengthError(f"'{text[:20]}' is not a star rating. Write the stars as moulded: '*', '**' or '***'.")
    number = match["number"]
    stars = len(match["marks"]) if match["marks"] else _WORDS.get(number) or int(number)
    if not 1 <= stars <= MOST_STARS:
        raise StrengthError(f"'{text[:20]}': a tyre has one to three stars. Write '*', '**' or '***'.")
    return stars


def read_ply_rating(text: str) -> int:
    """Return the ply rating in `text`: '40 PR', '40PR'. It compares strengths and is not a count of plies.

    Raises StrengthError for any other text, a count of plies among them.
    """
    match = _RATING.fullmatch(_plain(text))
    if not match:
        counted = " A ply rating is not a count of plies." if re.search("PLY|PLIES", text.upper()) else ""
        raise StrengthError(f"'{text[:20]}' is not a ply rating.{counted} Write it as moulded, such as '40 PR'.")
    rating = int(match["rating"] or match["after"])
    if rating not in RATINGS:
        raise StrengthError(
            f"'{text[:20]}': ply ratings are even numbers from {RATINGS[0]} to {RATINGS[-1]}. "
            "Read the mark again, and write it such as '40 PR'."
        )
    return rating


def assumed_plies(ply_rating: int) -> int:
    """Return the number of plies to assume under `ply_rating` when nobody counted them (house default).

    55 % of the rating, rounded up. Count them when it matters: each cut ply is a larger share of fewer plies.
    """
    return -(-PLIES_PER_100 * ply_rating // 100)


def _plain(text: str) -> str:
    return " ".join(text.upper().split())
