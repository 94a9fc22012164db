"""The register of ways to break a rulebook: each yields every place where it can be done."""

from collections.abc import Callable, Iterator

from tests.mutation.written import Break, Change, Files, Path, Written, spell

Edit = tuple[str, Files]  # where and what; the changed files
Way = Callable[[Written], Iterator[Edit]]

WAYS: dict[str, Way] = {}


def way(name: str) -> Callable[[Way], Way]:
    """Register a way to break a rulebook under `name`."""

    def register(made: Way) -> Way:
        assert name not in WAYS
        WAYS[name] = made
        return made

    return register


def edit(place: str, path: Path, what: str, change: Change) -> Edit:
    """Return one edit of one file."""
    return f"{place}: {spell(path)}: {what}", {place: change}


def breaks(name: str, written: Written) -> Iterator[Break]:
    """Yield every break of one way."""
    for where, files in WAYS[name](written):
        yield Break(name, where, files)
