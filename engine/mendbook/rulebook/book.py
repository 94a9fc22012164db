"""Open a rulebook: rules, limit tables, sources and vocabulary as one frozen value."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.rulebook.citations import Source, read_sources
from mendbook.rulebook.context import Context
from mendbook.rulebook.cover import COVER, NOT_COVERED, Cover, Stage, read_cover, read_referrals
from mendbook.rulebook.errors import RulebookError, refuse
from mendbook.rulebook.limits import LimitTable, read_table
from mendbook.rulebook.rule_file import read_rule
from mendbook.rulebook.tree import Rule
from mendbook.rulebook.vocabulary_file import read_vocabulary
from mendbook.terms.document import parse_document
from mendbook.terms.vocabulary import Vocabulary

TABLES = "limits"


@dataclass(frozen=True)
class Rulebook:
    """Everything a foreman owns, read and checked for form.

    `not_covered` are rules that the cover page makes: each holds a combination of facts and names who decides.
    `gaps_at` is the place of the cover page where such combinations are written.
    """

    edition: str
    date: str
    owner: str
    digest: str
    verdicts: tuple[str, ...]
    stages: tuple[Stage, ...]
    methods: Mapping[str, tuple[str, ...]]
    vocabulary: Vocabulary
    sources: Mapping[str, Source]
    rules: tuple[Rule, ...]
    tables: tuple[LimitTable, ...]
    not_covered: tuple[Rule, ...] = ()
    gaps_at: str = f"{COVER}:1"

    def rank(self, verdict: str) -> int:
        """Return the place of `verdict` on the scale, 0 for the mildest."""
        return self.verdicts.index(verdict)

    def rules_of(self, *stages: str) -> tuple[Rule, ...]:
        """Return the rules that speak in `stages`."""
        return tuple(rule for rule in (*self.rules, *self.not_covered) if rule.stage in stages)

    def by_id(self) -> dict[str, Rule]:
        """Return every rule that can speak, those of the cover page among them, by its id."""
        return {rule.id: rule for rule in (*self.rules, *self.not_covered)}

    def tables_giving(self, name: str) -> tuple[LimitTable, ...]:
        """Return the tables with a column called `name`. Raises RulebookError when there is none."""
        found = tuple(table for table in self.tables if name in table.gives)
        if not found:
            raise RulebookError(f"limits: no table gives '{name}', which is needed. Add it, or correct a 'gives:'.")
        return found


def open_book(rules: Traversable, knowledge: Traversable) -> Rulebook:
    """Read a rulebook from its two folders. Raises RulebookError (or DocumentError) with file and line."""
    cover, context = open_context(rules, knowledge)
    stage_of = {folder: stage.name for stage in cover.stages for folder in stage.folders}
    read: list[Rule] = []
    tables: list[LimitTable] = []
    digest = hashlib.sha256()
    for place, file in _files(rules, ""):
        written = file.read_bytes()
        document = parse_document(written, str(file))
        digest.update(f"{place}\0".encode() + written)
        top = place.split("/")[0]
        if place == COVER:
            continue
        if top == TABLES:
            tables.append(read_table(document, context))
        elif top in stage_of:
            read.append(read_rule(document, place.removesuffix(".yaml"), stage_of[top], context))
        else:
            raise refuse(document, (), f"the folder '{top}' belongs to no stage", f"Name it in {COVER} under stages.")
    for place, file in _files(knowledge, ""):
        digest.update(f"{place}\0".encode() + file.read_bytes())
    return Rulebook(
        edition=cover.edition, date=cover.date, owner=cover.owner,
        digest=digest.hexdigest(), verdicts=context.verdicts, stages=cover.stages, methods=cover.methods,
        vocabulary=context.vocabulary, sources=context.sources, rules=tuple(read), tables=tuple(tables),
        not_covered=read_referrals(cover, context),
        gaps_at=f"{cover.document.name}:{cover.document.line((NOT_COVERED,))}",
    )  # fmt: skip


def open_context(rules: Traversable, knowledge: Traversable) -> tuple[Cover, Context]:
    """Return the cover page and what rules and tables may refer to, without reading one of them.

    Raises RulebookError (or DocumentError) with file and line.
    """
    cover = read_cover(rules)
    for name in ("vocabulary", "sources"):
        if not knowledge.joinpath(name).is_dir():
            raise RulebookError(f"{knowledge}: no folder '{name}' here. A rulebook needs a vocabulary and its sources.")
    vocabulary = read_vocabulary(knowledge.joinpath("vocabulary"))
    names = [stage.name for stage in cover.stages]
    for fact in vocabulary:
        if fact.stage and fact.stage not in names:
            raise RulebookError(
                f"{fact.file}:{fact.at}: '{fact.name}' names the stage '{fact.stage}', which the cover page has not\n"
                f"  Write one of: {', '.join(names)}."
            )
    return cover, Context(
        vocabulary=vocabulary,
        sources=read_sources(knowledge.joinpath("sources")),
        verdicts=cover.verdicts,
        methods=tuple(name for names in cover.methods.values() for name in names),
    )


def _files(folder: Traversable, prefix: str) -> Iterator[tuple[str, Traversable]]:
    for entry in sorted(folder.iterdir(), key=lambda e: e.name):
        if entry.is_dir():
            yield from _files(entry, f"{prefix}{entry.name}/")
        elif entry.name.endswith(".yaml"):
            yield f"{prefix}{entry.name}", entry
        elif entry.name.endswith(".yml"):
            raise RulebookError(f"{entry}: this file would not be read. Rename it to end in '.yaml'.")
