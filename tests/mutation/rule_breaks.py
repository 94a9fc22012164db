"""Rules whose lines, verdicts, places and examples go wrong."""

from collections.abc import Iterator
from itertools import pairwise
from typing import Any

from tests.mutation.ways import Edit, edit, way
from tests.mutation.written import Path, Written, at, chance, drop, line_paths, put, renamed, swapped

WIDER = {"up to": "below", "below": "up to", "over": "at least", "at least": "over"}
TURNED = {"up to": "at least", "at least": "up to", "over": "below", "below": "over"}


def compared(written: Written, words: dict[str, str]) -> Iterator[Edit]:
    for place, path, _, text in written.limits():
        for before, after in words.items():
            if isinstance(text, str) and text.startswith(f"{before} "):
                slipped = f"{after} {text.removeprefix(f'{before} ')}"
                yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("comparison, the limit itself on the other side")
def edges(written: Written) -> Iterator[Edit]:
    yield from compared(written, WIDER)


@way("comparison turned")
def turned(written: Written) -> Iterator[Edit]:
    yield from compared(written, TURNED)


@way("limit removed from a line")
def limits_removed(written: Written) -> Iterator[Edit]:
    for place, path, name, _ in written.limits():
        yield edit(place, path[:-1], f"{name} removed", drop(written.trees[place], path))


@way("listed values, one left out of a line")
def values_left_out(written: Written) -> Iterator[Edit]:
    for place, path, _, listed in written.limits():
        yield from shortened(written, place, path, listed)


