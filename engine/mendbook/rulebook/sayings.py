"""Read what a line of a rule says: its outcome, the sentence why, and the sources it rests on."""

from collections.abc import Mapping
from dataclasses import dataclass

from mendbook.rulebook.citations import read_citation
from mendbook.rulebook.clearing import CLEARED_BY, read_clearing
from mendbook.rulebook.context import Context, Path
from mendbook.rulebook.errors import refuse
from mendbook.rulebook.sentences import LIMIT, has_digit, placeholders
from mendbook.rulebook.tree import Citation, Outcome
from mendbook.terms.document import Document
from mendbook.terms.spelling import suggest

NOTHING = "nothing"  # what an example says of a rule that is silent
OUTCOME_KEYS = ("verdict", "hold", "stop", "rule out", "cap", "do", "caution")
SAYING_KEYS = (*OUTCOME_KEYS, CLEARED_BY, "because", "source", "also")


@dataclass(frozen=True)
class Saying:
    """What a line says, why, and on which sources."""

    outcome: Outcome
    because: str
    sources: tuple[Citation, ...]


def read_saying(document: Document, path: Path, row: Mapping[str, object], context: Context) -> Saying:
    """Return what the map `row` at `path` says. Raises RulebookError with file and line."""
    return Saying(
        _outcome(document, path, row, context),
        _because(document, path, row, context),
        _sources(document, path, row, context),
    )


def read_verdict(document: Document, path: Path, row: Mapping[str, object], context: Context) -> str | None:
    """Return the verdict written in `row`, None when there is none. Raises RulebookError for one off the scale."""
    return _one_of(document, (*path, "verdict"), "verdict", context.verdicts, text(row.get("verdict")))


def text(value: object) -> str | None:
    """Return what is written as one line of text, None when nothing is."""
    return None if value is None else " ".join(str(value).split())


def _texts(value: object) -> tuple[str, ...]:
    said = (text(v) for v in (value if isinstance(value, list) else [value]))
    return tuple(words for words in said if words)


def _outcome(document: Document, path: Path, row: Mapping[str, object], context: Context) -> Outcome:
    cap = row.get("cap") or {}
    if not isinstance(cap, dict):
        raise refuse(document, (*path, "cap"), "a cap is a map of what is capped and where", "Write 'speed: 40 km/h'.")
    ruled_out = _texts(row.get("rule out"))
    for name in ruled_out:
        _one_of(document, (*path, "rule out"), "method", context.methods, name)
    outcome = Outcome(
        verdict=read_verdict(document, path, row, context),
        hold=text(row.get("hold")), stop=text(row.get("stop")),
        rule_out=ruled_out, cap=tuple((key, str(to)) for key, to in cap.items()), do=_texts(row.get("do")),
        caution=_texts(row.get("caution")),
        cleared_by=read_clearing(document, path, row, context),
    )  # fmt: skip
    for key, sentence in outcome.sentences():
        _known_facts(document, (*path, key), sentence, context)
    if not outcome.words():
        raise refuse(document, path, "this line says nothing", f"Say one of: {', '.join(OUTCOME_KEYS)}.")
    return outcome


def _one_of(document: Document, path: Path, kind: str, known: tuple[str, ...], name: str | None) -> str | None:
    if name is not None and name not in known:
        near = suggest(name, known)
        hint = f"Did you mean '{near}'?" if near else f"Write one of: {', '.join(known)}."
        raise refuse(document, path, f"no {kind} is called '{name}'", hint)
    return name


def _because(document: Document, path: Path, row: Mapping[str, object], context: Context) -> str:
    sentence = text(row.get("because"))
    if not sentence:
        raise refuse(document, path, "'because' is missing", "Say in one sentence why.")
    path = (*path, "because")
    if has_digit(sentence):
        raise refuse(
            document, path, f"a number is typed in the sentence: {sentence}",
            "Write <limit> or the name of a fact between < and >.",
        )  # fmt: skip
    _known_facts(document, path, sentence, context)
    return sentence


def _known_facts(document: Document, path: Path, sentence: str, context: Context) -> None:
    for name in placeholders(sentence):
        if name != LIMIT:
            context.fact(document, path, name, keys=(LIMIT,))


def _sources(document: Document, path: Path, row: Mapping[str, object], context: Context) -> tuple[Citation, ...]:
    cited = [(key, words) for key in ("source", "also") for words in _texts(row.get(key))]
    if not _texts(row.get("source")):
        raise refuse(
            document, path, "no source is named",
            "Write 'source: <id>, <place>'; a limit that nobody published says 'source: house, <what>'.",
        )  # fmt: skip
    return tuple(read_citation(document, (*path, key), words, context.sources) for key, words in cited)
