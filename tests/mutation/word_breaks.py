"""Words that slip: names, sentences, citations, and the form of a file."""

import re
from collections.abc import Iterator
from typing import Any

from tests.mutation.ways import Edit, edit, way
from tests.mutation.written import RULE_WORDS, Path, Written, at, chance, drop, put, renamed

PLACEHOLDER = re.compile(r"<([^<>]+)>")


def sentences(written: Written) -> Iterator[tuple[str, Path, str]]:
    """Yield (file, path, sentence): what a line says in whole words."""
    for place, path, line in written.lines():
        for key in ("because", "hold", "stop", "do", "caution"):
            said = line.get(key)
            if isinstance(said, str):
                yield place, (*path, key), said
            for number, one in enumerate(said if isinstance(said, list) else ()):
                yield place, (*path, key, number), one


@way("digit typed in a sentence")
def digits(written: Written) -> Iterator[Edit]:
    for place, path, said in sentences(written):
        yield edit(place, path, "a number typed", put(written.trees[place], path, f"Over 60 mm: {said}"))


@way("placeholder of no fact")
def unknown_placeholders(written: Written) -> Iterator[Edit]:
    for place, path, said in sentences(written):
        for name in dict.fromkeys(PLACEHOLDER.findall(said)):
            slipped = said.replace(f"<{name}>", f"<{name}s>")
            yield edit(place, path, f"<{name}> -> <{name}s>", put(written.trees[place], path, slipped))


@way("placeholder of another fact")
def other_placeholders(written: Written) -> Iterator[Edit]:
    for place, path, said in sentences(written):
        for name in dict.fromkeys(PLACEHOLDER.findall(said)):
            if name in written.vocabulary:
                fact = written.vocabulary[name]
                alike = sorted(
                    other.name
                    for other in written.vocabulary
                    if other.name != name and (other.unit, other.subject) == (fact.unit, fact.subject)
                    and other.is_listed == fact.is_listed
                )  # fmt: skip
                if alike:
                    other = chance("placeholder", place, str(path), name).choice(alike)
                    slipped = said.replace(f"<{name}>", f"<{other}>")
                    yield edit(place, path, f"<{name}> -> <{other}>", put(written.trees[place], path, slipped))


@way("sentence not ended")
def unended(written: Written) -> Iterator[Edit]:
    for place, path, said in sentences(written):
        yield edit(place, path, "full stop gone", put(written.trees[place], path, said.rstrip(".")))


