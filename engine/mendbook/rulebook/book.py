"""Open a rulebook: rules, limit tables, sources and vocabulary as one frozen value."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from importlib.resources.abc import Traversable

from mendbook.rulebook.citations import read_sources
from mendbook.rulebook.clauses import add_clauses
from mendbook.rulebook.context import Context
from mendbook.rulebook.cover import COVER, NOT_COVERED, Cover, Stage, read_cover, read_referrals
from mendbook.rulebook.errors import RulebookError, refuse
from mendbook.rulebook.files import Written, digest, read_files
from mendbook.rulebook.layer import ENDING, OWN, SOURCES, TABLES, VOCABULARY, OwnBook, lay_over
from mendbook.rulebook.limits import LimitTable, read_table
from mendbook.rulebook.rule_file import read_rule
from mendbook.rulebook.source import Source
from mendbook.rulebook.tree import Rule
from mendbook.rulebook.vocabulary_file import read_vocabulary
from mendbook.terms.vocabulary import Vocabulary


@dataclass(frozen=True)
class Rulebook:
    """Everything a foreman owns, read and checked for form.

    `not_covered` are rules that the cover page makes: each holds a combination of facts and names who decides.
    `gaps_at` is the place of the cover page where such combinations are written.
    `own` is the shop's own book that is laid over it, None when there is none; edition, date, owner and digest are
    those of the book beneath.
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
    own: OwnBook | None = None

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


def open_book(rules: Traversable, knowledge: Traversable, own: Traversable | None = None) -> Rulebook:
    """Read a rulebook from its two folders, with the shop's own book in the folder `own` laid over it.

    Nobody asks here whether the own book may say less; `proof.permission` does.
    Raises RulebookError (or DocumentError) with file and line.
    """
    cover, context = open_context(rules, knowledge, own)
    sources = add_clauses(knowledge.joinpath(SOURCES), context.sources, context)
    if own is not None and own.joinpath(SOURCES).is_dir():
        sources = add_clauses(own.joinpath(SOURCES), sources, context)
    written = read_files(rules)
    files = {place: file for place, file in written.items() if place != COVER}
    own_book: OwnBook | None = None
    not_covered, page = read_referrals(cover, context), cover.document
    if own is not None:
        own_book, files = lay_over(own, cover, files)
        page = own_book.cover
        said = {rule.name for rule in not_covered}  # a copied cover page says the same again
        more = read_referrals(replace(cover, document=page), context, OWN)
        not_covered += tuple(rule for rule in more if rule.name not in said)
    read, tables = _read(files, cover, context, is_own=own_book is not None)
    if own is not None:
        tables = tuple(_with_direction(table, written, context) for table in tables)
    return Rulebook(
        edition=cover.edition, date=cover.date, owner=cover.owner,
        digest=digest(written, read_files(knowledge)), verdicts=context.verdicts, stages=cover.stages,
        methods=cover.methods, vocabulary=context.vocabulary, sources=sources, rules=read, tables=tables,
        not_covered=not_covered, gaps_at=f"{page.name}:{page.line((NOT_COVERED,))}", own=own_book,
    )  # fmt: skip


def open_context(
    rules: Traversable, knowledge: Traversable, own: Traversable | None = None
) -> tuple[Cover, Context]:  # fmt: skip
    """Return the cover page and what rules and tables may refer to, without reading one of them.

    Raises RulebookError (or DocumentError) with file and line.
    """
    cover = read_cover(rules)
    if own is not None and not own.joinpath(COVER).is_file():
        raise RulebookError(f"{own}: no {COVER} here. A rulebook folder begins with its cover page {COVER}.")
    for name in (VOCABULARY, SOURCES):
        if not knowledge.joinpath(name).is_dir():
            raise RulebookError(f"{knowledge}: no folder '{name}' here. A rulebook needs a vocabulary and its sources.")
    vocabulary, sources = read_vocabulary(knowledge.joinpath(VOCABULARY)), read_sources(knowledge.joinpath(SOURCES))
    if own is not None and own.joinpath(VOCABULARY).is_dir():
        vocabulary = read_vocabulary(own.joinpath(VOCABULARY), vocabulary)
    if own is not None and own.joinpath(SOURCES).is_dir():
        sources = read_sources(own.joinpath(SOURCES), sources)
    names = [stage.name for stage in cover.stages]
    for fact in vocabulary:
        if fact.stage and fact.stage not in names:
            raise RulebookError(
                f"{fact.file}:{fact.at}: '{fact.name}' names the stage '{fact.stage}', which the cover page has not\n"
                f"  Write one of: {', '.join(names)}."
            )
    methods = tuple(name for names in cover.methods.values() for name in names)
    return cover, Context(vocabulary, sources, cover.verdicts, methods)


def _with_direction(table: LimitTable, beneath: Mapping[str, Written], context: Context) -> LimitTable:
    """Return an own table with what the one beneath it declares stricter, where it says nothing of that itself."""
    file = beneath.get(f"{table.id}{ENDING}")
    if table.stricter or file is None:
        return table
    return replace(table, stricter=read_table(file.parse(), table.id, context).stricter)


def _read(
    files: Mapping[str, Written], cover: Cover, context: Context, *, is_own: bool
) -> tuple[tuple[Rule, ...], tuple[LimitTable, ...]]:
    stage_of = {folder: stage.name for stage in cover.stages for folder in stage.folders}
    rules: list[Rule] = []
    tables: list[LimitTable] = []
    for place, file in files.items():
        document, top, name = file.parse(), place.split("/")[0], place.removesuffix(ENDING)
        if top == TABLES:
            tables.append(read_table(document, name, context))
        elif top in stage_of:
            rules.append(read_rule(document, name, stage_of[top], context))
        else:
            folders = ", ".join((*stage_of, TABLES, VOCABULARY, SOURCES))
            hint = f"An own book uses these folders: {folders}." if is_own else f"Name it in {COVER} under stages."
            raise refuse(document, (), f"the folder '{top}' belongs to no stage", hint)
    return tuple(rules), tuple(tables)
