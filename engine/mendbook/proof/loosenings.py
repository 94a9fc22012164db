"""Where a shop's own book says less than the book beneath it."""

from collections.abc import Iterator
from dataclasses import dataclass

from mendbook.proof.cell_changes import CellChange, find_cell_changes
from mendbook.proof.looser import LAW, Less, Scale, find_less
from mendbook.proof.region import spell_box
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Vocabulary


@dataclass(frozen=True)
class Loosening:
    """One region in which the rule or table at `place` says less.

    `where` is the file and line that say so, `what` is lost in which region, and `bound` why nobody can allow it: ""
    when somebody can.
    """

    place: str
    where: str
    what: str
    bound: str = ""


def find_loosenings(beneath: Rulebook, book: Rulebook) -> Iterator[Loosening]:
    """Yield every region in which `book`, laid over `beneath`, says less than it, rules first."""
    scale = scale_of(beneath)
    rules = {rule.id: rule for rule in book.rules}
    for rule in beneath.rules:
        now = rules.get(rule.id)
        if now is None or (book.own and rule.id in book.own.places):
            for less in find_less(rule, now, scale):
                yield _of_rule(rule, now, less, scale, book)
    for change in find_cell_changes(beneath.tables, book.tables, beneath.vocabulary):
        if change.is_looser:
            where, table = f"{change.table.file}:{change.at}", change.table
            bound = "Law cannot be loosened, by nobody." if table.source.source in scale.laws else ""
            yield Loosening(table.id, where, f"'{table.id}': {spell_change(change, book.vocabulary)}", bound)


def scale_of(book: Rulebook) -> Scale:
    """Return what the outcomes of `book` are measured by."""
    laws = frozenset(name for name, source in book.sources.items() if source.kind == LAW)
    return Scale(book.verdicts, book.vocabulary, laws)


def spell_change(change: CellChange, vocabulary: Vocabulary) -> str:
    """Return a change in words: `load goes from 90 to 95 kg for kind: ash, looser`."""
    unit, box = f" {change.table.unit}".rstrip(), spell_box(change.box, vocabulary)
    if change.then is None:
        return f"{change.name} is given as {change.now:g}{unit} for {box}, where nothing limited it so"
    if change.now is None:
        return f"{change.name} of {change.then:g}{unit} is no longer given for {box}"
    way = {True: "stricter", False: "looser", None: "not known which way is stricter, so it counts as looser"}
    return f"{change.name} goes from {change.then:g} to {change.now:g}{unit} for {box}, {way[change.is_stricter]}"


def _of_rule(rule: Rule, now: Rule | None, less: Less, scale: Scale, book: Rulebook) -> Loosening:
    if now is not None:
        where = f"{now.file}:{(less.now or now.lines[0]).at}"
    else:
        where = f"{book.own.cover.name}:{book.own.withdrawn.get(rule.id, 1)}" if book.own else rule.file
    line = less.then
    bound = ""
    if line.outcome.stop:
        bound = "A stop"
    elif scale.rests_on_law(line) or rule.id.startswith(f"{LAW}/"):
        bound = "Law"
    if bound:
        bound = (
            f"{bound} cannot be loosened, by nobody: {rule.file}:{line.at} rests on "
            f"{line.sources[0].source}, {line.sources[0].place}."
        )
    region = spell_box(less.box, book.vocabulary)
    return Loosening(rule.id, where, f"'{rule.id}' lacks {' and '.join(less.lacks)} for {region}", bound)
