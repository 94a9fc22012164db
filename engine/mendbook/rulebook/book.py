"""Open a rulebook: rules, limit tables, sources and vocabulary as one frozen value."""

from collections.abc import Mapping
from dataclasses import dataclass, replace
from functools import lru_cache
from importlib.resources.abc import Traversable
from types import MappingProxyType

from mendbook.rulebook.citations import read_sources
from mendbook.rulebook.clauses import add_clauses
from mendbook.rulebook.context import Context
from mendbook.rulebook.cover import COVER, NOT_COVERED, Cover, Stage, find_cover, read_cover, read_referrals
from mendbook.rulebook.errors import RulebookError, refuse
from mendbook.rulebook.files import Folders, Written, files_in, read_folders
from mendbook.rulebook.layer import ENDING, OWN, SOURCES, TABLES, VOCABULARY, OwnBook, lay_over
from mendbook.rulebook.limits import LimitTable, read_table
from mendbook.rulebook.rule_file import read_rule
from mendbook.rulebook.source import Source
from mendbook.rulebook.tree import Rule
from mendbook.rulebook.vocabulary_file import read_vocabulary
from mendbook.terms.vocabulary import Vocabulary

KEPT = 8  # books that stay open in a process; a review by an own book beside another one needs three


@dataclass(frozen=True, eq=False)
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
    """Return the rulebook in two folders, with the shop's own book in the folder `own` laid over it.

    While every file is as it was, the book of the last time is returned.
    Nobody asks here whether the own book may say less; `proof.permission` does.
    Raises RulebookError (or DocumentError) with file and line.
    """
    return _read_book(_read_folders(rules, knowledge, own))


def open_context(
    rules: Traversable, knowledge: Traversable, own: Traversable | None = None
) -> tuple[Cover, Context]:  # fmt: skip
    """Return the cover page and what rules and tables may refer to, without understanding one of them.

    Raises RulebookError (or DocumentError) with file and line.
    """
    return _read_context(_read_folders(rules, knowledge, own))


def _read_folders(rules: Traversable, knowledge: Traversable, own: Traversable | None) -> Folders:
    folders = read_folders(rules, knowledge, own)
    for name in (VOCABULARY, SOURCES):
        if not files_in(name, folders.knowledge):
            raise RulebookError(f"{knowledge}: no folder '{name}' here. A rulebook needs a vocabulary and its sources.")
    return folders


@lru_cache(maxsize=KEPT)
def _read_book(folders: Folders) -> Rulebook:
    cover, context = _read_context(folders)
    sources = add_clauses(files_in(SOURCES, folders.knowledge), context.sources, context)
    files = {place: file for place, file in folders.rules.items() if place != COVER}
    own_book: OwnBook | None = None
    not_covered, page = read_referrals(cover, context), cover.document
    if folders.own is not None:
        sources = add_clauses(files_in(SOURCES, folders.own), sources, context)
        own_book, files = lay_over(folders.own, folders.digests[1], cover, files)
        page = own_book.cover
        said = {rule.name for rule in not_covered}  # a copied cover page says the same again
        more = read_referrals(replace(cover, document=page), context, OWN)
        not_covered += tuple(rule for rule in more if rule.name not in said)
    read, tables = _read(files, cover, context, is_own=own_book is not None)
    if own_book is not None:
        places = own_book.places
        beneath = {at: file for at, file in folders.rules.items() if at.removesuffix(ENDING) in places}
        own_book = replace(own_book, replaced=_read(beneath, cover, context, is_own=False)[0])
        tables = tuple(_with_direction(table, folders.rules, context) for table in tables)
    return Rulebook(
        edition=cover.edition, date=cover.date, owner=cover.owner, digest=folders.digests[0],
        verdicts=context.verdicts, stages=cover.stages, methods=MappingProxyType(cover.methods),
        vocabulary=context.vocabulary, sources=MappingProxyType(sources), rules=read, tables=tables,
        not_covered=not_covered, gaps_at=f"{page.name}:{page.line((NOT_COVERED,))}", own=own_book,
    )  # fmt: skip


def _read_context(folders: Folders) -> tuple[Cover, Context]:
    cover = read_cover(find_cover(folders.names[0], folders.rules))
    vocabulary = read_vocabulary(files_in(VOCABULARY, folders.knowledge))
    sources = read_sources(files_in(SOURCES, folders.knowledge))
    if folders.own is not None:
        find_cover(folders.names[-1], folders.own)
        vocabulary = read_vocabulary(files_in(VOCABULARY, folders.own), vocabulary)
        sources = read_sources(files_in(SOURCES, folders.own), sources)
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
