"""What the rules said, gathered for people: one finding for each line that spoke about one subject."""

from collections.abc import Callable, Collection, Iterable, Sequence
from dataclasses import dataclass, field

from mendbook.facts.origins import unknown_facts
from mendbook.facts.readings import BAD, GOOD, READ, Readings
from mendbook.facts.scenarios import INJURY, USE, VARIANT
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.phrases import spell_bounds
from mendbook.rulebook.sentences import LIMIT, fill, placeholders
from mendbook.rulebook.tree import Citation, Op, Outcome, Rule
from mendbook.terms.docket import Finding, SourceNote
from mendbook.terms.vocabulary import Fact, Subject, Worse
from mendbook.triage.clearing import entries
from mendbook.triage.evaluators import Sheet, Spoken
from mendbook.triage.overrulable import refusal
from mendbook.triage.ownership import approvals_behind, is_own

TYRE = "tyre"
READING_NAMES = {GOOD: "good", READ: "as read", BAD: "bad"}
KIND_ORDER = ("law", "standard", "guidance", "practice", "house")


@dataclass
class _Gathered:
    rule: Rule
    line: int
    about: str
    readings: set[int] = field(default_factory=set)
    uses: set[str] = field(default_factory=set)
    zones: dict[str, None] = field(default_factory=dict)
    sheet: Sheet | None = None
    row: int = 0
    shown: tuple[bool, int] | None = None

    def add(self, sheet: Sheet, row: int, wanted: Sequence[str]) -> None:
        """Take in one row; the facts shown are those as read in the use asked for."""
        variant, use = int(sheet.value(row, VARIANT)), str(sheet.value(row, USE))
        self.readings.add(variant)
        self.uses.add(use)
        if self.rule.subject is Subject.INJURY:
            self.zones[str(sheet.value(row, "zone"))] = None
        rank = (use in wanted, (GOOD, BAD, READ).index(variant))
        if self.shown is None or rank > self.shown:
            self.sheet, self.row, self.shown = sheet, row, rank


def find(spoken: Iterable[Spoken], readings: Readings, book: Rulebook) -> tuple[Finding, ...]:
    """Return one finding for each line that spoke, in the order of the stages."""
    gathered: dict[tuple[str, int, str], _Gathered] = {}
    for one in spoken:
        about = TYRE if one.rule.subject is Subject.TYRE else readings.names[int(one.sheet.value(one.row, INJURY))]
        key = (one.rule.id, one.line, about)
        if key not in gathered:
            gathered[key] = _Gathered(one.rule, one.line, about)
        gathered[key].add(one.sheet, one.row, readings.uses)
    unknown = {TYRE: unknown_facts(readings.tyre, book.vocabulary)}
    for name, reading in zip(readings.names, readings.injuries, strict=True):
        unknown[name] = unknown[TYRE] | unknown_facts(reading, book.vocabulary)
    return tuple(_finding(one, book, unknown[one.about]) for one in gathered.values())


def _finding(one: _Gathered, book: Rulebook, unknown: Collection[str]) -> Finding:
    line = one.rule.lines[one.line]
    outcome, vocabulary = line.outcome, book.vocabulary
    # A line without bounds is the end of a chart: what it says no to are the bounds of the line above.
    bounds = line.bounds or (one.rule.lines[one.line - 1].bounds if one.line else ())

    told = (outcome.stop, outcome.hold, line.because, *outcome.rule_out, *outcome.do, *outcome.caution)
    wanted = {bound.fact for bound in bounds} | {n for text in told if text for n in placeholders(text)} - {LIMIT}
    facts = {} if one.sheet is None else {name: one.sheet.value(one.row, name) for name in wanted}

    def said(sentence: str | None) -> str:
        return fill(sentence, facts, bounds, vocabulary, unknown) if sentence else ""

    return Finding(
        rule=one.rule.id,
        name=one.rule.name,
        line=line.at,
        about=one.about,
        zone=", ".join(one.zones),
        use=tuple(use for use in vocabulary["use"].values if use in one.uses),
        says=outcome.words(),
        verdict=outcome.verdict,
        text=said(outcome.stop or outcome.hold) or _told(outcome, said),
        cleared_by=entries(outcome, vocabulary),
        because=said(line.because),
        sources=tuple(source_note(citation, book) for citation in line.sources),
        own=is_own(one.rule, book),
        looser=approvals_behind(one.rule, book),
        may_be_overruled=outcome.verdict == book.verdicts[-1] and not refusal(one.rule, line, book),
        readings={READING_NAMES[code]: code in one.readings for code in (GOOD, READ, BAD)},
        limit={bound.fact: spell_bounds([bound]).removeprefix(f"{bound.fact} ") for bound in bounds},
        margin={
            bound.fact: round(_margin(vocabulary[bound.fact], bound.number, float(facts[bound.fact])), 3)
            for bound in bounds
            if bound.op is not Op.IN
        },
    )


