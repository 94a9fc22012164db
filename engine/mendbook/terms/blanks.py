"""Drop what stands open in a form: an empty line says nothing, just like a line left out."""

from mendbook.terms.document import Document, Tree, Way


def without_blanks(document: Document) -> Document:
    """Return `document` without its empty texts, and without the maps, lists and items of which nothing remains.

    An empty list that somebody wrote, '[]', stays: it says that there is none. So does a name that is a number: it is
    the second half of '{new price: 14,800}', and must be refused. What stays keeps its line.
    """
    lines: dict[Way, int] = {(): document.line()}

    def keep(tree: Tree, old: Way, new: Way) -> Tree | None:
        lines[new] = document.line(old)
        if isinstance(tree, dict):
            return fields(tree, old, new) or None
        if isinstance(tree, list):
            return items(tree, old, new) if tree else tree
        return tree if tree.strip() else None

    def fields(tree: dict[str, Tree], old: Way, new: Way) -> dict[str, Tree]:
        kept = {key: keep(part, (*old, key), (*new, key)) for key, part in tree.items()}
        return {k: "" if part is None else part for k, part in kept.items() if part is not None or k.isdecimal()}

    def items(tree: list[Tree], old: Way, new: Way) -> list[Tree] | None:
        found: list[Tree] = []
        for place, part in enumerate(tree):
            if (kept := keep(part, (*old, place), (*new, len(found)))) is not None:
                found.append(kept)
        return found or None

    return Document(document.name, fields(document.tree, (), ()), lines)
