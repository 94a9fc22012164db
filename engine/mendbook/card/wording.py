"""Words of the report: what a kind of source, a saying and an approval are called in a sentence."""

from collections.abc import Iterable, Mapping

from mendbook.card.lettering import plain, sentence
from mendbook.terms.answers import verdict_words
from mendbook.terms.docket import Approved, Finding, Outcome, OverruledReject, SourceNote

KINDS: Mapping[str, str] = {
    "law": "law",
    "standard": "standard",
    "guidance": "guidance",
    "practice": "common practice",
    "house": "house default",
}

BASES: Mapping[str, str] = {
    "law": "Law. It cannot be waived.",
    "standard": "A published standard.",
    "guidance": "Published guidance.",
    "practice": "Common practice; no published source stands behind it.",
    "house": "A house default; no law or standard sets this limit.",
}

# How a source is known, where nobody here read it: a mark in the note of the source, and what the report says.
UNREAD: Mapping[str, str] = {"memory": "from memory", "reported": "reported by others"}

# What the answer says of a published text that nobody here read.
UNREAD_BASES: Mapping[str, str] = {
    "memory": "It is quoted from memory: read the text before you rely on it.",
    "reported": "It is known from reports by others.",
}
PUBLISHED = ("law", "standard", "guidance")

SAYINGS: Mapping[str, str] = {
    "stop": "stop",
    "hold": "hold",
    "rule out": "rules out a method",
    "cap": "sets a limit",
    "do": "adds a step",
    "caution": "caution",
}

OUTCOME_STYLES: Mapping[Outcome, str] = {
    "stop": "bold red",
    "reject": "bold red",
    "hold": "bold yellow",
    "repair": "bold green",
    "serve": "bold green",
}

STANDING = (
    "Local code, site rules and the makers' instructions override this report.",
    "Only trained, authorised persons do this work.",
    "Off-road size limits are house defaults, not law.",
    "A passing rule set is not a certificate.",
    "Unknown counts as worst.",
    "Not for aircraft, racing or bicycle tyres.",
)


def source_words(source: SourceNote) -> str:
    """Return a source with its kind spelled out: 'law (29 cfr 1910.177, (f)(2); from memory)'."""
    kind = KINDS.get(source.kind, source.kind)
    named = [] if source.id in (source.kind, kind) and source.place else [source.id]
    place = ", ".join([*named, source.place] if source.place else named)
    unread = [said for mark, said in UNREAD.items() if mark in source.known]
    return f"{kind} ({'; '.join([place, *unread])})"


def sources_words(sources: Iterable[SourceNote]) -> str:
    """Return several sources in a row."""
    return " · ".join(source_words(source) for source in sources)


def saying_words(finding: Finding) -> str:
    """Return what a finding says in a word or two: its verdict, or what it asks for."""
    words = [verdict_words(finding.verdict)] if finding.verdict else []
    words += [SAYINGS.get(said, said) for said in finding.says if said != "verdict"]
    return ", ".join(words)


def approval_words(approved: Approved) -> str:
    """Return who answers for what is looser than the shipped book, since when, and why."""
    return f"approved by {plain(approved.approved_by)}, {plain(approved.on)}: {sentence(approved.why)}"


def overrule_words(reject: OverruledReject) -> str:
    """Return who overruled a reject, when, and why."""
    return f"overruled by {plain(reject.by)}, {plain(reject.on)}: {sentence(reject.why)}"


def listed(words: Iterable[str], last: str = "and") -> str:
    """Return 'a, b and c'."""
    *front, end = [*words] or [""]
    return f"{', '.join(front)} {last} {end}" if front else end