def _told(outcome: Outcome, said: Callable[[str], str]) -> str:
    """Return what a line without hold or stop tells beside its verdict: methods, caps, steps, cautions."""
    caps = [f"{what} {limit}" for what, limit in outcome.cap]
    return "; ".join([*map(said, outcome.rule_out), *caps, *map(said, outcome.do), *map(said, outcome.caution)])


def _margin(fact: Fact, limit: float, value: float) -> float:
    """Return the room left to a limit, negative when the value is on its bad side."""
    return value - limit if fact.worse is Worse.SMALLER else limit - value


def source_note(citation: Citation, book: Rulebook) -> SourceNote:
    """Return a citation with what its source is."""
    source = book.sources[citation.source]
    return SourceNote(
        id=citation.source, place=citation.place, kind=source.kind, title=source.title,
        known=source.known_at(citation.place),
    )  # fmt: skip


def is_heard(finding: Finding, uses: Sequence[str]) -> bool:
    """Return whether a finding counts: for a use asked for, at the bad reading or as read."""
    return bool(set(finding.use) & set(uses)) and (finding.readings["bad"] or finding.readings["as read"])


def stop_sentences(findings: Iterable[Finding], readings: Readings, book: Rulebook) -> tuple[str, ...]:
    """Return what must be done first, one sentence for each stop that was heard.

    A stop that stands only because the case does not answer a question says which question.
    """
    rules = book.by_id()
    sentences: dict[str, None] = {}
    for finding in findings:
        if "stop" not in finding.says or not is_heard(finding, readings.uses):
            continue
        unanswered = [
            name for name in sorted(rules[finding.rule].facts()) if len(readings.tyre.listed.get(name, ())) > 1
        ]
        asks = "; ".join(f"{name}: {book.vocabulary[name].measure}" for name in unanswered)
        sentences[f"Not answered yet ({asks}). Until it is: {finding.text}" if asks else finding.text] = None
    return tuple(sentences)


def hold_sentences(findings: Iterable[Finding], uses: Sequence[str]) -> tuple[str, ...]:
    """Return which looks are missing, one sentence for each hold that was heard."""
    return tuple(
        dict.fromkeys(f.text for f in findings if "hold" in f.says and "stop" not in f.says and is_heard(f, uses))
    )


def deciding(findings: Sequence[Finding], uses: Sequence[str], verdict: str, book: Rulebook) -> Finding | None:
    """Return the finding that decided: the first in `order_of` among those that say the verdict as read.

    What a person overruled comes after all that still stands as it was said.
    """
    rules = book.by_id()
    heard = [f for f in findings if f.counts_as == verdict and f.readings["as read"] and is_heard(f, uses)]
    return min(heard, key=lambda f: (f.overruled is not None, order_of(rules[f.rule], f.line, book)), default=None)


def order_of(rule: Rule, at: int, book: Rulebook) -> tuple[int, bool, int, bool, str, int]:
    """Return where the line of `rule` that stands `at` a line of its file comes among those that say one verdict.

    The strongest kind of source goes first; of one kind, a text that was read before one quoted from memory; then
    the earlier stage; then a chart, which tells every limit it looked at.
    """
    first = source_note(next(line for line in rule.lines if line.at == at).sources[0], book)
    stages = [stage.name for stage in book.stages]
    return KIND_ORDER.index(first.kind), not first.is_read, stages.index(rule.stage), not rule.is_chart, rule.id, at


def left_to_others(findings: Sequence[Finding], uses: Sequence[str], book: Rulebook) -> Finding | None:
    """Return the finding that leaves the case to somebody else."""
    left = {rule.id for rule in book.not_covered}
    return next((f for f in findings if f.rule in left and is_heard(f, uses)), None)


def reason_of(final: Finding | None, left: Finding | None, holds: Sequence[str]) -> str:
    """Return the sentence that decided: of what decided, else of what is left to somebody else."""
    if final is not None and final.overruled is not None:
        return f"{final.overruled.by} overruled a reject. The rule had said: {final.because}"
    if final is not None:
        return final.because
    if left is not None:
        return left.because
    return "No rule asks for a repair, but a look is missing." if holds else "No rule asks for anything."
