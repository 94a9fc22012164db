"""What layers are made of and how fast they cure: knowledge/materials and knowledge/compounds."""

import re
from collections.abc import Iterable, Iterator, Mapping
from importlib.resources.abc import Traversable
from pathlib import Path
from typing import TypeVar

from pydantic import ValidationError

from mendbook.plan.shelf import Item
from mendbook.rulebook.errors import RulebookError
from mendbook.terms.cure_wall import Compound, Material
from mendbook.terms.document import read_document

_Kind = TypeVar("_Kind")

_FIGURE = r"(-?\d+(?:\.\d+)?) {unit}"


def read_materials(folder: Traversable, needed: Iterable[str]) -> Mapping[str, Material]:
    """Return every material in `folder` by name.

    Raises RulebookError or DocumentError with file and line, and RulebookError when one of `needed` is missing.
    """
    return _complete(folder, {material.name: material for material in map(_material, _files(folder))}, needed)


def read_compounds(folder: Traversable, needed: Iterable[str]) -> Mapping[str, Compound]:
    """Return every compound in `folder` by name.

    Raises RulebookError or DocumentError with file and line, and RulebookError when one of `needed` is missing.
    """
    return _complete(folder, {compound.name: compound for compound in map(_compound, _files(folder))}, needed)


def read_compound(file: Path) -> Compound:
    """Return the compound in `file`. Raises RulebookError or DocumentError with file and line."""
    document = read_document(file, name=str(file))
    return _compound(Item(document, (), document.tree))


def _complete(folder: Traversable, found: Mapping[str, _Kind], needed: Iterable[str]) -> Mapping[str, _Kind]:
    for name in needed:
        if name not in found:
            raise RulebookError(f"{folder}: nothing here is called '{name}', which every plan needs. Add its file.")
    return found


def _files(folder: Traversable) -> Iterator[Item]:
    for file in sorted(folder.iterdir(), key=lambda file: file.name):
        if file.name.endswith(".yaml"):
            document = read_document(file)
            yield Item(document, (), document.tree)


def _material(item: Item) -> Material:
    try:
        return Material(
            name=item.word("material"),
            conductivity_W_mK=_figure(item, "conductivity", "W/m/K"),
            density_kg_m3=_figure(item, "density", "kg/m3"),
            heat_capacity_J_kgK=_figure(item, "heat capacity", "J/kg/K"),
            basis=item.word("basis"),
        )
    except ValidationError as error:
        raise item.fault("material", error.errors()[0]["msg"]) from None


def _compound(item: Item) -> Compound:
    try:
        return Compound(
            name=item.word("compound"),
            t90_min=_figure(item, "t90", "min"),
            reference_C=_figure(item, "reference temperature", "°C"),
            activation_kJ_mol=_figure(item, "activation energy", "kJ/mol"),
            face_limit=_figure(item, "face limit", "x t90"),
            basis=item.word("basis"),
        )
    except ValidationError as error:
        raise item.fault("compound", error.errors()[0]["msg"]) from None


def _figure(item: Item, key: str, unit: str) -> float:
    found = re.fullmatch(_FIGURE.format(unit=re.escape(unit)), item.word(key))
    if found is None:
        raise item.fault(key, f"'{key}: {item.word(key)}' is no figure in {unit}", f"Write '{key}: 12 {unit}'.")
    return float(found[1])