@way("sentence cut short")
def cut_short(written: Written) -> Iterator[Edit]:
    for place, path, said in sentences(written):
        cut = said[: len(said) // 2].rsplit(" ", 1)[0]
        yield edit(place, path, "second half gone", put(written.trees[place], path, cut))


@way("synonym in a sentence")
def synonyms_said(written: Written) -> Iterator[Edit]:
    for place, path, said in sentences(written):
        own = PLACEHOLDER.sub("", said)
        for synonym, name in written.vocabulary.synonyms.items():
            if re.search(rf"(?<!\w){re.escape(name)}(?!\w)", own):
                slipped = re.sub(rf"(?<![\w<]){re.escape(name)}(?![\w>])", synonym, said)
                yield edit(place, path, f"{name} -> {synonym}", put(written.trees[place], path, slipped))


@way("synonym as the name of a fact")
def synonyms_named(written: Written) -> Iterator[Edit]:
    for place, path, name, _ in written.limits():
        for synonym in written.vocabulary[name].synonyms[:1]:
            yield edit(place, path, f"called {synonym}", renamed(written.trees[place], path, synonym))


@way("name of a fact misspelt")
def misspelt_facts(written: Written) -> Iterator[Edit]:
    for place, path, name, _ in written.limits():
        yield edit(place, path, f"called {name}x", renamed(written.trees[place], path, f"{name}x"))


@way("name of another fact")
def other_facts(written: Written) -> Iterator[Edit]:
    """A measure is taken for another of the same unit."""
    for place, path, name, _ in written.limits():
        fact, taken = written.vocabulary[name], at(written.trees[place], path[:-1])
        alike = sorted(
            other.name
            for other in written.vocabulary
            if not other.is_listed and other.unit == fact.unit and other.name not in taken
        )  # fmt: skip
        if not fact.is_listed and alike:
            other = chance("fact", place, str(path)).choice(alike)
            yield edit(place, path, f"called {other}", renamed(written.trees[place], path, other))


@way("because removed")
def because_removed(written: Written) -> Iterator[Edit]:
    for place, path, line in written.lines():
        if "because" in line:
            yield edit(place, (*path, "because"), "removed", drop(written.trees[place], (*path, "because")))


def cited(written: Written) -> Iterator[tuple[str, Path, str]]:
    for place, path, line in written.lines():
        if "source" in line:
            yield place, (*path, "source"), line["source"]
    for place, tree in written.tables.items():
        yield place, ("source",), tree["source"]


@way("source removed")
def source_removed(written: Written) -> Iterator[Edit]:
    for place, path, said in cited(written):
        yield edit(place, path, f"{said} removed", drop(written.trees[place], path))


@way("source misspelt")
def source_misspelt(written: Written) -> Iterator[Edit]:
    for place, path, said in cited(written):
        name, _, passage = said.partition(", ")
        slipped = f"{name[:-1]}, {passage}"
        yield edit(place, path, f"{said} -> {slipped}", put(written.trees[place], path, slipped))


@way("another source")
def other_source(written: Written) -> Iterator[Edit]:
    names = sorted(str(tree["source"]) for tree in written.sources.values())
    for place, path, said in cited(written):
        name, _, passage = said.partition(", ")
        other = chance("source", place, str(path)).choice([one for one in names if one != name])
        slipped = f"{other}, {passage}"
        yield edit(place, path, f"{said} -> {slipped}", put(written.trees[place], path, slipped))


@way("place in the source misspelt")
def place_misspelt(written: Written) -> Iterator[Edit]:
    for place, path, said in cited(written):
        spot = chance("place", place, str(path)).randrange(said.index(", ") + 2, len(said))
        slipped = said[:spot] + said[spot + 1 :]
        if slipped != said and not slipped.endswith(", "):
            yield edit(place, path, f"{said} -> {slipped}", put(written.trees[place], path, slipped))


@way("another place in the source")
def other_place(written: Written) -> Iterator[Edit]:
    places = {str(tree["source"]): tree["places"] for tree in written.sources.values()}
    for place, path, said in cited(written):
        name, _, passage = said.partition(", ")
        others = [one for one in places[name] if one != passage] if isinstance(places[name], dict) else []
        if others:
            slipped = f"{name}, {chance('passage', place, str(path)).choice(others)}"
            yield edit(place, path, f"{said} -> {slipped}", put(written.trees[place], path, slipped))


def line_of(text: str, luck: Any, *, wanted: str = ": ") -> tuple[list[str], int]:
    """Return the lines of a file and one of them, by chance, that holds `wanted` and is no comment."""
    lines = text.splitlines(keepends=True)
    return lines, luck.choice([n for n, line in enumerate(lines) if wanted in line and not line.startswith("#")])


@way("key written twice")
def doubled_keys(written: Written) -> Iterator[Edit]:
    for place, tree in (written.rules | written.tables).items():
        name = chance("double", place).choice(list(tree))
        copy = f"{name}: {{}}\n".encode()
        yield f"{place}: {name}: written twice", {place: written.files[place] + copy}


@way("key misspelt")
def misspelt_keys(written: Written) -> Iterator[Edit]:
    for place, path, line in written.lines():
        for key in line:
            if key in RULE_WORDS:
                yield edit(
                    place, (*path, key), f"called {key}x", renamed(written.trees[place], (*path, key), f"{key}x")
                )


@way("bracket, quote or colon lost")
def lost_signs(written: Written) -> Iterator[Edit]:
    """One sign of the form is deleted from the text of a file."""
    for place in (*written.rules, *written.tables):
        text = written.files[place].decode()
        luck = chance("sign", place)
        body = text.index("\napplies to") if "\napplies to" in text else 0
        spots = [n for n, letter in enumerate(text) if n > body and letter in "[]{}:'\""]
        spot = luck.choice(spots)
        line = text.count("\n", 0, spot) + 1
        what = f"'{text[spot]}' lost"
        yield f"{place}: line {line}: {what}", {place: (text[:spot] + text[spot + 1 :]).encode()}
