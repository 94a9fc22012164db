"""What cells say, kept from batch to batch: whatever came before, each row gets what its own cells say."""

import polars as pl
import pytest
from hypothesis import given
from hypothesis import strategies as st

from mendbook.rulebook.book import Rulebook
from mendbook.yard.cell_table import AT, ENDS, FAULT_LIST, FAULTS, CellTable, at_end

CELLS = st.one_of(st.none(), st.sampled_from(["3 mm", "12 mm", "7 to 9 mm", "soft", "", " "]), st.text(max_size=3))


def says(*cells: str | None) -> tuple[float, ...] | str:
    """Return a measure at its ends, or why there is none: an invented meaning that hangs on each cell."""
    if "soft" in cells:
        return f"'soft' is no depth, beside {cells[0]!r}"
    size = float(sum(len(cell) + 1 for cell in cells if cell is not None))
    return (size, size + 0.5, size + 1.0)


def spelt(found: pl.DataFrame) -> pl.DataFrame:
    said = [says(*row) for row in found.rows()]
    faults = [[{"column": "depth", "words": one}] if isinstance(one, str) else None for one in said]
    ends = [
        pl.Series(at_end("depth", end), [None if isinstance(one, str) else one[end] for one in said], pl.Float64)
        for end in range(ENDS)
    ]
    return pl.DataFrame([*ends, pl.Series(FAULTS, faults, FAULT_LIST)])


@pytest.mark.parametrize("width", [1, 2])
@given(data=st.data())
def test_rows_say_what_their_cells_say(width: int, data: st.DataObject, book: Rulebook) -> None:
    names = [f"column {place}" for place in range(width)]
    table = CellTable(names, spelt, book.vocabulary)
    for rows in data.draw(st.lists(st.lists(st.tuples(*[CELLS] * width), min_size=1, max_size=8), max_size=4)):
        frame = pl.DataFrame(rows, dict.fromkeys(names, pl.String), orient="row")
        facts, faults = table.rows(frame)
        assert facts.height == len(rows)
        for place, row in enumerate(rows):
            wanted = says(*row)
            spread = [at_end("depth", end) for end in range(ENDS)]
            ends = [facts.item(place, name if name in facts.columns else "depth") for name in spread]
            told = faults.filter(pl.col(AT) == place).get_column(FAULTS).to_list()
            if isinstance(wanted, str):
                assert ends == [None] * ENDS
                assert told == [[{"column": "depth", "words": wanted}]]
            else:
                assert tuple(ends) == wanted
                assert not told
