"""Materials and amounts of one repair."""

from collections.abc import Iterator, Mapping
from math import ceil

from mendbook.plan.cavity import Cavity, ellipse
from mendbook.plan.goods import Good
from mendbook.plan.size import Size
from mendbook.terms.plan import Amount

RING = 25.0  # mm buffed round the opening; house default
BORDER = 20.0  # mm buffed round the reinforcement; house default
SEAL = 25.0  # mm that a seal reaches past the hole inside; house default
SQUARE_METRE = 1e6  # mm2
LITRE = 1e6  # mm3


def buffed_outside(cavity: Cavity) -> float:
    """Return the area buffed outside [m2]: the walls of the cavity and a ring round its opening."""
    ring = ellipse(cavity.opening.grown(RING)) - ellipse(cavity.opening)
    return (cavity.wall + ring) / SQUARE_METRE


def buffed_inside(lining: Size | None) -> float:
    """Return the area buffed inside [m2]: what is laid over the injury there and a border round it."""
    return 0.0 if lining is None else lining.grown(BORDER).area / SQUARE_METRE


def lining_of(cavity: Cavity, reinforcement: Size | None) -> Size | None:
    """Return what covers the injury inside [mm]: its reinforcement, else a seal over a hole right through."""
    if reinforcement is not None:
        return reinforcement
    return (cavity.inside or cavity.floor).grown(SEAL) if cavity.is_through else None


def amounts(
    cavity: Cavity,
    reinforcement: Size | None,
    zone: str,
    goods: Mapping[str, Good],
    *,
    reinforcement_kind: str = "",
    reinforcement_thickness: float = 0.0,
    is_cold: bool = False,
) -> tuple[Amount, ...]:
    """Return every material of a repair and how much of it, waste included.

    cavity, reinforcement : shape of the injury and size of what bridges it [mm]
    zone : where it lies; crown and shoulder are filled with tread rubber, walls with sidewall rubber
    reinforcement_kind, reinforcement_thickness : what is laid in [mm]
    is_cold : chemical-cure fluid takes the place of cement
    """
    lining = lining_of(cavity, reinforcement)
    outside, inside = buffed_outside(cavity), buffed_inside(lining)
    fill = goods[f"fill rubber, {'sidewall' if 'sidewall' in zone else 'tread'}"]
    return (
        _mass(fill, cavity.volume / LITRE, f"{cavity.volume / 1000:.0f} cm3 of cavity"),
        *_sheets(cavity, reinforcement, lining, goods),
        *_bridge(reinforcement, reinforcement_kind, reinforcement_thickness, goods),
        _coats(goods["chemical-cure fluid" if is_cold else "cement"], outside, inside),
        _coats(goods["solvent"], outside, inside),
        *(() if is_cold else _cloths(cavity, lining, inside, goods)),
    )


def _sheets(cavity: Cavity, reinforcement: Size | None, lining: Size | None, goods: Mapping[str, Good]) -> list[Amount]:
    gum, liner = goods["cushion gum"], goods["liner rubber"]
    bonded = cavity.wall + (0.0 if lining is None else lining.area)
    found = [
        _mass(gum, bonded * gum.thickness / LITRE, f"{gum.thickness:g} mm sheet on {bonded / SQUARE_METRE:.3f} m2")
    ]
    if lining is not None and reinforcement is None:
        found.append(_mass(liner, lining.area * liner.thickness / LITRE, f"seal inside, {lining}"))
    return found


def _bridge(size: Size | None, kind: str, thickness: float, goods: Mapping[str, Good]) -> Iterator[Amount]:
    if size is not None and kind:
        yield _mass(goods[kind], size.area * thickness / LITRE, f"{size}, about {thickness:.0f} mm thick")


def _cloths(cavity: Cavity, lining: Size | None, inside: float, goods: Mapping[str, Good]) -> Iterator[Amount]:
    bleeder, film = goods["bleeder cloth"], goods["release film"]
    if inside:
        yield Amount(
            material=bleeder.id,
            amount=_rounded(bleeder.rate * inside),
            unit="m2",
            basis=_basis("over the buffed inside"),
        )
    faces = cavity.opening.grown(RING).area / SQUARE_METRE + (0.0 if lining is None else inside)
    yield Amount(material=film.id, amount=_rounded(film.rate * faces), unit="m2", basis=_basis("on each face"))


def _mass(good: Good, litres: float, what: str) -> Amount:
    kilograms = litres * good.density * (1 + good.waste)
    return Amount(
        material=good.id, amount=_rounded(kilograms), unit="kg",
        basis=_basis(f"{what}, {good.density:g} kg/l, waste {100 * good.waste:.0f} %"),
    )  # fmt: skip


def _coats(good: Good, outside: float, inside: float) -> Amount:
    litres = good.rate * (outside * good.coats_outside + inside * good.coats_inside) * (1 + good.waste)
    return Amount(
        material=good.id, amount=_rounded(litres), unit="l",
        basis=_basis(f"{outside:.3f} m2 outside, {inside:.3f} m2 inside, {good.rate:g} l/m2 a time"),
    )  # fmt: skip


def _rounded(amount: float) -> float:
    """Return hundredths, rounded up, so that nothing runs short."""
    return ceil(amount * 100 - 1e-9) / 100


def _basis(what: str) -> str:
    return f"{what}; house default"