@way("line removed")
def lines_removed(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for path in line_paths(tree):
            if path:
                yield edit(place, path, "removed", drop(tree, path))


@way("lines reordered")
def lines_reordered(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for first, second in pairwise(range(len(tree.get("chart", ())))):
            changed = swapped(tree, ("chart", first), ("chart", second))
            yield edit(place, ("chart", first), f"swapped with line {second + 1}", changed)


def ranked(written: Written, step: int) -> Iterator[tuple[str, Path, str, str]]:
    """Yield (file, path, verdict, verdict `step` further on the scale)."""
    for place, path, line in written.lines():
        verdict = line.get("verdict")
        if verdict is not None and 0 <= (rank := written.verdicts.index(verdict) + step) < len(written.verdicts):
            yield place, path, verdict, written.verdicts[rank]


@way("verdict one step milder")
def milder(written: Written) -> Iterator[Edit]:
    for place, path, said, other in ranked(written, -1):
        yield edit(place, path, f"{said} -> {other}", put(written.trees[place], (*path, "verdict"), other))


@way("otherwise milder")
def otherwise_milder(written: Written) -> Iterator[Edit]:
    for place, path, said, other in ranked(written, -1):
        if path == ("otherwise",):
            yield edit(place, path, f"{said} -> {other}", put(written.trees[place], (*path, "verdict"), other))


@way("law milder")
def law_milder(written: Written) -> Iterator[Edit]:
    for place, path, said, other in ranked(written, -1):
        if place.startswith("rules/law/"):
            yield edit(place, path, f"{said} -> {other}", put(written.trees[place], (*path, "verdict"), other))


@way("verdict one step harder")
def harder(written: Written) -> Iterator[Edit]:
    for place, path, said, other in ranked(written, 1):
        yield edit(place, path, f"{said} -> {other}", put(written.trees[place], (*path, "verdict"), other))


@way("verdict misspelt")
def misspelt_verdicts(written: Written) -> Iterator[Edit]:
    for place, path, said, _ in ranked(written, 0):
        slipped = f"{said[:-1]}"
        yield edit(place, path, f"{said} -> {slipped}", put(written.trees[place], (*path, "verdict"), slipped))


@way("verdict removed")
def verdicts_removed(written: Written) -> Iterator[Edit]:
    for place, path, said, _ in ranked(written, 0):
        yield edit(place, path, f"{said} removed", drop(written.trees[place], (*path, "verdict")))


def saying(written: Written, key: str) -> Iterator[tuple[str, Path, Any]]:
    for place, path, line in written.lines():
        if key in line:
            yield place, (*path, key), line[key]


@way("hold removed")
def holds_removed(written: Written) -> Iterator[Edit]:
    for place, path, _ in saying(written, "hold"):
        yield edit(place, path, "removed", drop(written.trees[place], path))


@way("hold weakened to a caution")
def holds_weakened(written: Written) -> Iterator[Edit]:
    for place, path, _ in saying(written, "hold"):
        if "caution" not in at(written.trees[place], path[:-1]):
            yield edit(place, path, "-> caution", renamed(written.trees[place], path, "caution"))


@way("stop weakened to a hold")
def stops_held(written: Written) -> Iterator[Edit]:
    for place, path, _ in saying(written, "stop"):
        if "hold" not in at(written.trees[place], path[:-1]):
            yield edit(place, path, "-> hold", renamed(written.trees[place], path, "hold"))


@way("stop weakened to a caution")
def stops_weakened(written: Written) -> Iterator[Edit]:
    for place, path, _ in saying(written, "stop"):
        if "caution" not in at(written.trees[place], path[:-1]):
            yield edit(place, path, "-> caution", renamed(written.trees[place], path, "caution"))


@way("caution or step removed")
def words_removed(written: Written) -> Iterator[Edit]:
    for key in ("caution", "do"):
        for place, path, said in saying(written, key):
            shorter = said[1:] if isinstance(said, list) and len(said) > 1 else None
            tree = written.trees[place]
            yield edit(place, path, "one removed", put(tree, path, shorter) if shorter else drop(tree, path))


@way("another method ruled out")
def other_method(written: Written) -> Iterator[Edit]:
    methods = [name for names in written.trees["rules/rulebook.yaml"]["methods"].values() for name in names]
    for place, path, said in saying(written, "rule out"):
        names = said if isinstance(said, list) else [said]
        other = chance("method", place, str(path)).choice([name for name in methods if name not in names])
        changed = put(written.trees[place], path, [other, *names[1:]])
        yield edit(place, path, f"{names[0]} -> {other}", changed)


@way("cap, one digit wrong")
def caps(written: Written) -> Iterator[Edit]:
    from tests.mutation.number_breaks import numbers, other_digit

    for place, path, said in saying(written, "cap"):
        for what, limit in said.items():
            for match in numbers(limit)[:1]:
                slipped = other_digit(limit, match, f"{place}/{path}/{what}")
                changed = put(written.trees[place], (*path, what), slipped)
                yield edit(place, (*path, what), f"{limit} -> {slipped}", changed)


@way("value misspelt in 'applies to'")
def misspelt_values(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for name, value in (tree["applies to"] or {}).items():
            known = value[0] if isinstance(value, list) else value
            slipped = known[:-1] + ("x" if known[-1] != "x" else "y")
            wrong = [slipped, *value[1:]] if isinstance(value, list) else slipped
            path: Path = ("applies to", name)
            yield edit(place, path, f"{known} -> {slipped}", put(tree, path, wrong))


def shortened(written: Written, place: str, path: Path, value: Any) -> Iterator[Edit]:
    if isinstance(value, list) and len(value) > 1:
        for gone in value:
            rest = [one for one in value if one != gone]
            yield edit(place, path, f"{gone} removed", put(written.trees[place], path, rest))


@way("'applies to' narrowed by a value")
def narrowed(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for name, value in (tree["applies to"] or {}).items():
            yield from shortened(written, place, ("applies to", name), value)


@way("'applies to' narrowed by a fact")
def narrowed_by_fact(written: Written) -> Iterator[Edit]:
    """A listed fact that the rule does not look at is asked for as well."""
    listed = sorted(fact.name for fact in written.vocabulary if fact.is_listed)
    for place, tree in written.rules.items():
        luck = chance("narrow", place)
        name = luck.choice([fact for fact in listed if fact not in (tree["applies to"] or {})])
        value = luck.choice(written.vocabulary[name].values)
        yield edit(
            place,
            ("applies to", name),
            f"{value} added",
            put(tree, ("applies to",), {**tree["applies to"], name: value}),
        )


@way("'applies to' widened by a fact")
def widened(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for name in tree["applies to"] or {}:
            yield edit(place, ("applies to", name), "removed", drop(tree, ("applies to", name)))


@way("'applies to' widened by a value")
def widened_by_value(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for name, value in (tree["applies to"] or {}).items():
            now = value if isinstance(value, list) else [value]
            others = [one for one in written.vocabulary[name].values if one not in now]
            if others and all(one in written.vocabulary[name].values for one in now):
                more = chance("widen", place, name).choice(others)
                path: Path = ("applies to", name)
                yield edit(place, path, f"{more} added", put(tree, path, [*now, more]))


@way("rule deleted")
def deleted(written: Written) -> Iterator[Edit]:
    for place in written.rules:
        yield f"{place}: the file: deleted", {place: None}


@way("rule file with another ending")
def other_ending(written: Written) -> Iterator[Edit]:
    for place in written.rules:
        text = written.files[place]
        yield f"{place}: the file: called .yml", {place: None, place.removesuffix(".yaml") + ".yml": text}


@way("rule written twice")
def doubled(written: Written) -> Iterator[Edit]:
    """A copy of a rule under another file name: one is changed later, the other forgotten."""
    for place in written.rules:
        copy = place.removesuffix(".yaml") + "_copy.yaml"
        yield f"{place}: the file: copied", {copy: written.files[place]}


@way("rule in the folder of another stage")
def moved(written: Written) -> Iterator[Edit]:
    stages = written.trees["rules/rulebook.yaml"]["stages"]
    folders = [name for names in stages.values() for name in names]
    for place, text in written.files.items():
        if place in written.rules:
            now = place.split("/")[1]
            beside = next(names for names in stages.values() if now in names)
            other = chance("stage", place).choice([name for name in folders if name not in beside])
            moved_to = f"rules/{other}/{place.split('/')[-1]}"
            yield f"{place}: the file: moved to {other}", {place: None, moved_to: text}


@way("example with a wrong answer")
def wrong_examples(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for number, example in enumerate(tree["examples"]):
            path: Path = ("examples", number, "verdict")
            if (said := example.get("verdict")) is not None:
                others = [verdict for verdict in written.verdicts if verdict != said]
                other = chance("example", place, str(number)).choice(others)
                yield edit(place, path, f"{said} -> {other}", put(tree, path, other))
            elif (said := example.get("says")) is not None:
                other = "verdict" if said == "nothing" else "nothing"
                path = ("examples", number, "says")
                yield edit(place, path, f"{said} -> {other}", put(tree, path, other))


@way("example removed")
def examples_removed(written: Written) -> Iterator[Edit]:
    for place, tree in written.rules.items():
        for number, _ in enumerate(tree["examples"]):
            yield edit(place, ("examples", number), "removed", drop(tree, ("examples", number)))


@way("cleared by: removed")
def clearing_removed(written: Written) -> Iterator[Edit]:
    for place, path, _ in saying(written, "cleared by"):
        yield edit(place, path, "removed", drop(written.trees[place], path))


@way("cleared by: another value")
def clearing_changed(written: Written) -> Iterator[Edit]:
    """A hold would be let go by the answer that ought to keep it, or by another."""
    for place, path, said in saying(written, "cleared by"):
        ways = list(enumerate(said)) if isinstance(said, list) else [(None, said)]
        for number, facts in ways:
            for name, value in facts.items():
                known = written.vocabulary[name].values if name in written.vocabulary else ()
                if value in known and len(known) > 1:
                    other = chance("clear", place, str(path), name).choice([one for one in known if one != value])
                    inner: Path = (*path, name) if number is None else (*path, number, name)
                    yield edit(place, inner, f"{value} -> {other}", put(written.trees[place], inner, other))
