"""A house reject overruled by a named person: may it be, does it meet one, and what then stands in the docket."""

from collections.abc import Mapping, Sequence
from datetime import date

import polars as pl

from mendbook.facts.readings import GOOD, Readings
from mendbook.facts.scenarios import CHOICE, INJURY, INJURY_CHOICE, USE, VARIANT
from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule
from mendbook.terms.case import Case
from mendbook.terms.docket import Finding, InjuryVerdict, OverruledReject
from mendbook.terms.overrule import Overrule
from mendbook.terms.plan import Plan
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Subject
from mendbook.triage.evaluators import Spoken, is_overruled
from mendbook.triage.overrulable import refusal, rejecting
from mendbook.triage.overruled import Overruled, most_of_repair
from mendbook.triage.passes import Judged
from mendbook.triage.places import ImpossibleCase

OVERRULE = "overrule"
NOT_LOOKED_AT = "The overrule in this case was not looked at: people first, and a stop cannot be waived."
_KEYS = {Subject.TYRE: (CHOICE, USE), Subject.INJURY: (CHOICE, USE, INJURY, INJURY_CHOICE)}


class OverruleRefusedError(ImpossibleCase):
    """An overrule that nobody may make, or that meets no reject."""


def read_overrules(case: Case, book: Rulebook, on: date) -> dict[str, Overruled]:
    """Return what `case` overrules, by the id of the rule, as of the day `on`.

    Raises OverruleRefusedError for a rule that nobody may overrule, that is not in the book or overruled twice, for
    an injury that is not in the case, and for a day still to come.
    """
    rules = book.by_id()
    found: dict[str, Overruled] = {}
    for number, entry in enumerate(case.overrule):
        if entry.rule not in rules:
            raise _refused(number, "rule", f"the book has no rule '{entry.rule[:60]}'. {_near(entry.rule, rules)}")
        rule = rules[entry.rule]
        lines = _overrulable(number, rule, book)
        if entry.on > on:
            raise _refused(number, "on", f"{entry.on} is still to come. Write the day on which it was overruled.")
        injuries = _injuries(number, entry, rule, case)
        if before := found.get(rule.id):
            if before.injuries is None or injuries is None or before.injuries & injuries:
                raise _refused(number, "rule", f"'{rule.id}' is overruled twice here. Keep one of the two entries.")
            injuries |= before.injuries
        found[rule.id] = Overruled(rule, lines, injuries)
    return found


def check_met(
    entries: Sequence[Overrule], overruled: Mapping[str, Overruled], judged: Judged, spoken: Sequence[Spoken],
    readings: Readings,
) -> None:  # fmt: skip
    """Raise OverruleRefusedError for one of `entries` that meets no reject, or one that hangs on a reading.

    A reject that a better reading would lift is not overruled but measured; else an overrule would stand in for
    the tape.
    """
    for number, entry in enumerate(entries):
        rule = overruled[entry.rule].rule
        own = [one for one in spoken if one.rule.id == rule.id and one.sheet.value(one.row, USE) in readings.uses]
        met = [one for one in own if is_overruled(one, overruled) and _is_about(one, entry, readings)]
        about = "" if entry.injury is None else f" of '{entry.injury}'"
        if not met:
            raise _refused(
                number, "rule",
                f"'{rule.id}' says no reject{about} here, so there is nothing to overrule. Take the entry out, or "
                "name a rule that the findings of this case mark as one that may be overruled.",
            )  # fmt: skip
        for injury in dict.fromkeys(_number(one) for one in met):
            settled = {
                _choice(one) for one in met if _number(one) == injury and one.sheet.value(one.row, VARIANT) == GOOD
            }
            if len(settled) < _choices(judged, rule.subject, injury, readings):
                name = "" if injury is None else f" of '{readings.names[injury]}'"
                raise _refused(
                    number, "rule",
                    f"the reject{name} by '{rule.id}' still hangs on a reading, and what is not known is not "
                    "overruled. Take the entry out, settle what 'What next' of the report then names, and ask again.",
                )  # fmt: skip


def mark(
    findings: Sequence[Finding], case: Case, overruled: Mapping[str, Overruled], book: Rulebook
) -> tuple[Finding, ...]:
    """Return `findings` with each overruled reject marked by who overruled it."""
    counts_as = book.verdicts[most_of_repair(book.verdicts)]
    names = [injury.name for injury in case.injuries]

    def marked(finding: Finding) -> Finding:
        one = overruled.get(finding.rule)
        if one is None or finding.verdict != book.verdicts[-1]:
            return finding
        line = next(place for place, line in enumerate(one.rule.lines) if line.at == finding.line)
        is_tyre = one.rule.subject is Subject.TYRE
        if not one.is_met(line, None if is_tyre else names.index(finding.about)):
            return finding
        entry = next(e for e in case.overrule if e.rule == finding.rule and e.injury in (None, finding.about))
        reject = OverruledReject(
            rule=finding.rule, name=finding.name, about=finding.about, by=entry.by, on=entry.on.isoformat(),
            why=entry.why, said=finding.because, counts_as=counts_as,
        )  # fmt: skip
        return finding.model_copy(update={"overruled": reject})

    return tuple(map(marked, findings))


