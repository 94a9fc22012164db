"""The vocabulary, the sources, the heads of tables and the cover page go wrong."""

from collections.abc import Iterator, Mapping
from typing import Any

from tests.mutation.number_breaks import OTHER_UNIT, numbers, other_digit
from tests.mutation.rule_breaks import shortened
from tests.mutation.ways import Edit, edit, way
from tests.mutation.written import Path, Written, chance, drop, put, swapped

COVER = "rules/rulebook.yaml"
OPPOSITE = {"bigger": "smaller", "smaller": "bigger", "later": "neither", "neither": "later"}


def facts(written: Written, key: str) -> Iterator[tuple[str, Path, Mapping[str, Any]]]:
    """Yield (file, path, fact): every fact that says `key`."""
    for (place, name), fact in written.facts.items():
        if key in fact:
            yield place, ("facts", name, key), fact


@way("direction turned")
def directions(written: Written) -> Iterator[Edit]:
    for place, path, fact in facts(written, "worse when"):
        now = fact["worse when"]
        other = "bigger" if now == "neither" and "range" in fact else OPPOSITE[now]
        yield edit(place, path, f"{now} -> {other}", put(written.trees[place], path, other))


@way("direction forgotten")
def directions_lost(written: Written) -> Iterator[Edit]:
    """Worse in neither direction: its limits may stand on any side."""
    for place, path, fact in facts(written, "worse when"):
        if fact["worse when"] != "neither":
            yield edit(place, path, "-> neither", put(written.trees[place], path, "neither"))


@way("values from good to bad swapped")
def values_swapped(written: Written) -> Iterator[Edit]:
    for place, path, fact in facts(written, "values"):
        if fact["worse when"] == "later":
            first = chance("values", *map(str, path)).randrange(len(fact["values"]) - 1)
            one, other = fact["values"][first : first + 2]
            changed = swapped(written.trees[place], (*path, first), (*path, first + 1))
            yield edit(place, path, f"{one} swapped with {other}", changed)


@way("value of a fact removed")
def values_removed(written: Written) -> Iterator[Edit]:
    for place, path, fact in facts(written, "values"):
        yield from shortened(written, place, path, fact["values"])


@way("value of a fact misspelt")
def values_misspelt(written: Written) -> Iterator[Edit]:
    for place, path, fact in facts(written, "values"):
        number = chance("value", *map(str, path)).randrange(len(fact["values"]))
        value = fact["values"][number]
        yield edit(place, path, f"{value} -> {value}x", put(written.trees[place], (*path, number), f"{value}x"))


@way("fact removed")
def facts_removed(written: Written) -> Iterator[Edit]:
    for (place, name), _ in written.facts.items():
        yield edit(place, ("facts", name), "removed", drop(written.trees[place], ("facts", name)))


@way("range shrunk")
def ranges(written: Written) -> Iterator[Edit]:
    """The top of a range falls to a tenth."""
    for place, path, fact in facts(written, "range"):
        low, _, high = fact["range"].partition(" to ")
        top = float(high) / 10.0
        if top > float(low):
            slipped = f"{low} to {top:g}"
            yield edit(place, path, f"{fact['range']} -> {slipped}", put(written.trees[place], path, slipped))


@way("unit of a fact changed")
def units(written: Written) -> Iterator[Edit]:
    for place, path, fact in facts(written, "unit"):
        if fact["unit"] in OTHER_UNIT:
            other = OTHER_UNIT[fact["unit"]]
            yield edit(place, path, f"{fact['unit']} -> {other}", put(written.trees[place], path, other))


@way("reading error gone")
def errors_gone(written: Written) -> Iterator[Edit]:
    for key in ("reading error", "reading error share"):
        for place, path, fact in facts(written, key):
            yield edit(place, path, f"{fact[key]} removed", drop(written.trees[place], path))


@way("reading error, one digit wrong")
def errors(written: Written) -> Iterator[Edit]:
    for place, path, fact in facts(written, "reading error"):
        text = fact["reading error"]
        slipped = other_digit(text, numbers(text)[0], str(path))
        yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("missing taken for good")
def missing_made_mild(written: Written) -> Iterator[Edit]:
    """What the case leaves out is taken at its good end instead of as unknown."""
    for (place, name), fact in written.facts.items():
        if (
            "written in" in fact
            and fact.get("when missing", "unknown") == "unknown"
            and fact["worse when"] != "neither"
        ):
            low, _, high = fact.get("range", "").partition(" to ")
            best = fact["values"][0] if "values" in fact else high if fact["worse when"] == "smaller" else low
            path = ("facts", name, "when missing")
            yield edit(place, path, f"-> {best}", put(written.trees[place], path, best))


