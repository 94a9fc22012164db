"""The parts of the summary of a review: what stands in them, whoever lays them out."""

from collections.abc import Iterator
from math import ceil

from mendbook.card.lettering import plain, sentence, short
from mendbook.card.wording import KINDS, listed
from mendbook.card.yard.blocking import blocking
from mendbook.card.yard.note import Note
from mendbook.card.yard.tables import LONGEST, Part, Table, count_table, joined, share_words, verdict_table
from mendbook.rulebook.sentences import spell_value
from mendbook.terms.answers import answer_words, verdict_words
from mendbook.terms.docket import Outcome
from mendbook.yard.summary import AROUND, Near, Summary, Work, ranked

OUTCOMES: tuple[Outcome, ...] = ("stop", "reject", "hold", "repair", "serve")
AS_READ = (
    "Verdicts are of the readings as written, also of tyres on hold. Stopped ones have none: people come first there."
)
NOBODY = "no source"


def parts(summary: Summary, note: Note) -> Iterator[Part]:
    """Yield the parts that have something to say, the answer first."""
    every = (
        _rows(summary), _outcomes(summary), _overruled(summary), *_groups(summary, note), _blocks(summary, note),
        _missing(summary), _near(summary, note), _work(summary, note), _pieces(summary, note), _fallen(summary),
        _quarantine(summary, note),
    )  # fmt: skip
    yield from (part for part in every if part is not None)


def _rows(summary: Summary) -> Part:
    says = (
        f"{summary.rows} rows came in: {summary.decided} decided, {summary.undecided} undecided and "
        f"{summary.quarantined} in quarantine. They add up; no row is lost."
        if summary.adds_up
        else f"THE ROWS DO NOT ADD UP: {summary.rows} came in, "
        f"{summary.decided + summary.undecided + summary.quarantined} came out. Rely on none of this.",
        "A row is one injury, or one tyre that has none.",
    )
    rows = (
        ("came in", summary.rows), ("decided", summary.decided), ("undecided: on hold", summary.undecided),
        ("in quarantine: not judged", summary.quarantined),
    )  # fmt: skip
    return Part("rows", "Rows", says, Table(("Rows", "number"), tuple((what, f"{number}") for what, number in rows)))


def _outcomes(summary: Summary) -> Part | None:
    found, whole = summary.tyres.outcomes, summary.tyres.number
    if not whole:
        return None
    rows = (
        (outcome, _meaning(outcome), f"{found[outcome]}", share_words(found[outcome], whole))
        for outcome in OUTCOMES
        if outcome in found
    )
    says = f"{whole} tyres with {summary.injuries.number} injuries were judged."
    return Part("outcomes", "Tyres", (says,), Table(("Outcome", "which means", "tyres", "share"), tuple(rows), words=2))


def _meaning(outcome: Outcome) -> str:
    return "Repair within the limits of its plan." if outcome == "repair" else answer_words(outcome, None, None)


def _overruled(summary: Summary) -> Part | None:
    if not summary.overruled:
        return None
    says = (
        f"Tyres of which a person overruled a reject of the house's own: {summary.overruled}. It counts as the largest "
        "repair, and whoever overruled it answers for it.",
    )
    heads = ("Tag", "injury", "row", "rule", "by", "on", "why", "outcome")
    rows = tuple(
        (
            short(one.tag, LONGEST), short(one.name, LONGEST) or "tyre", f"{one.row}", plain(one.rule),
            short(one.by, LONGEST), plain(one.on), sentence(short(one.why, 120)), one.outcome,
        )
        for one in summary.let_go
    )  # fmt: skip
    return Part("overruled", "Overruled", says, Table(heads, rows, words=8))


def _groups(summary: Summary, note: Note) -> Iterator[Part]:
    told = (
        ("sizes", "Verdicts by size", "Size", summary.sizes, "tyres"),
        ("zones", "Verdicts by zone", "Zone", summary.zones, "injuries"),
        ("causes", "Verdicts by cause", "Cause", summary.causes, "injuries"),
        ("duties", "Verdicts by duty", "Duty", summary.duties, "tyres"),
    )
    says: tuple[str, ...] = (AS_READ,)  # once
    for key, title, what, groups, unit in told:
        if groups:
            yield Part(key, title, says, verdict_table(what, groups, note.book.verdicts, unit))
            says = ()


def _blocks(summary: Summary, note: Note) -> Part | None:
    found = blocking(summary, note.book)
    rows = tuple((one.what, one.name, one.says, f"{one.number}") for one in found)
    says = joined(
        (
            "A tyre that several rules hold counts with each.",
            f"Of {summary.open} tyres on hold the readings leave the verdict open." if summary.open else "",
            f"For {summary.lacking} tyres on hold the kit is lacking." if summary.lacking else "",
        )
    )
    if not (rows or summary.open or summary.lacking):
        return None
    return Part("blocks", "What blocks", (says,), Table(("Says", "rule", "in its words", "tyres"), rows, words=3))


