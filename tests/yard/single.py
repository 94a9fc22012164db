"""Each tyre of a yard as the single case it is."""

from collections.abc import Iterator

import polars as pl

from tests.triage.cases import Tree
from tests.yard.made import Made

SECTIONS = ("tyre", "service", "found", "workshop")


def trees(made: Made) -> Iterator[Tree]:
    """Yield each tyre as the map of a case file."""
    injuries = made.injuries.partition_by("tyre", as_dict=True)
    for row in made.tyres.iter_rows(named=True):
        tree: Tree = {"case": f"invented {row['tyre']}", "injuries": []}
        for column, cell in row.items():
            section, _, fact = column.partition(".")
            if cell is None or column in ("tyre", "row"):
                continue
            if column == "tag":
                tree.setdefault("tyre", {})["tag"] = cell
            elif fact:
                tree.setdefault(section, {})[fact] = cell
            else:
                tree[column] = cell
        own = injuries.get((row["tyre"],), pl.DataFrame())
        for injury in own.drop("row", "tyre", "injury", strict=False).iter_rows(named=True):
            tree["injuries"].append({name: cell for name, cell in injury.items() if cell is not None})
        yield tree
