"""The sentences of the rules: whole, without a typed number, and in the one right word for each thing."""

import re
from collections.abc import Iterator

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.sentences import PLACEHOLDER, has_digit
from mendbook.rulebook.tree import Line
from mendbook.terms.vocabulary import Vocabulary


def find_loose_wording(book: Rulebook) -> Iterator[str]:
    """Yield one fault for each slip in a sentence that a rule says."""
    synonyms = _synonyms(book.vocabulary)
    for rule in book.rules:
        for line in rule.lines:
            for key, sentence in _sentences(line):
                for fault in _faults(sentence, synonyms):
                    yield f"{rule.file}:{line.at}: {key}: {fault} It reads: {sentence}"


def _sentences(line: Line) -> Iterator[tuple[str, str]]:
    yield "because", line.because
    yield from line.outcome.sentences()


def _faults(sentence: str, synonyms: dict[str, str]) -> Iterator[str]:
    own = PLACEHOLDER.sub("", sentence)
    if has_digit(sentence):
        yield "a number is typed in the sentence. Write <limit> or the name of a fact between < and >."
    if not sentence.endswith("."):
        yield "the sentence does not end. Close it with a full stop."
    if "<" in own or ">" in own:
        yield "a '<' or '>' stands alone. Write the name of a fact between the two, or use words."
    if synonyms:
        # Longest first, so that of two synonyms in one place the more exact is answered.
        words = "|".join(map(re.escape, sorted(synonyms, key=len, reverse=True)))
        for found in re.findall(rf"(?<!\w)(?:{words})(?!\w)", own.lower()):
            yield f"this is not the word of the vocabulary. Write '{synonyms[found]}' for '{found}'."


def _synonyms(vocabulary: Vocabulary) -> dict[str, str]:
    """Return the right word for each synonym; one that is part of a fact's own name is a word like others."""
    names = " | ".join(vocabulary.facts)
    return {
        synonym.lower(): right
        for synonym, right in vocabulary.synonyms.items()
        if not re.search(rf"(?<!\w){re.escape(synonym)}(?!\w)", names, re.IGNORECASE)
    }
