"""Text that strangers wrote, made safe to print: no escape, no control character, no reversed direction."""

import re
import unicodedata

from rich.text import Text

LONGEST_NAME = 120  # characters; a name is there to tell one from another

_ESCAPE = re.compile(
    "\x1b\\[[0-?]*[ -/]*[@-~]"  # a colour, a cursor move
    "|(?:\x1b[\\]PX^_]).*?(?:\x07|\x1b\\\\|\x9c)"  # a window title, a link
    "|\x1b[ -/]*[0-~]"  # all shorter ones
    "|\x9b[0-?]*[ -/]*[@-~]",
    re.DOTALL,
)
_JOINERS = "\u200c\u200d"  # they belong to the spelling of Persian and Indic words
_HIDDEN = ("Cc", "Cf", "Cs", "Co", "Cn")


def plain(written: str) -> str:
    """Return `written` on one line, with only characters that can be seen.

    Marks that turn the direction of the text go, since they could make a sentence read otherwise than it was
    judged; letters that run from right to left stay.
    """
    visible = (_visible(character) for character in _ESCAPE.sub("", written))
    return " ".join("".join(visible).split())


def _visible(character: str) -> str:
    if character.isspace():
        return " "
    if character in _JOINERS or unicodedata.category(character) not in _HIDDEN:
        return character
    return ""


def short(name: str, longest: int = LONGEST_NAME) -> str:
    """Return the name `name`, plain, and cut where it is longer than `longest` characters."""
    said = plain(name)
    return said if len(said) <= longest else f"{said[: longest - 1]}…"


def line(written: str, style: str = "") -> Text:
    """Return `written` as a printable paragraph that folds rather than runs over the edge."""
    return Text(plain(written), style=style, overflow="fold")


def verbatim(written: str) -> Text:
    """Return the text of a file, line by line as it stands, set in a little, with only characters that can be seen."""
    lines = (f"{' ' * (len(one) - len(one.lstrip(' ')))}{plain(one)}" for one in written.splitlines())
    return Text("\n".join(f"    {one}" for one in lines), overflow="fold")


def sentence(written: str) -> str:
    """Return `written` as a sentence: with a capital and a full stop."""
    said = plain(written)
    if not said:
        return ""
    begun = said[0].upper() + said[1:]
    return begun if begun[-1] in ".!?…" else f"{begun}."
