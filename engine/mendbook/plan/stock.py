"""What plans draw on, read once: kit, goods, materials, compounds, and the steps of the work."""

from collections.abc import Mapping
from dataclasses import dataclass
from importlib.resources.abc import Traversable

from mendbook.plan.catalogue import Kit, read_kit
from mendbook.plan.goods import Good, read_goods
from mendbook.plan.script import Script, read_script
from mendbook.plan.substances import read_compounds, read_materials
from mendbook.terms.cure_wall import Compound, Material

FILL = "fill rubber"
GUM = "cushion gum"
NEEDED_COMPOUNDS = (FILL, GUM, "cured casing rubber", "cured reinforcement rubber")
NEEDED_MATERIALS = (
    "fill rubber, carbon-black natural rubber", "cushion gum, natural rubber with little filler",
    "casing, steel cord", "casing, textile cord", "reinforcement, textile cord",
)  # fmt: skip
SCRIPTS = ("preparation", "hot", "cold", "dress", "ladder")


@dataclass(frozen=True, eq=False)
class Stock:
    """The shop's shelf."""

    kit: Kit
    goods: Mapping[str, Good]
    materials: Mapping[str, Material]
    compounds: Mapping[str, Compound]
    scripts: Mapping[str, Script]

    @property
    def fill(self) -> Compound:
        """The fill rubber taken where the workshop names none."""
        return self.compounds[FILL]


def open_stock(knowledge: Traversable) -> Stock:
    """Return the stock in the folder `knowledge`.

    Raises RulebookError or DocumentError with file and line when an item cannot be read, and RulebookError
    when a material or compound that every plan needs is missing.
    """
    return Stock(
        kit=read_kit(knowledge / "kit"),
        goods=read_goods(knowledge / "stock"),
        materials=read_materials(knowledge / "materials", NEEDED_MATERIALS),
        compounds=read_compounds(knowledge / "compounds", NEEDED_COMPOUNDS),
        scripts={name: read_script(knowledge / "steps" / f"{name}.yaml") for name in SCRIPTS},
    )