def _missing(summary: Summary) -> Part | None:
    if not summary.missing:
        return None
    fact, number = ranked(summary.missing)[0]
    says = f"Most often wanted: {plain(fact)}, for {number} tyres. Of each tyre the most telling few count."
    return Part("missing", "To measure next", (says,), count_table("Fact", "tyres", summary.missing))


def _near(summary: Summary, note: Note) -> Part | None:
    if not summary.near:
        return None
    number = sum(sum(bins.values()) for bins in summary.around.values())
    says = (
        f"{number} injuries that decide their tyre lie within {AROUND} % of the limit it was decided by, on either "
        "side. The nearest are listed, a few for each limit: measure them again before you cut or scrap.",
    )
    heads = ("Tag", "injury", "row", "limit", "room", "verdict", "outcome")
    return Part("near", "Near a limit", says, Table(heads, tuple(_nearby(one, note) for one in summary.near), words=7))


def _nearby(one: Near, note: Note) -> tuple[str, ...]:
    return (
        short(one.tag, LONGEST), short(one.name, LONGEST), f"{one.row}", plain(one.limit), room_words(one, note),
        verdict_words(one.verdict or None), one.outcome,
    )  # fmt: skip


def room_words(one: Near, note: Note) -> str:
    """Return the room left to a limit: 'on the limit', '2 mm inside', '1 mm outside'."""
    if not one.room:
        return "on the limit"
    vocabulary = note.book.vocabulary
    room = abs(one.room)
    said = spell_value(vocabulary[one.fact], room) if one.fact in vocabulary else f"{room:g}"
    return f"{said} {'outside' if one.room < 0 else 'inside'}"


def _work(summary: Summary, note: Note) -> Part | None:
    if not summary.work:
        return None
    ready, waiting = (summary.work.get(outcome, {}) for outcome in ("repair", "hold"))
    weekly = note.hours_a_week * 3600
    rows = tuple(
        (kit, *_repairs(ready.get(kit)), *_repairs(waiting.get(kit)), *_weeks(ready.get(kit), weekly))
        for kit in sorted({*ready, *waiting})
    )
    seconds = sum(work.bench_s for work in ready.values())
    untimed = sum(work.untimed for by_kit in summary.work.values() for work in by_kit.values())
    says = joined(
        (
            f"Repairs that may begin keep one bench busy for {_decimal(seconds / weekly)} weeks of "
            f"{note.hours_a_week:g} h heating and clamped; {ceil(seconds / weekly)} benches do them within a week.",
            f"{untimed} repairs have no time and stand in no sum of hours." if untimed else "",
        )
    )
    heads = ("Kit", "repairs", "hours of heat", "if released", "hours of heat", "weeks of one bench")
    return Part("work", "Kit and time", (says,), Table(heads, rows))


def _pieces(summary: Summary, note: Note) -> Part | None:
    if not summary.pieces:
        return None
    weekly = note.hours_a_week * 3600
    needed = {name: max(piece.at_once, ceil(piece.busy_s / weekly)) for name, piece in summary.pieces.items()}
    rows = tuple(
        (name, f"{piece.repairs}", f"{piece.at_once}", _decimal(piece.busy_s / 3600), f"{needed[name]}")
        for name, piece in sorted(summary.pieces.items(), key=lambda one: (-one[1].repairs, one[0]))
    )
    says = (
        f"To do all repairs that may begin within one week of {note.hours_a_week:g} h, so many of each piece would be "
        "busy; never fewer than one repair takes at once."
    )
    heads = ("Piece", "repairs", "on one repair", "hours busy", "for one week")
    return Part("pieces", "Kit by size", (says,), Table(heads, rows))


def _repairs(work: Work | None) -> tuple[str, str]:
    return ("0", "0") if work is None else (f"{work.repairs}", _decimal(work.heat_s / 3600))


def _weeks(work: Work | None, weekly: float) -> tuple[str]:
    return (_decimal(work.bench_s / weekly) if work else "0",)


def _decimal(number: float) -> str:
    return f"{number:.1f}".removesuffix(".0")


def _fallen(summary: Summary) -> Part | None:
    if not summary.fallen:
        return None
    named = {plain(KINDS.get(kind, kind)) or NOBODY: number for kind, number in summary.fallen.items()}
    whole = sum(named.values())
    told = listed(f"{number} by {kind}" for kind, number in ranked(named))
    return Part(
        "fallen", "What rejected tyres fall by", (f"Of {whole} rejected tyres: {told}.",),
        count_table("Kind of source", "tyres", named),
    )  # fmt: skip


def _quarantine(summary: Summary, note: Note) -> Part | None:
    if not summary.quarantined:
        return None
    where = f" They stand in {plain(note.quarantine)} with what to write instead." if note.quarantine else ""
    says = f"{summary.quarantined} rows were not judged.{where} Each column with its first fault:"
    found = sorted(summary.faults.items(), key=lambda item: (-item[1].number, item[0]))
    rows = tuple(
        (
            short(column, LONGEST) or "whole row",
            f"row {fault.row}: {sentence(short(fault.words, 300))}",
            f"{fault.number}",
        )
        for column, fault in found
    )
    return Part("quarantine", "Quarantine", (says,), Table(("Column", "first fault", "faults"), rows, words=2))
