"""The state of an inspection: the case so far and what has been asked. Nothing changes it; answers make a new one."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from typing import cast

from pydantic import ValidationError

from mendbook.terms.case import UNKNOWN, Case
from mendbook.terms.case_model import case_model
from mendbook.terms.docket import Docket
from mendbook.terms.document import Tree, Way
from mendbook.terms.vocabulary import Vocabulary

TAPES = ("distance from bead", "distance from centreline", "zone")  # any one of them gives the place


@dataclass(frozen=True)
class Inspection:
    """The case so far as a tree, the places answered, the places that an answer opened, and the last judgement.

    `docket` is None while too little is asked to judge. `law` is the road law to judge by, None for the law of
    the country in the case. `count` is how many questions were answered.
    """

    tree: Mapping[str, Tree]
    law: str | None = None
    answered: frozenset[Way] = frozenset()
    opened: tuple[Way, ...] = ()
    count: int = 0
    docket: Docket | None = field(default=None, compare=False, repr=False)

    @property
    def names(self) -> tuple[str, ...]:
        """The names of the injuries."""
        return tuple(str(injury["name"]) for injury in self.injuries)

    @property
    def injuries(self) -> list[dict[str, Tree]]:
        """The injuries as written."""
        return cast("list[dict[str, Tree]]", self.tree.get("injuries", []))

    def is_answered(self, path: Way) -> bool:
        """Return whether `path` was asked, or is known from the case that it goes on from."""
        return path in self.answered or self.written(path) not in (None, UNKNOWN)

    def written(self, path: Way) -> Tree | None:
        """Return what the case says at `path`, None when nothing."""
        here: Tree | None = dict(self.tree)
        for step in path:
            if isinstance(here, dict):
                here = here.get(str(step))
            elif isinstance(here, list) and isinstance(step, int) and step < len(here):
                here = here[step]
            else:
                return None
        return here

    def write(self, path: Way, value: Tree) -> "Inspection":
        """Return the inspection with `value` at `path`."""
        return replace(self, tree=cast("dict[str, Tree]", _set(dict(self.tree), path, value)), docket=None)

    def case(self, vocabulary: Vocabulary) -> Case:
        """Return the case so far. Raises ValidationError when an answer cannot be read."""
        return case_model(vocabulary).model_validate(self.tree)

    def is_readable(self, vocabulary: Vocabulary) -> bool:
        """Return whether the case so far can be read."""
        try:
            self.case(vocabulary)
        except ValidationError:
            return False
        return True


def _set(here: Tree, path: Way, value: Tree) -> Tree:
    if not path:
        return value
    step, rest = path[0], path[1:]
    if isinstance(here, list):
        return [_set(item, rest, value) if place == step else item for place, item in enumerate(here)]
    inside = here if isinstance(here, dict) else {}
    return {**inside, str(step): _set(inside.get(str(step), {}), rest, value)}
