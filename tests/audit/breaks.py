"""Small breaks of the shipped rulebook, made in memory, each the kind of slip that a hand makes."""

from dataclasses import replace
from typing import Any

from mendbook.rulebook.book import Rulebook
from mendbook.rulebook.tree import Rule


def with_rule(book: Rulebook, place: str, **changes: Any) -> Rulebook:
    """Return `book` with these changes of one rule."""
    return _put(book, replace(_rule(book, place), **changes))


def saying(book: Rulebook, place: str, line: int, **said: Any) -> Rulebook:
    """Return `book` with one line of a rule saying this instead."""
    rule = _rule(book, place)
    lines = list(rule.lines)
    lines[line] = replace(lines[line], outcome=replace(lines[line].outcome, **said))
    return _put(book, replace(rule, lines=tuple(lines)))


def with_number(book: Rulebook, place: str, row: int, number: float) -> Rulebook:
    """Return `book` with another first number in one row of a table; -1 is the last row."""
    tables = []
    for table in book.tables:
        rows = list(table.rows)
        if table.id == place:
            rows[row] = replace(rows[row], numbers=(number, *rows[row].numbers[1:]))
        tables.append(replace(table, rows=tuple(rows)))
    assert tuple(tables) != book.tables
    return replace(book, tables=tuple(tables))


def _rule(book: Rulebook, place: str) -> Rule:
    return next(rule for rule in book.rules if rule.id == place)


def _put(book: Rulebook, changed: Rule) -> Rulebook:
    return replace(book, rules=tuple(changed if rule.id == changed.id else rule for rule in book.rules))
