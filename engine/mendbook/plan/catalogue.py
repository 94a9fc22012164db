"""The kit catalogue: pads, bags, straps, plates, presses, moulds and circuits. Sizes [mm], power [W], force [N]."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass, fields, replace
from functools import cached_property
from importlib.resources.abc import Traversable
from typing import Any, TypeVar

from mendbook.plan.shelf import Item, read_items
from mendbook.plan.size import Size
from mendbook.terms.units import Dimension

LAP = 25.0  # mm by which two pads overlap; 20 to 30 is the house default

Span = tuple[float, float]
_Made = TypeVar("_Made")


@dataclass(frozen=True)
class Tool:
    """What every piece of kit has: an id, and the section widths it serves [mm]."""

    id: str
    widths: Span

    def serves(self, section_width: float) -> bool:
        """Return whether it serves a tyre of nominal section width `section_width` [mm]."""
        return self.widths[0] <= section_width + 0.05 and section_width <= self.widths[1] + 0.05


@dataclass(frozen=True)
class Pad(Tool):
    """A flexible heated pad. Only `heated` heats; `edge` [mm] around it stays cooler."""

    heated: Size
    edge: float
    power: float
    is_wrap: bool
    outside_only: bool

    @cached_property
    def layouts(self) -> tuple[tuple[Size, int], ...]:
        """What it heats one way round or the other, alone or two side by side, with the number of pads; none twice."""
        found: dict[Size, int] = {}
        for one in (self.heated, self.heated.turned):
            beside = Size(2 * one.around - LAP, one.across)
            above = Size(one.around, 2 * one.across - LAP)
            for heated, count in ((one, 1), (beside, 2), (above, 2)):
                found.setdefault(heated, count)
        return tuple(found.items())


@dataclass(frozen=True)
class Bag(Tool):
    """An air bag that presses; `rated` [bar gauge]."""

    presses: Size
    rated: float


@dataclass(frozen=True)
class Strap(Tool):
    """A strap around the section; `limit` is the working load limit of one leg [N]."""

    length: float
    limit: float


@dataclass(frozen=True)
class Spreader(Tool):
    """A plate between strap and bag; its longer side lies along the strap."""

    size: Size


@dataclass(frozen=True)
class Press(Tool):
    """Two rigid heated shoes or plates, one on each face; `reach` is throat or deepest fill [mm]."""

    heated: Size
    power: float
    force: float
    reach: float


@dataclass(frozen=True)
class Mould(Tool):
    """A rigid heated mould that holds a section against an air bag inside."""

    section: Span
    tread_radius: Span
    heated: Size
    power: float
    rated: float


@dataclass(frozen=True)
class Circuit:
    """A supply; `power` is its rating [W]."""

    id: str
    power: float


@dataclass(frozen=True)
class Kit:
    """The catalogue, or that part of it which is on hand."""

    pads: tuple[Pad, ...]
    outer_bags: tuple[Bag, ...]
    inner_bags: tuple[Bag, ...]
    straps: tuple[Strap, ...]
    spreaders: tuple[Spreader, ...]
    arm_presses: tuple[Press, ...]
    spot_presses: tuple[Press, ...]
    moulds: tuple[Mould, ...]
    circuits: tuple[Circuit, ...]
    used_strap_share: float
    least_straps: int
    used_circuit_share: float
    spare_throat: float

    def ids(self) -> frozenset[str]:
        """Return the id of every piece."""
        return frozenset(piece.id for field in fields(self) for piece in _pieces(getattr(self, field.name)))

    def only(self, ids: Iterable[str]) -> "Kit":
        """Return the kit with nothing but the pieces called `ids`; circuits stay."""
        held = {name.casefold() for name in ids}
        kept: dict[str, Any] = {
            field.name: tuple(piece for piece in pieces if piece.id.casefold() in held)
            for field in fields(self)
            if field.name != "circuits" and (pieces := _pieces(getattr(self, field.name)))
        }
        return replace(self, **kept)


def _pieces(value: object) -> tuple[Tool | Circuit, ...]:
    return value if isinstance(value, tuple) else ()


def read_kit(folder: Traversable) -> Kit:
    """Return the catalogue in `folder`. Raises RulebookError or DocumentError with file and line."""
    straps, circuits = read_items(folder / "straps.yaml")[0], read_items(folder / "circuits.yaml")[0]
    arms = read_items(folder / "arm_press.yaml")[0]
    return Kit(
        pads=_read(folder, "heated_pads", _pad),
        outer_bags=_read(folder, "outer_bags", _bag),
        inner_bags=_read(folder, "inner_bags", _bag),
        straps=_read(folder, "straps", _strap),
        spreaders=_read(folder, "spreader_plates", lambda item: Spreader(*_tool(item), size=item.size("size"))),
        arm_presses=_read(folder, "arm_press", lambda item: _press(item, "throat")),
        spot_presses=_read(folder, "spot_press", lambda item: _press(item, "deepest fill")),
        moulds=_read(folder, "sectional_moulds", _mould),
        circuits=_read(
            folder, "circuits", lambda item: Circuit(item.word("id"), item.number("power", Dimension.POWER))
        ),
        used_strap_share=straps.number("used share", Dimension.SHARE),
        least_straps=int(straps.number("least count", Dimension.COUNT)),
        used_circuit_share=circuits.number("used share", Dimension.SHARE),
        spare_throat=arms.number("spare throat", Dimension.LENGTH),
    )


def _read(folder: Traversable, name: str, make: Callable[[Item], _Made]) -> tuple[_Made, ...]:
    return tuple(make(item) for item in read_items(folder / f"{name}.yaml")[1])


def _tool(item: Item) -> tuple[str, Span]:
    return item.word("id"), item.span("section widths", Dimension.LENGTH)


def _pad(item: Item) -> Pad:
    return Pad(
        *_tool(item),
        heated=item.size("heated"),
        edge=item.number("edge strip", Dimension.LENGTH),
        power=item.number("power", Dimension.POWER),
        is_wrap=item.word("laid") != "either way round",
        outside_only=item.word("face") == "outside",
    )


def _bag(item: Item) -> Bag:
    return Bag(*_tool(item), presses=item.size("presses"), rated=item.number("rated pressure", Dimension.PRESSURE))


def _strap(item: Item) -> Strap:
    limit = item.number("working load limit", Dimension.FORCE)
    return Strap(*_tool(item), length=item.number("length", Dimension.LENGTH), limit=limit)


def _press(item: Item, reach: str) -> Press:
    return Press(
        *_tool(item),
        heated=item.size("heated"),
        power=item.number("power", Dimension.POWER),
        force=item.number("force", Dimension.FORCE),
        reach=item.number(reach, Dimension.LENGTH),
    )


def _mould(item: Item) -> Mould:
    return Mould(
        *_tool(item),
        section=item.span("section width", Dimension.LENGTH),
        tread_radius=item.span("tread radius", Dimension.LENGTH),
        heated=item.size("heated"),
        power=item.number("power", Dimension.POWER),
        rated=item.number("rated pressure", Dimension.PRESSURE),
    )