@way("synonym of two facts")
def shared_synonyms(written: Written) -> Iterator[Edit]:
    names = sorted(name for _, name in written.facts)
    for _, path, fact in facts(written, "synonyms"):
        taken = fact["synonyms"][0]
        other = chance("synonym", *map(str, path)).choice([name for name in names if name != path[1]])
        at_other = next(file for file, name in written.facts if name == other)
        target: Path = ("facts", other, "synonyms")
        now = written.facts[at_other, other].get("synonyms", [])
        yield edit(at_other, target, f"'{taken}' added", put(written.trees[at_other], target, [*now, taken]))


@way("how to measure lost")
def measures_lost(written: Written) -> Iterator[Edit]:
    for place, path, _ in facts(written, "measure"):
        yield edit(place, path, "removed", drop(written.trees[place], path))


@way("source file removed")
def sources_removed(written: Written) -> Iterator[Edit]:
    for place in written.sources:
        yield f"{place}: the file: deleted", {place: None}


@way("kind of a source changed")
def kinds(written: Written) -> Iterator[Edit]:
    for place, tree in written.sources.items():
        other = {"law": "house", "house": "law"}.get(tree["kind"], "law")
        yield edit(place, ("kind",), f"{tree['kind']} -> {other}", put(tree, ("kind",), other))


@way("table deleted")
def tables_deleted(written: Written) -> Iterator[Edit]:
    for place in written.tables:
        yield f"{place}: the file: deleted", {place: None}


@way("table 'applies to' removed")
def tables_widened(written: Written) -> Iterator[Edit]:
    for place, tree in written.tables.items():
        for name in tree.get("applies to") or {}:
            yield edit(place, ("applies to", name), "removed", drop(tree, ("applies to", name)))


@way("table 'applies to' narrowed")
def tables_narrowed(written: Written) -> Iterator[Edit]:
    for place, tree in written.tables.items():
        for name, value in (tree.get("applies to") or {}).items():
            yield from shortened(written, place, ("applies to", name), value)


@way("table gives another name")
def tables_renamed(written: Written) -> Iterator[Edit]:
    for place, tree in written.tables.items():
        names = tree["gives"] if isinstance(tree["gives"], list) else [tree["gives"]]
        for number, name in enumerate(names):
            slipped = [*names[:number], f"{name}s", *names[number + 1 :]]
            yield edit(place, ("gives",), f"{name} -> {name}s", put(tree, ("gives",), slipped))


@way("table by another fact")
def tables_by_another(written: Written) -> Iterator[Edit]:
    for place, tree in written.tables.items():
        other = chance("down", place).choice(sorted({name for _, name in written.facts} - {tree["down"]}))
        yield edit(place, ("down",), f"{tree['down']} -> {other}", put(tree, ("down",), other))


@way("cover, a word of a list removed")
def cover_words(written: Written) -> Iterator[Edit]:
    """A verdict, the folder of a stage, or a method is left out."""
    tree = written.trees[COVER]
    yield from shortened(written, COVER, ("verdicts",), tree["verdicts"])
    for key in ("stages", "methods"):
        for name, words in tree[key].items():
            for word in words:
                path: Path = (key, name)
                yield edit(COVER, path, f"{word} removed", put(tree, path, [one for one in words if one != word]))


@way("cover, two words of a list swapped")
def cover_swaps(written: Written) -> Iterator[Edit]:
    tree = written.trees[COVER]
    lists: list[Path] = [("verdicts",), *(("methods", name) for name in tree["methods"])]
    for path in lists:
        words = tree[path[0]] if len(path) == 1 else tree[path[0]][path[1]]
        for first in range(len(words) - 1):
            changed = swapped(tree, (*path, first), (*path, first + 1))
            yield edit(COVER, path, f"{words[first]} swapped with {words[first + 1]}", changed)


@way("cover, a key removed")
def cover_keys(written: Written) -> Iterator[Edit]:
    tree = written.trees[COVER]
    for key in tree:
        yield edit(COVER, (key,), "removed", drop(tree, (key,)))


@way("cover, a stage called otherwise")
def cover_stages(written: Written) -> Iterator[Edit]:
    tree = written.trees[COVER]
    for name in tree["stages"]:
        stages = {f"{key}s" if key == name else key: folders for key, folders in tree["stages"].items()}
        yield edit(COVER, ("stages", name), f"-> {name}s", put(tree, ("stages",), stages))


@way("cover, too much not covered")
def cover_gives_up(written: Written) -> Iterator[Edit]:
    """What rules do decide is left to somebody else."""
    tree = written.trees[COVER]
    for zone in written.vocabulary["zone"].values:
        entry = {"zone": zone, "refer to": "somebody"}
        now = tree.get("not covered") or []
        yield edit(COVER, ("not covered",), f"{zone} added", put(tree, ("not covered",), [*now, entry]))
