"""Materials of the shelf: how dense, how much for a square metre, how much is wasted."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.plan.shelf import Item, read_items
from mendbook.terms.units import Dimension


@dataclass(frozen=True)
class Good:
    """One material. What does not apply to it is nothing or one."""

    id: str
    density: float = 0.0  # kg/l
    thickness: float = 0.0  # mm, of a sheet
    waste: float = 0.0  # share
    rate: float = 0.0  # l or m2 for each m2, of one coat or wipe
    coats_outside: int = 1
    coats_inside: int = 1


def read_goods(folder: Traversable) -> Mapping[str, Good]:
    """Return the materials in `folder` by id. Raises RulebookError or DocumentError with file and line."""
    files = sorted((file for file in folder.iterdir() if file.name.endswith(".yaml")), key=lambda file: file.name)
    goods = (_good(item) for file in files for item in read_items(file)[1])
    return {good.id: good for good in goods}


def _good(item: Item) -> Good:
    def count(key: str) -> int:
        return int(item.number(key, Dimension.COUNT)) if item.has(key) else 1

    wipes = count("wipes")
    return Good(
        id=item.word("id"),
        density=item.density() if item.has("density") else 0.0,
        thickness=item.number("thickness", Dimension.LENGTH) if item.has("thickness") else 0.0,
        waste=item.number("waste", Dimension.SHARE) if item.has("waste") else 0.0,
        rate=item.rate("use per area") if item.has("use per area") else 0.0,
        coats_outside=count("coats outside") * wipes,
        coats_inside=count("coats inside") * wipes,
    )
