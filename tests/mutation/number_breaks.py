"""Numbers that slip, in lines of rules and in limit tables."""

import re
from collections.abc import Iterator
from itertools import pairwise

from tests.mutation.ways import Edit, edit, way
from tests.mutation.written import Path, Written, at, chance, drop, put, swapped

NUMBER = re.compile(r"\d+(?:\.\d+)?")
OTHER_UNIT = {
    "mm": "cm", "%": "mm", "bar": "psi", "°C": "°F", "h": "min", "km/h": "mph", "cords": "plies", "plies": "cords",
    "years": "months", "deg": "%", "cm2": "mm2", "Shore A": "Shore D", "km": "miles",
}  # fmt: skip


def numbers(text: str) -> list[re.Match[str]]:
    return list(NUMBER.finditer(text))


def other_digit(text: str, match: re.Match[str], where: str) -> str:
    """Return `text` with one digit of one number changed, drawn by chance."""
    luck = chance("digit", where)
    spots = [match.start() + place for place, letter in enumerate(match[0]) if letter.isdigit()]
    spot = luck.choice(spots)
    digit = luck.choice([d for d in "0123456789" if d != text[spot]])
    return text[:spot] + digit + text[spot + 1 :]


def ten_times(text: str, match: re.Match[str], where: str) -> str:
    """Return `text` with the point of one number moved by one place, up or down by chance."""
    factor = chance("ten", where).choice((10.0, 0.1))
    return text[: match.start()] + f"{float(match[0]) * factor:.6g}" + text[match.end() :]


def measured(written: Written) -> Iterator[tuple[str, Path, str, re.Match[str], str]]:
    """Yield every number in a limit: file, path, text, the number, where."""
    for place, path, name, text in written.limits():
        if isinstance(text, str) and not written.vocabulary[name].is_listed:
            for match in numbers(text):
                yield place, path, text, match, f"{place}/{path}/{match.start()}"


@way("limit, one digit wrong")
def limit_digits(written: Written) -> Iterator[Edit]:
    for place, path, text, match, where in measured(written):
        slipped = other_digit(text, match, where)
        yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("limit, point moved")
def limit_points(written: Written) -> Iterator[Edit]:
    for place, path, text, match, where in measured(written):
        if float(match[0]):
            slipped = ten_times(text, match, where)
            yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("limit, wrong unit")
def limit_units(written: Written) -> Iterator[Edit]:
    for place, path, name, text in written.limits():
        unit = written.vocabulary[name].unit
        if isinstance(text, str) and unit in OTHER_UNIT and unit in text:
            slipped = text.replace(unit, OTHER_UNIT[unit])
            yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("limits of two lines swapped")
def limits_of_lines(written: Written) -> Iterator[Edit]:
    """The same fact is bounded in two lines of a chart, and the two limits change places."""
    for place, tree in written.rules.items():
        for (first, one), (second, other) in pairwise(enumerate(tree.get("chart", ()))):
            for name in one.keys() & other.keys():
                if name in written.vocabulary and one[name] != other[name]:
                    changed = swapped(tree, ("chart", first, name), ("chart", second, name))
                    yield edit(place, ("chart", first, name), f"swapped with line {second + 1}", changed)


@way("limits of two facts swapped")
def limits_of_facts(written: Written) -> Iterator[Edit]:
    """Two measures of one unit in one line change their limits."""
    for place, path, line in written.lines():
        own = (*path, "when") if "when" in line else path
        entries = at(written.trees[place], own)
        named = [name for name in entries if name in written.vocabulary and not written.vocabulary[name].is_listed]
        for one, other in pairwise(named):
            same_unit = written.vocabulary[one].unit == written.vocabulary[other].unit
            if same_unit and entries[one] != entries[other]:
                changed = swapped(written.trees[place], (*own, one), (*own, other))
                yield edit(place, (*own, one), f"swapped with {other}", changed)


@way("table cell, one digit wrong")
def cell_digits(written: Written) -> Iterator[Edit]:
    for place, path, text in written.cells():
        for match in numbers(text):
            slipped = other_digit(text, match, f"{place}/{path}/{match.start()}")
            yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("table cell, point moved")
def cell_points(written: Written) -> Iterator[Edit]:
    for place, path, text in written.cells():
        for match in numbers(text):
            if float(match[0]):
                slipped = ten_times(text, match, f"{place}/{path}/{match.start()}")
                yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("table cell removed")
def cells_removed(written: Written) -> Iterator[Edit]:
    for place, path, text in written.cells():
        yield edit(place, path, f"{text} removed", drop(written.trees[place], path))


@way("table cell swapped with the next")
def cells_swapped(written: Written) -> Iterator[Edit]:
    cells = list(written.cells())
    for (place, path, text), (other_place, other, beside) in pairwise(cells):
        if place == other_place and path[:-1] == other[:-1] and text != beside:
            yield edit(place, path, f"{text} swapped with {beside}", swapped(written.trees[place], path, other))


@way("table rows swapped")
def rows_swapped(written: Written) -> Iterator[Edit]:
    """The heads stay, the numbers of two rows with columns change places."""
    for place, tree in written.tables.items():
        for (one, cells), (other, below) in pairwise(tree["rows"].items()):
            if isinstance(cells, dict) and cells != below:
                yield edit(place, ("rows", one), f"swapped with {other}", swapped(tree, ("rows", one), ("rows", other)))


@way("table numbers of one cell swapped")
def parts_swapped(written: Written) -> Iterator[Edit]:
    for place, path, text in written.cells():
        found = numbers(text)
        for one, other in pairwise(found):
            if float(one[0]) != float(other[0]):
                slipped = (
                    f"{text[: one.start()]}{other[0]}{text[one.end() : other.start()]}{one[0]}{text[other.end() :]}"
                )
                yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("table, wrong unit")
def table_units(written: Written) -> Iterator[Edit]:
    for place, path, text in written.cells():
        unit = written.trees[place].get("unit")
        if unit in OTHER_UNIT:
            slipped = text.replace(unit, OTHER_UNIT[unit])
            yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))


@way("factor on the wrong side of one")
def factors_inverted(written: Written) -> Iterator[Edit]:
    """A factor that shrinks a limit lets it grow, or the other way round."""
    for place, path, text in written.cells():
        gives = written.trees[place]["gives"]
        names = gives if isinstance(gives, list) else [gives]
        if all(str(name).endswith("factor") for name in names) and len(names) == 1 and float(text) not in (0.0, 1.0):
            slipped = f"{1.0 / float(text):.3g}"
            yield edit(place, path, f"{text} -> {slipped}", put(written.trees[place], path, slipped))