def rejects_overruled(findings: Sequence[Finding]) -> tuple[OverruledReject, ...]:
    """Return every reject that was overruled, once for each rule and subject."""
    found = {(f.overruled.rule, f.overruled.about): f.overruled for f in findings if f.overruled is not None}
    return tuple(found.values())


def injuries_overruled(
    injuries: Sequence[InjuryVerdict], rejects: Sequence[OverruledReject], book: Rulebook
) -> tuple[InjuryVerdict, ...]:
    """Return `injuries`, those of which a reject was overruled with the verdict that they would have without."""
    about = {one.about for one in rejects}
    worst = book.verdicts[-1]
    return tuple(one.model_copy(update={"overruled_from": worst}) if one.name in about else one for one in injuries)


def cautioned(plan: Plan | None, rejects: Sequence[OverruledReject]) -> Plan | None:
    """Return `plan` with the caution on each limit that a house limit was overruled, and by whom."""
    if plan is None or not rejects:
        return plan
    caution = " ".join(caution_sentences(rejects))
    return plan.model_copy(update={"limits": tuple(one.model_copy(update={"caution": caution}) for one in plan.limits)})


def unplanned(
    plan: Plan | None, bracket: tuple[str, str], rejects: Sequence[OverruledReject], book: Rulebook
) -> tuple[str, ...]:
    """Return what holds a tyre of which a reject was overruled, though no injury is left to plan a repair for."""
    if plan is not None or bracket[0] == book.verdicts[-1]:
        return ()
    who = dict.fromkeys(one.by for one in rejects)
    return tuple(
        f"Settle with {by} what is to be done: a reject of the tyre was overruled, and no injury is there to repair. "
        "Write down what is to be repaired as an injury."
        for by in who
    )


def caution_sentences(rejects: Sequence[OverruledReject]) -> tuple[str, ...]:
    """Return what anybody must know who works on or with the tyre, one sentence for each person and day."""
    return tuple(
        dict.fromkeys(
            f"A house limit was overruled by {one.by} on {one.on}: no limit here was set for a repair beyond it, and "
            f"{one.by} answers for it."
            for one in rejects
        )
    )


def _overrulable(number: int, rule: Rule, book: Rulebook) -> frozenset[int]:
    places = rejecting(rule, book)
    if not places:
        what = "holds, which the look clears" if any(line.outcome.hold for line in rule.lines) else "never rejects"
        if any(line.outcome.stop for line in rule.lines):
            what = "stops the work: people first, and a stop cannot be waived"
        raise _refused(number, "rule", f"'{rule.id}' {what}. Only a reject can be overruled: take the entry out.")
    reasons = {place: refusal(rule, rule.lines[place], book) for place in places}
    allowed = frozenset(place for place, reason in reasons.items() if not reason)
    if not allowed:
        reason = next(iter(reasons.values()))
        raise _refused(number, "rule", f"'{rule.id}' cannot be overruled: {reason}. Take the entry out.")
    return allowed


def _injuries(number: int, entry: Overrule, rule: Rule, case: Case) -> frozenset[int] | None:
    if entry.injury is None:
        return None
    names = [injury.name for injury in case.injuries]
    if rule.subject is Subject.TYRE:
        raise _refused(number, "injury", f"'{rule.id}' is about the tyre as a whole. Leave 'injury' out.")
    if entry.injury not in names:
        raise _refused(
            number, "injury", f"no injury is called '{entry.injury[:40]}' here. {_near(entry.injury, names)}"
        )
    return frozenset({names.index(entry.injury)})


def _near(written: str, known: Sequence[str] | Mapping[str, Rule]) -> str:
    near = suggest(written, [*known])
    if near:
        return f"Did you mean '{near}'?"
    if len(known) <= 8:
        return f"Write one of: {', '.join(known)}." if known else "The case has none: take the entry out."
    return "Write the id that the findings of the report name, such as 'folder/rule'."


def _refused(number: int, field: str, words: str) -> OverruleRefusedError:
    return OverruleRefusedError((OVERRULE, number, field), words)


def _number(one: Spoken) -> int | None:
    return None if one.rule.subject is Subject.TYRE else int(one.sheet.value(one.row, INJURY))


def _is_about(one: Spoken, entry: Overrule, readings: Readings) -> bool:
    number = _number(one)
    return entry.injury is None or (number is not None and readings.names[number] == entry.injury)


def _choice(one: Spoken) -> tuple[object, ...]:
    return tuple(one.sheet.value(one.row, name) for name in _KEYS[one.rule.subject])


def _choices(judged: Judged, subject: Subject, injury: int | None, readings: Readings) -> int:
    """Return in how many ways the tyre, or one injury of it, may be read at the good end of every measure."""
    frame = judged.tyres if subject is Subject.TYRE else judged.injuries.filter(pl.col(INJURY) == injury)
    good = frame.filter((pl.col(VARIANT) == GOOD) & pl.col(USE).is_in(list(readings.uses)))
    return good.select(_KEYS[subject]).n_unique()
