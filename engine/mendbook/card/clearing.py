"""How a look is recorded once it is done, in words."""

from collections.abc import Iterable, Sequence

from mendbook.card.lettering import plain, short
from mendbook.card.wording import listed
from mendbook.terms.docket import Entry, Finding

_TYRE = "tyre"


def clearing_words(findings: Iterable[Finding], hold: str) -> str:
    """Return how to record that the hold with the sentence `hold` is done; empty when no finding says how."""
    asking = [finding for finding in findings if "hold" in finding.says and finding.text == hold]
    ways = dict.fromkeys(way for finding in asking for way in finding.cleared_by)
    if not ways:
        return ""
    names = tuple(dict.fromkeys(short(finding.about, 30) for finding in asking if finding.about != _TYRE))
    told = ", or ".join(_way(way, names) for way in ways)
    return f"When done, write {told} in the case."


def _way(way: Sequence[Entry], names: Sequence[str]) -> str:
    return listed(_entry(entry, names) for entry in way)


def _entry(entry: Entry, names: Sequence[str]) -> str:
    field, value = plain(entry.field), plain(entry.value)
    where = f" under '{plain(entry.section)}:'" if entry.section else ""
    if entry.section == "injuries":
        where = f" for injury {listed(names)}"
    if entry.field != entry.fact:
        return f"'{field}:' anew{where} ({plain(entry.fact)}: {value})"
    is_one = " or " not in value and not any(character.isdigit() for character in value)
    return f"'{field}: {value}'{where}" if is_one else f"'{field}:' anew{where} ({value})"
