"""What the files of a rulebook may refer to, and the reading of what they all share: lines of `fact: limit`."""

from collections.abc import Mapping
from dataclasses import dataclass

from mendbook.rulebook.errors import refuse
from mendbook.rulebook.phrases import PhraseError, read_bounds
from mendbook.rulebook.source import Source
from mendbook.rulebook.tree import Bound
from mendbook.terms.document import Document
from mendbook.terms.spelling import suggest
from mendbook.terms.vocabulary import Fact, Vocabulary

Path = tuple[str | int, ...]


@dataclass(frozen=True)
class Context:
    """What a file may refer to: facts, sources, the verdict scale from mild to severe, method names."""

    vocabulary: Vocabulary
    sources: Mapping[str, Source]
    verdicts: tuple[str, ...]
    methods: tuple[str, ...]

    def fact(self, document: Document, path: Path, name: str, *, keys: tuple[str, ...] = ()) -> Fact:
        """Return the fact called `name`; `keys` are the words other than facts that could stand at `path`.

        Raises RulebookError with the right word for a synonym, or with the nearest one.
        """
        if name in self.vocabulary:
            return self.vocabulary[name]
        right = self.vocabulary.synonyms.get(name)
        near = suggest(name, (*self.vocabulary.facts, *keys))
        hint = f"Did you mean '{near}'?" if near else "Describe it in knowledge/vocabulary first."
        raise refuse(document, path, f"no fact is called '{name}'", f"Write '{right}' for '{name}'." if right else hint)

    def bounds(self, document: Document, path: Path, entry: object, *, keys: tuple[str, ...] = ()) -> tuple[Bound, ...]:
        """Read the map of facts and limits at `path`; nothing written is no limit. Raises RulebookError."""
        if entry in ("", None):
            return ()
        if not isinstance(entry, dict):
            raise refuse(document, path, "write 'fact: limit' here, one a line")
        bounds: list[Bound] = []
        for name, written in entry.items():
            fact = self.fact(document, (*path, name), name, keys=keys)
            try:
                bounds.extend(read_bounds(fact, written))
            except PhraseError as error:
                raise refuse(document, (*path, name), error.what, error.instead) from None
        return tuple(bounds)
