"""The cover page of a rulebook: edition, owner, scale, stages, methods, and what is left to somebody else."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mendbook.rulebook.context import Context
from mendbook.rulebook.errors import RulebookError, refuse, refuse_unknown_keys
from mendbook.rulebook.files import Written
from mendbook.rulebook.phrases import is_on_bad_side
from mendbook.rulebook.tree import Line, Op, Outcome, Rule
from mendbook.terms.document import Document
from mendbook.terms.vocabulary import Fact, Subject

COVER = "rulebook.yaml"
NOT_COVERED = "not covered"
REFER_TO = "refer to"
FRAME = ("verdicts", "stages", "methods")  # what every rule is written in; a shop's own book shares it
NEEDED = ("edition", "date", "owner", *FRAME)
COVER_KEYS = ("rulebook", *NEEDED, "asks", NOT_COVERED)


@dataclass(frozen=True)
class Stage:
    """A pass of the inference: the folders whose rules speak in it."""

    name: str
    folders: tuple[str, ...]


@dataclass(frozen=True)
class Cover:
    """The cover page, read and checked for form; `document` keeps its lines."""

    document: Document
    edition: str
    date: str
    owner: str
    verdicts: tuple[str, ...]
    stages: tuple[Stage, ...]
    methods: Mapping[str, tuple[str, ...]]


def find_cover(name: str, files: Mapping[str, Written]) -> Document:
    """Return the cover page among the `files` of the folder called `name`. Raises RulebookError or DocumentError."""
    if COVER not in files:
        raise RulebookError(f"{name}: no {COVER} here. A rulebook folder begins with its cover page {COVER}.")
    return files[COVER].parse()


def read_cover(document: Document) -> Cover:
    """Return the cover page that stands in `document`. Raises RulebookError with file and line."""
    tree = document.tree
    for key in NEEDED:
        if key not in tree:
            raise refuse(document, (), f"the cover page does not say '{key}'", f"Add the line '{key}: ...'.")
    refuse_unknown_keys(document, (), tree, COVER_KEYS, "a cover page")
    verdicts = tree["verdicts"]
    if not isinstance(verdicts, list) or len(verdicts) < 2 or len(set(map(str, verdicts))) < len(verdicts):
        raise refuse(document, ("verdicts",), "verdicts is a list from mild to severe, each once: [a, b, c]")
    return Cover(
        document=document,
        edition=str(tree["edition"]),
        date=str(tree["date"]),
        owner=str(tree["owner"]),
        verdicts=tuple(map(str, verdicts)),
        stages=tuple(Stage(name, folders) for name, folders in _lists(document, "stages").items()),
        methods=_lists(document, "methods"),
    )


def read_referrals(
    cover: Cover, context: Context, book: str = COVER.removesuffix(".yaml")
) -> tuple[Rule, ...]:  # fmt: skip
    """Return for each combination that the owner leaves to somebody else a rule that holds and names the person.

    Their ids begin with `book`. Raises RulebookError with file and line.
    """
    document = cover.document
    entry = document.tree.get(NOT_COVERED, [])
    if not isinstance(entry, list):
        raise refuse(document, (NOT_COVERED,), "not covered is a list of combinations, each with a dash")
    return tuple(_referral(cover, context, book, place, row) for place, row in enumerate(entry))


def _referral(cover: Cover, context: Context, book: str, place: int, row: object) -> Rule:
    document, path = cover.document, (NOT_COVERED, place)
    if not isinstance(row, dict) or not row.get(REFER_TO) or len(row) == 1:
        example = f"Write '{{fact: value, {REFER_TO}: who decides instead}}'."
        raise refuse(document, path, "this does not say which facts, and to whom the fitter turns", example)
    bounds = context.bounds(document, path, {key: value for key, value in row.items() if key != REFER_TO})
    facts = [context.vocabulary[bound.fact] for bound in bounds]
    for fact, bound in zip(facts, bounds, strict=True):
        if bound.op is not Op.IN:
            raise refuse(document, path, "'not covered' takes listed facts only", "Leave the measure out.")
        if not is_on_bad_side(fact, bound):
            raise refuse(
                document, (*path, fact.name), f"'{fact.name}' is worse when later, so what is worse is left out here",
                f"What nobody covers, nobody covers where it is worse: write 'at least {bound.values[0]}'.",
            )  # fmt: skip
    where = ", ".join(f"{bound.fact} {' or '.join(bound.values)}" for bound in bounds)
    held = Outcome(hold=f"Refer it to {row[REFER_TO]}: this rulebook does not cover {where}.")
    because = f"The owner of this rulebook leaves it to {row[REFER_TO]}."
    return Rule(
        id=f"{book}/{NOT_COVERED} {place + 1}", name=f"{NOT_COVERED}: {where}",
        asks="Who decides?", file=document.name, stage=_stage(cover, context, facts), applies=(),
        subject=Subject.INJURY if any(fact.subject is Subject.INJURY for fact in facts) else Subject.TYRE,
        lines=(Line(bounds, held, because, (), document.line(path)),), is_chart=False,
    )  # fmt: skip


def _stage(cover: Cover, context: Context, facts: Iterable[Fact]) -> str:
    """Return the stage from which on all `facts` are known: their own, or the last before any fact has one."""
    names = [stage.name for stage in cover.stages]
    own = [names.index(fact.stage) for fact in facts if fact.stage]
    later = [names.index(fact.stage) for fact in context.vocabulary if fact.stage]
    return names[max(own, default=max(0, min(later, default=len(names)) - 1))]


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
