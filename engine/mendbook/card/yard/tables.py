"""A table of words and numbers, before anybody lays it out."""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from mendbook.card.lettering import short
from mendbook.yard.summary import Tally, ranked

LONGEST = 60  # letters of a cell that a stranger wrote
NO_VERDICT = "stopped"


@dataclass(frozen=True)
class Table:
    """Rows of cells under their headings; `words` says how many columns from the left are words, not numbers."""

    heads: tuple[str, ...]
    rows: tuple[tuple[str, ...], ...]
    words: int = 1
    left_out: int = 0  # rows of the same kind that are not shown

    def first(self, number: int) -> "Table":
        """Return its first `number` rows."""
        more = max(0, len(self.rows) - number)
        return Table(self.heads, self.rows[:number], self.words, self.left_out + more)


@dataclass(frozen=True)
class Part:
    """One part of a summary. `key` names it, for the picture that goes with it."""

    key: str
    title: str
    says: tuple[str, ...] = ()
    table: Table | None = None
    listed: tuple[tuple[str, str], ...] = ()


def by_number(groups: Mapping[str, Tally]) -> list[tuple[str, Tally]]:
    """Return groups, the largest first."""
    return sorted(groups.items(), key=lambda item: (-item[1].number, item[0]))


def verdict_table(what: str, groups: Mapping[str, Tally], verdicts: Sequence[str], unit: str) -> Table:
    """Return a row for each group: how many there are, by verdict, and how many are on hold."""
    heads = (what, unit, *verdicts, NO_VERDICT, "on hold")
    rows = (
        (
            short(name, LONGEST),
            *(
                f"{number}"
                for number in (
                    tally.number,
                    *(tally.verdicts.get(verdict, 0) for verdict in (*verdicts, "")),
                    tally.outcomes.get("hold", 0),
                )
            ),
        )
        for name, tally in by_number(groups)
    )
    return Table(heads, tuple(rows))


def count_table(what: str, unit: str, counts: Mapping[str, int]) -> Table:
    """Return names with their counts, the most frequent first."""
    return Table((what, unit), tuple((short(name, LONGEST), f"{number}") for name, number in ranked(counts)))


def share_words(number: int, whole: int) -> str:
    """Return a share in whole percent: '12 %', 'under 1 %', 'over 99 %'; '' of nothing."""
    if not whole:
        return ""
    percent = round(100 * number / whole)
    if number and not percent:
        return "under 1 %"
    return "over 99 %" if percent == 100 and number < whole else f"{percent} %"


def joined(words: Iterable[str]) -> str:
    """Return sentences in a row, without the empty ones."""
    return " ".join(word for word in words if word)
