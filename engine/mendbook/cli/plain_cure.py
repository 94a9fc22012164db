"""A cure order from the options of the command line, and the file it may be kept in."""

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import yaml
from pydantic import ValidationError

from mendbook.cli.case_writing import WIDTH, check_target, write_text
from mendbook.cli.refusals import RefusalError
from mendbook.folders import folder
from mendbook.plan.plain_order import Figures, PlainOrderError, Shelf, plain_order
from mendbook.plan.stock import NEEDED_COMPOUNDS, NEEDED_MATERIALS
from mendbook.plan.substances import read_compound, read_compounds, read_materials
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_wall import Compound
from mendbook.terms.document import DocumentError
from mendbook.terms.quantity import Quantity, QuantityError, read_quantity
from mendbook.terms.units import Dimension

MM_PER_M = 1e3
DEVIATIONS = 4.0  # of an error between the two ends of a reading: they hold 95 %

MEASURES = {
    "thickness": Dimension.LENGTH,
    "reinforcement": Dimension.LENGTH,
    "casing": Dimension.LENGTH,
    "gum": Dimension.LENGTH,
    "ambient": Dimension.TEMPERATURE,
    "tyre": Dimension.TEMPERATURE,
    "setpoint": Dimension.TEMPERATURE,
    "pressure": Dimension.PRESSURE,
    "altitude": Dimension.LENGTH,
}
PLAIN = ("cord", "moisture", "faces", "schedule", "cooling", "precured", "preheated", "covered", "rate")


def read_figures(given: Mapping[str, Any]) -> CureOrder:
    """Return the order that the options `given` make. Raises RefusalError that names the option."""
    read = {name: _measure(name, given[name]) for name in MEASURES if given[name] is not None}
    thickness = read["thickness"]
    low, high = thickness.bounds or (0.0, 0.0)
    figures: dict[str, Any] = {name: _cautious(name, quantity) for name, quantity in read.items()}
    figures["altitude"] = figures.get("altitude", 0.0) / MM_PER_M
    figures |= {name: getattr(given[name], "value", given[name]) for name in PLAIN}
    try:
        knowledge = folder("knowledge")
        shelf = Shelf(
            materials=read_materials(knowledge / "materials", NEEDED_MATERIALS),
            compounds=read_compounds(knowledge / "compounds", NEEDED_COMPOUNDS),
        )
        return plain_order(
            Figures(**figures, fill=_fill(given["fill"]), thickness_error=(high - low) / DEVIATIONS), shelf
        )
    except (PlainOrderError, RulebookError, DocumentError) as problem:
        raise RefusalError(str(problem)) from problem
    except ValidationError as problem:
        said = "; ".join(str(fault["msg"]).removeprefix("Value error, ") for fault in problem.errors())
        raise RefusalError(f"these figures make no cure order: {said}") from problem


def save_order(order: CureOrder, out: Path) -> None:
    """Write `order` as YAML to the new file `out`. Raises RefusalError when it cannot be written."""
    check_target(out, is_forced=False)
    tree = order.model_dump(mode="json", exclude_defaults=True)
    write_text(yaml.safe_dump(tree, sort_keys=False, allow_unicode=True, width=WIDTH), out)


def _measure(name: str, text: str) -> Quantity:
    try:
        quantity = read_quantity(text, MEASURES[name])
    except QuantityError as problem:
        raise RefusalError(f"--{name}: {problem}") from problem
    if quantity.is_unknown:
        raise RefusalError(f"--{name}: a cure cannot be worked out from 'unknown'. Measure it, or leave it out.")
    return quantity


def _cautious(name: str, quantity: Quantity) -> float:
    """Return the reading, or of a range the end that makes the cure longer."""
    if quantity.value is not None:
        return quantity.value
    low, high = quantity.bounds or (0.0, 0.0)
    return low if name in ("ambient", "tyre", "setpoint", "pressure") else high


def _fill(given: str) -> str | Compound:
    """Return the name of a compound, or the compound in a file of that name."""
    file = Path(given)
    return read_compound(file) if file.suffix in (".yaml", ".yml") else given
