"""The sources that rules cite: knowledge/sources, one file a publication or basis."""

from collections.abc import Iterable, Mapping

from mendbook.rulebook.errors import refuse, refuse_unknown_keys
from mendbook.rulebook.files import Written
from mendbook.rulebook.source import KINDS, Source
from mendbook.rulebook.tree import Citation
from mendbook.terms.document import Document
from mendbook.terms.spelling import suggest

ANY_PLACE = "any"
SOURCE_NEEDED = ("source", "title", "publisher", "kind", "known", "places")
SOURCE_KEYS = (*SOURCE_NEEDED, "edition", "link", "owner", "reviewed", "note", "clauses")


def read_sources(files: Iterable[Written], beneath: Mapping[str, Source] | None = None) -> dict[str, Source]:
    """Return the sources of all `files`, in addition to those `beneath`.

    A source of the book beneath stays as it is: a law that an own book calls house would bind nobody.
    Raises RulebookError with file and line.
    """
    known = beneath or {}
    sources: dict[str, Source] = {}
    for file in files:
        document = file.parse()
        source = _source(document)
        if source.id in sources:
            raise refuse(document, ("source",), f"the source '{source.id}' is described twice")
        if source != known.get(source.id, source):
            raise refuse(
                document, ("source",),
                f"the source '{source.id}' belongs to the shipped book, which describes it otherwise",
                "Give yours a name of its own.",
            )  # fmt: skip
        sources[source.id] = source
    return {**known, **sources}


def _source(document: Document) -> Source:
    tree = document.tree
    for key in SOURCE_NEEDED:
        if key not in tree:
            raise refuse(document, (), f"'{key}' is missing", f"Add the line '{key}: ...'.")
    refuse_unknown_keys(document, (), tree, SOURCE_KEYS, "a source")
    if tree["kind"] not in KINDS:
        raise refuse(document, ("kind",), f"no kind is called '{tree['kind']}'", f"Write one of {', '.join(KINDS)}.")
    places = tree["places"]
    if places != ANY_PLACE and not isinstance(places, dict):
        raise refuse(document, ("places",), "places is a list of place: sentence, or 'any'")
    text = {key: str(tree.get(key, "")) for key in ("title", "publisher", "kind", "edition", "known", "link")}
    return Source(
        id=str(tree["source"]),
        places={k: str(v) for k, v in places.items()} if isinstance(places, dict) else None,
        clauses=(),
        **text,
    )


def read_citation(
    document: Document, path: tuple[str | int, ...], text: str, sources: Mapping[str, Source]
) -> Citation:
    """Resolve `id, place`. Raises RulebookError when id or place is unknown."""
    name, _, place = text.partition(", ")
    source = sources.get(name)
    if source is None:
        near = suggest(name, sources)
        raise refuse(
            document, path, f"no source is called '{name}'",
            f"Did you mean '{near}'?" if near else "Describe it in knowledge/sources first.",
        )  # fmt: skip
    if not place:
        raise refuse(document, path, f"'{name}' is cited without a place", f"Write '{name}, <section or table>'.")
    if source.places is not None and place not in source.places:
        near = suggest(place, source.places)
        known = ", ".join(source.places)
        raise refuse(
            document, path, f"'{name}' has no place '{place}'",
            f"Did you mean '{near}'?" if near else f"Known places: {known}.",
        )  # fmt: skip
    return Citation(name, place)
