"""The seal of a book: a listing of all it decides by, against which a slip of the hand stands out.

No check of form can tell that a limit of 60 mm was 50 mm yesterday, or that a rule is gone. The owner seals the book
when an edition is signed; from then on every change is told until somebody seals it anew, which says that it is meant.
"""

import hashlib
from collections.abc import Iterator
from dataclasses import astuple

from mendbook.proof.region import spell_box
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.limits import LimitTable
from mendbook.rulebook.tree import Rule
from mendbook.terms.vocabulary import Fact, Vocabulary

SEAL = "seal.txt"
HEAD = "# Written by 'mendbook rulebook seal'; 'mendbook rulebook check' tells what has changed since."
_BETWEEN, _MARK = " = ", " #"


def write_seal(book: Rulebook) -> str:
    """Return the seal of `book` as text, one line for each thing it decides by."""
    lines = [f"{name}{_BETWEEN}{said}" for name, said in sorted(listing(book).items())]
    return "\n".join([HEAD, f"# {book.edition}, {book.date}, {book.owner}", *lines, ""])


def find_changes(book: Rulebook, seal: str) -> Iterator[str]:
    """Yield one fault for each thing that is not as it was when `book` was sealed."""
    lines = [line for line in seal.splitlines() if line and not line.startswith("#")]
    if strange := next((line for line in lines if _BETWEEN not in line), ""):
        yield f"{SEAL}: '{strange[:40]}' is no line of a seal. Seal the book anew: 'mendbook rulebook seal'."
        return
    parted = (line.partition(_BETWEEN) for line in lines)
    sealed, now = {name: said for name, _, said in parted}, listing(book)
    for name in sorted(sealed.keys() | now.keys()):
        before, after = sealed.get(name, ""), now.get(name, "")
        if before != after:
            yield (
                f"{SEAL}: {name}: {_change(before, after)} since the book was sealed. "
                "If this is meant, seal it anew: 'mendbook rulebook seal'."
            )


def listing(book: Rulebook) -> dict[str, str]:
    """Return by name all that `book` decides by: limits and verdicts in plain words, sentences as a fingerprint."""
    listed = {
        "cover, verdicts": ", ".join(book.verdicts),
        **{f"cover, stage {stage.name}": ", ".join(stage.folders) for stage in book.stages},
        **{f"cover, method {name}": ", ".join(words) for name, words in book.methods.items()},
    }
    for rule in (*book.rules, *book.not_covered):
        listed |= _rule(rule, book.vocabulary)
    for table in book.tables:
        listed |= _table(table, book.vocabulary)
    for fact in book.vocabulary:
        listed[f"fact {fact.name}"] = _fact(fact)
    for name, source in book.sources.items():
        places = sorted((source.places or {}).items())
        words = (source.title, source.publisher, source.edition, source.link, *places)
        listed[f"source {name}"] = f"{source.kind}, {source.known}{_fingerprint(*words)}"
    return listed


def _rule(rule: Rule, vocabulary: Vocabulary) -> dict[str, str]:
    kind = "chart" if rule.is_chart else "when"
    listed = {f"rule {rule.id}": f"{rule.stage}, {kind}, for {spell_box(rule.applies, vocabulary)}"}
    for number, line in enumerate(rule.lines, 1):
        said = line.outcome
        says = [*said.words(), *filter(None, [said.verdict]), *said.rule_out, *(f"{n} {cap}" for n, cap in said.cap)]
        says += [f"cleared by {spell_box(way, vocabulary)}" for way in said.cleared_by]
        rests = "; ".join(f"{one.source}, {one.place}" for one in line.sources)
        words = _fingerprint(line.because, *astuple(said))
        listed[f"rule {rule.id}, line {number}"] = (
            f"{spell_box(line.bounds, vocabulary)}: {', '.join(says)} ({rests}){words}"
        )
    return listed


def _table(table: LimitTable, vocabulary: Vocabulary) -> dict[str, str]:
    about = f"{', '.join(table.gives)}, for {spell_box(table.applies, vocabulary)}"
    ways = "".join(f", {name} stricter when {way}" for name, way in table.stricter.items())
    listed = {f"table {table.name}": f"{about}{ways} ({table.source.source}, {table.source.place})"}
    for row in table.rows:
        numbers = " x ".join(f"{number:g}" for number in row.numbers)
        listed[f"table {table.name}, {spell_box(row.bounds, vocabulary)}"] = f"{numbers} {table.unit}".strip()
    return listed


def _fact(fact: Fact) -> str:
    runs = ", ".join(fact.values) if fact.is_listed else f"{fact.low:g} to {fact.high:g} {fact.unit}".strip()
    errors = [f"error {fact.error:g}"] * bool(fact.error) + [f"error share {fact.error_share:g}"] * bool(
        fact.error_share
    )
    errors += [f"error {error:g} when {name} is {value}" for name, value, error in fact.error_if]
    where = f"in {fact.section}, missing {fact.missing or 'unknown'}" if fact.section else "worked out"
    where += f" from {', '.join(fact.follows)}" if fact.follows else ""
    said = ", ".join([f"{fact.subject}", runs, f"worse when {fact.worse}", *errors, where])
    return said + _fingerprint(fact.means, fact.measure, *fact.synonyms, fact.stage, fact.changeable, fact.decimals)


def _change(before: str, after: str) -> str:
    if not before:
        return f"it is new ({after.partition(_MARK)[0]})"
    if not after:
        return f"it is gone (it was: {before.partition(_MARK)[0]})"
    old, new = before.partition(_MARK)[0], after.partition(_MARK)[0]
    return "its words read otherwise" if old == new else f"it was '{old}' and is '{new}'"


def _fingerprint(*words: object) -> str:
    return f"{_MARK}{hashlib.sha256(repr(words).encode()).hexdigest()[:8]}"
