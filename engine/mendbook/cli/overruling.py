"""Overrules given on the command line: they stand in the case as if its file had them."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from typing import TYPE_CHECKING

from mendbook.cli.refusals import RefusalError

if TYPE_CHECKING:
    from mendbook.terms.document import Document, Tree, Way

ENTRIES = "overrule"
AT = "@"  # between a rule and the injury


@dataclass(frozen=True)
class Given:
    """What the command line overrules: rules, each with its injury behind an @ where it names one; who, and why."""

    rules: Sequence[str] = ()
    by: str | None = None
    why: str | None = None

    def __post_init__(self) -> None:
        """Raise RefusalError where the three do not come together."""
        if self.rules and not (self.by and self.by.strip() and self.why and self.why.strip()):
            raise RefusalError("--overrule takes --by with the name of a person and --why with the reason.")
        if not self.rules and (self.by is not None or self.why is not None):
            raise RefusalError("--by and --why belong to --overrule RULE. Name the rule, or leave them out.")

    def add_to(self, document: "Document") -> "Document":
        """Return `document` with an entry more for each rule, of today."""
        if not self.rules:
            return document
        from mendbook.cli.documents import place
        from mendbook.terms.document import Document

        written = document.tree.get(ENTRIES) or []
        if not isinstance(written, list):
            raise RefusalError(f"{place(document, (ENTRIES,))}: this should be a list, each entry with a dash.")
        return Document(
            document.name, {**document.tree, ENTRIES: [*written, *map(self._entry, self.rules)]}, document.lines
        )

    def _entry(self, given: str) -> "Tree":
        rule, _, injury = given.partition(AT)
        entry: dict[str, Tree] = {
            "rule": rule.strip(), "by": str(self.by), "on": datetime.now(UTC).date().isoformat(), "why": str(self.why),
        }  # fmt: skip
        return entry | ({"injury": injury.strip()} if injury.strip() else {})

    def place(self, document: "Document", way: "Way") -> str:
        """Return where `way` stands: in the file, or on the command line."""
        from mendbook.cli.documents import place

        written = document.tree.get(ENTRIES, [])
        count = len(written) if isinstance(written, list) else 0
        at = way[1] if len(way) > 1 and way[0] == ENTRIES else None
        if isinstance(at, int) and self.rules and at >= count - len(self.rules):
            return f"--overrule {self.rules[at - count]}"
        return place(document, way)


NOTHING = Given()
