"""The front door of the static checks."""

from itertools import chain

from mendbook.proof.caps import find_mixed_caps
from mendbook.proof.cells import find_missing_cells, find_overlapping_tables, find_turning_numbers
from mendbook.proof.clearing import find_lasting_holds
from mendbook.proof.dead_lines import find_dead_lines
from mendbook.proof.early_looks import find_early_looks
from mendbook.proof.edges import find_untried_limits
from mendbook.proof.gaps import find_gaps
from mendbook.proof.lone_places import find_lone_places
from mendbook.proof.synonyms import find_shared_synonyms
from mendbook.proof.twins import find_twins
from mendbook.proof.wording import find_loose_wording
from mendbook.rulebook.book import Rulebook

CHECKS = (
    find_dead_lines,
    find_lasting_holds,
    find_gaps,
    find_untried_limits,
    find_missing_cells,
    find_overlapping_tables,
    find_turning_numbers,
    find_loose_wording,
    find_shared_synonyms,
    find_early_looks,
    find_twins,
    find_lone_places,
    find_mixed_caps,
)


def check_book(book: Rulebook) -> list[str]:
    """Return what is wrong with `book` as `file:line: what and why. what to write`; empty when nothing is."""
    return list(chain.from_iterable(check(book) for check in CHECKS))
