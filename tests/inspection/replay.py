"""Answer the questions of an inspection from a case file, as the person who wrote that file would."""

from pathlib import Path
from typing import Any

from mendbook.inspection import Inspection, Kind, Question, answer, begin, next_question
from mendbook.terms.blanks import without_blanks
from mendbook.terms.document import read_document
from mendbook.terms.quantity import Dimension, read_quantity
from mendbook.triage import Shop

MOST = 120  # questions; more would never end

Tree = dict[str, Any]


def read_tree(path: Path) -> Tree:
    return without_blanks(read_document(path)).tree


def head(tree: Tree) -> Tree:
    """What stands above the answers: the name of the case and the day of the look."""
    return {key: tree[key] for key in ("case", "judged on") if key in tree}


def reply(question: Question, tree: Tree) -> str:
    """Return what the file says; 'unknown' where it says nothing."""
    if question.kind is Kind.INJURIES:
        return ", ".join(injury["name"] for injury in tree.get("injuries", [])) or "none"
    if question.kind is Kind.UNUSUAL:
        places = (
            [at(tree, question.path[:-1])]
            if question.path[0] == "injuries"
            else [tree.get(section, {}) for section in ("tyre", "found", "service")]
        )
        return ", ".join(name for name, _ in question.options if any(name in place for place in places)) or "none"
    if question.kind is Kind.PLACE:
        injury = at(tree, question.path[:-1])
        for mark in ("bead", "centreline"):
            if f"distance from {mark}" in injury:
                return f"{injury[f'distance from {mark}']} from {mark}"
        return str(injury.get("zone", "unknown"))
    if question.path == ("tyre", "tread left") and "tread depths" in tree.get("tyre", {}):
        return min(tree["tyre"]["tread depths"], key=lambda text: read_quantity(text, Dimension.LENGTH).value or 0.0)
    return str(at(tree, question.path) or "unknown")


def at(tree: Any, path: tuple[str | int, ...]) -> Any:
    for step in path:
        tree = tree.get(step, {}) if isinstance(tree, dict) else tree[step]
    return tree


def replay(tree: Tree, shop: Shop) -> tuple[Inspection, list[Question]]:
    """Return the inspection that ended, and the questions that it asked."""
    state, asked = begin(head(tree), shop), []
    while (question := next_question(state, shop)) is not None:
        asked.append(question)
        state = answer(state, question, reply(question, tree), shop)
        assert len(asked) < MOST
    return state, asked
