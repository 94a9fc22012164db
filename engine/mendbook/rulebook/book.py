"""Open a rulebook: rules, limit tables, sources and vocabulary as one frozen value."""

import hashlib
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.rulebook.citations import Source, read_sources
from mendbook.rulebook.context import Context
from mendbook.rulebook.errors import RulebookError, refuse
from mendbook.rulebook.limits import LimitTable, read_table
from mendbook.rulebook.rule_file import read_rule
from mendbook.rulebook.tree import Bound, Op, Rule
from mendbook.rulebook.vocabulary_file import read_vocabulary
from mendbook.terms.document import Document, parse_document, read_document
from mendbook.terms.vocabulary import Vocabulary

COVER = "rulebook.yaml"
TABLES = "limits"
REFER_TO = "refer to"


@dataclass(frozen=True)
class Stage:
    """A pass of the inference: the folders whose rules speak in it."""

    name: str
    folders: tuple[str, ...]


@dataclass(frozen=True)
class Rulebook:
    """Everything a foreman owns, read and checked for form."""

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
    not_covered: tuple[tuple[Bound, ...], ...] = ()

    def rank(self, verdict: str) -> int:
        """Return the place of `verdict` on the scale, 0 for the mildest."""
        return self.verdicts.index(verdict)

    def rules_of(self, *stages: str) -> tuple[Rule, ...]:
        """Return the rules that speak in `stages`."""
        return tuple(rule for rule in self.rules if rule.stage in stages)

    def tables_giving(self, name: str) -> tuple[LimitTable, ...]:
        """Return the tables with a column called `name`."""
        return tuple(table for table in self.tables if name in table.gives)


def open_book(rules: Traversable, knowledge: Traversable) -> Rulebook:
    """Read a rulebook from its two folders. Raises RulebookError (or DocumentError) with file and line."""
    if not rules.joinpath(COVER).is_file():
        raise RulebookError(f"{rules}: no {COVER} here. A rulebook folder begins with its cover page {COVER}.")
    cover = read_document(rules.joinpath(COVER))
    tree = cover.tree
    for key in ("edition", "date", "owner", "verdicts", "stages", "methods"):
        if key not in tree:
            raise refuse(cover, (), f"the cover page does not say '{key}'", f"Add the line '{key}: ...'.")
    for name in ("vocabulary", "sources"):
        if not knowledge.joinpath(name).is_dir():
            raise RulebookError(f"{knowledge}: no folder '{name}' here. A rulebook needs a vocabulary and its sources.")
    stages = tuple(Stage(name, folders) for name, folders in _lists(cover, "stages").items())
    methods = _lists(cover, "methods")
    verdicts = tree["verdicts"]
    if not isinstance(verdicts, list) or len(verdicts) < 2 or len(set(map(str, verdicts))) < len(verdicts):
        raise refuse(cover, ("verdicts",), "verdicts is a list from mild to severe, each once: [a, b, c]")
    context = Context(
        vocabulary=read_vocabulary(knowledge.joinpath("vocabulary")),
        sources=read_sources(knowledge.joinpath("sources")),
        verdicts=tuple(map(str, verdicts)),
        methods=tuple(name for names in methods.values() for name in names),
    )
    stage_of = {folder: stage.name for stage in stages for folder in stage.folders}
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
        edition=str(tree["edition"]), date=str(tree["date"]), owner=str(tree["owner"]),
        digest=digest.hexdigest(), verdicts=context.verdicts, stages=stages, methods=methods,
        vocabulary=context.vocabulary, sources=context.sources, rules=tuple(read), tables=tuple(tables),
        not_covered=_not_covered(cover, context),
    )  # fmt: skip


def _not_covered(cover: Document, context: Context) -> tuple[tuple[Bound, ...], ...]:
    """Return the combinations of listed facts that the owner leaves to somebody else."""
    entry = cover.tree.get("not covered", [])
    if not isinstance(entry, list):
        raise refuse(cover, ("not covered",), "not covered is a list of combinations, each with a dash")
    combinations = []
    for place, row in enumerate(entry):
        path = ("not covered", place)
        if not isinstance(row, dict) or not row.get(REFER_TO) or len(row) == 1:
            example = f"Write '{{fact: value, {REFER_TO}: who decides instead}}'."
            raise refuse(cover, path, "this does not say which facts, and to whom the fitter turns", example)
        bounds = context.bounds(cover, path, {key: value for key, value in row.items() if key != REFER_TO})
        if any(bound.op is not Op.IN for bound in bounds):
            raise refuse(cover, path, "'not covered' takes listed facts only", "Leave the measure out.")
        combinations.append(bounds)
    return tuple(combinations)


def _lists(document: Document, key: str) -> dict[str, tuple[str, ...]]:
    """Return a map of lists of words."""
    entry = document.tree[key]
    if not isinstance(entry, dict):
        raise refuse(document, (key,), f"{key} is a map of names, each with a list: [a, b]")
    for name, words in entry.items():
        if not isinstance(words, list):
            raise refuse(document, (key, name), f"'{name}' needs a list: [a, b]")
    lists = {name: tuple(map(str, words)) for name, words in entry.items()}
    seen: set[str] = set()
    for name, word in ((name, word) for name, words in lists.items() for word in words):
        if word in seen:
            raise refuse(document, (key, name), f"'{word}' stands twice under {key}", "Keep one of the two.")
        seen.add(word)
    return lists


def _files(folder: Traversable, prefix: str) -> Iterator[tuple[str, Traversable]]:
    for entry in sorted(folder.iterdir(), key=lambda e: e.name):
        if entry.is_dir():
            yield from _files(entry, f"{prefix}{entry.name}/")
        elif entry.name.endswith(".yaml"):
            yield f"{prefix}{entry.name}", entry
        elif entry.name.endswith(".yml"):
            raise RulebookError(f"{entry}: this file would not be read. Rename it to end in '.yaml'.")
