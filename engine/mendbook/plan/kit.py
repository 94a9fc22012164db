"""Which kit does the task: the set chosen, its runner-up, its power, or what would serve."""

from dataclasses import dataclass
from typing import TypeVar

from mendbook.plan.bench import Bench
from mendbook.plan.catalogue import Bag, Kit, Mould, Press, Tool
from mendbook.plan.harness import (
    PAST_INSIDE,
    PAST_OUTSIDE,
    RATED,
    fit_bags,
    fit_spreaders,
    fit_straps,
    leg_force,
    plates_needed,
    push,
    strap_length,
    straps_needed,
)
from mendbook.plan.pads import Laid, lay_pads
from mendbook.plan.presses import fit_arm_press, fit_mould, fit_spot_press, reach_in
from mendbook.plan.size import Size
from mendbook.plan.task import Task
from mendbook.terms.plan import KitItem

_Piece = TypeVar("_Piece", bound=Tool)


@dataclass(frozen=True)
class Outfit:
    """A set of kit for one repair. `figures` fill the blanks of the steps; it serves when nothing is lacking."""

    items: tuple[KitItem, ...]
    power: float
    figures: dict[str, str]
    lacking: tuple[str, ...] = ()
    needs_shield: bool = False


def fit_out(kind: str, task: Task, bench: Bench, catalogue: Kit) -> Outfit:
    """Return the kit of `kind` for `task` from the bench, with what is lacking and what would serve.

    catalogue : the whole of it, to name what would serve where the bench holds only a part
    """
    match kind:
        case "flexible pads":
            return _pads(task, bench, catalogue)
        case "arm press":
            return _press("arm press", fit_arm_press(bench.kit, task), fit_arm_press(catalogue, task), task)
        case "spot press":
            return _press("spot press", fit_spot_press(bench.kit, task), fit_spot_press(catalogue, task), task)
        case _:
            return _mould(fit_mould(bench.kit, task), fit_mould(catalogue, task), task)


def _pads(task: Task, bench: Bench, catalogue: Kit) -> Outfit:
    faces = [("outside", task.outside, PAST_OUTSIDE, bench.kit.outer_bags, catalogue.outer_bags)]
    faces.append(("inside", task.inside, PAST_INSIDE, bench.kit.inner_bags, catalogue.inner_bags))
    items: list[KitItem] = []
    lacking: list[str] = []
    figures = {"reach": f"{task.reach:.0f} mm"}
    pressed: list[Size] = []
    bags: list[str] = []
    power, shielded = 0.0, False
    for face, needed, past, held, listed in faces:
        heated = needed
        if face == "outside" or task.both_faces:
            laid = _lay(bench.kit, needed, task, face)
            if laid:
                items.append(_pad_item(face, laid, needed, task))
                heated, power, shielded = laid[0].heated, power + laid[0].power, shielded or laid[0].needs_shield
                figures[f"{face} pad"] = _pad_words(laid[0])
            else:
                others = _lay(catalogue, needed, task, face)
                lacking.append(
                    _lack(f"{face} pad", others[0].pad.id if others else "", f"heated {needed.rounded_up(5)} or more")
                )
        fitting = fit_bags(held, heated, task.pressure, task.section_width, past)
        if fitting:
            items.append(_bag_item(face, fitting, heated, past, task.pressure))
            pressed.append(fitting[0].presses)
            bags.append(fitting[0].id)
        else:
            would = fit_bags(listed, heated, task.pressure, task.section_width, past)
            size = f"{heated.grown(past).rounded_up(5)} or more, rated {RATED * task.pressure:.2g} bar or more"
            lacking.append(_lack(f"{face} bag", _first(would), size))
    figures["bags"] = " and ".join(bags)
    _strap(pressed, task, bench, items, lacking, figures)
    return Outfit(tuple(items), power, figures, tuple(lacking), shielded)


def _lay(kit: Kit, needed: Size, task: Task, face: str) -> list[Laid]:
    return lay_pads(kit.pads, needed, task.place, task.section_width, inside=face == "inside")


def _strap(
    pressed: list[Size],
    task: Task,
    bench: Bench,
    items: list[KitItem],
    lacking: list[str],
    figures: dict[str, str],
) -> None:
    """Add straps and spreaders. A strap runs round the section, so it holds the stronger of the two bags."""
    kit = bench.kit
    bag = max(pressed, key=lambda size: size.area, default=task.outside.grown(PAST_OUTSIDE))
    force, length = push(bag, task.pressure), strap_length(task.place.half_girth, task.inflated_width)
    straps = fit_straps(kit.straps, length, task.section_width)
    if not straps:
        lacking.append(_lack("straps", "", f"{length / 1000:.1f} m long or more"))
        return
    strap = straps[0]
    count = straps_needed(force, strap.limit, kit.used_strap_share, kit.least_straps)
    leg, most = leg_force(force, count) / 1000, kit.used_strap_share * strap.limit / 1000
    figures |= {"straps": f"{count} x {strap.id}", "leg force": f"{leg:.1f} kN", "leg limit": f"{most:.0f} kN"}
    items.append(
        KitItem(
            role="straps", item=strap.id, size=f"{strap.length / 1000:.1f} m", count=count,
            because=(
                f"{force / 1000:.1f} kN at {task.pressure:g} bar pull {leg:.1f} kN in each leg, at most {most:.0f} kN; "
                f"never fewer than {kit.least_straps}; {length / 1000:.2f} m needed (house default)"
            ),
            runner_up=straps[1].id if len(straps) > 1 else "",
        )
    )  # fmt: skip
    across = min(bag.around, bag.across)
    plates = fit_spreaders(kit.spreaders, across, task.section_width)
    if not plates:
        lacking.append(_lack("spreaders", "", f"{across:.0f} mm long or more, for this section width"))
        return
    items.append(
        KitItem(
            role="spreaders", item=plates[0].id, size=str(plates[0].size),
            count=plates_needed(plates[0], across, count),
            because=f"under every strap across a bag {across:.0f} mm wide (house default)",
            runner_up=plates[1].id if len(plates) > 1 else "",
        )
    )  # fmt: skip


def _pad_words(laid: Laid) -> str:
    beside = f"2 x {laid.pad.id}, side by side with 20 to 30 mm overlap" if laid.count > 1 else laid.pad.id
    shifted = f", {laid.shift:.0f} mm towards the crown" if laid.shift >= 1 else ""
    return f"{beside}, heated {laid.heated}, around x across{shifted}"


def _pad_item(face: str, ways: list[Laid], needed: Size, task: Task) -> KitItem:
    laid = ways[0]
    other = next((way for way in ways if way.pad != laid.pad), None)
    why = (
        f"heat reaches {task.reach:.0f} mm past the opening, {task.reach_why}"
        if face == "outside"
        else "reinforcement and 25 mm, or heat as far as outside"
    )
    shield = "; it lies within 30 mm of the bead wire: shield the bead" if laid.needs_shield else ""
    return KitItem(
        role=f"{face} pad", item=laid.pad.id, size=f"{laid.heated}, around x across", count=laid.count,
        because=f"covers {needed}: {why}{shield} (house default)",
        runner_up="" if other is None else f"{f'{other.count} x ' if other.count > 1 else ''}{other.pad.id}",
    )  # fmt: skip


def _bag_item(face: str, bags: list[Bag], heated: Size, past: float, pressure: float) -> KitItem:
    return KitItem(
        role=f"{face} bag", item=bags[0].id, size=str(bags[0].presses),
        because=(
            f"covers {heated} and {past:.0f} mm more on every side (house default); rated {bags[0].rated:g} bar, "
            f"at least {RATED} times {pressure:g} bar (common practice, no source)"
        ),
        runner_up=bags[1].id if len(bags) > 1 else "",
    )  # fmt: skip


def _press(role: str, held: list[Press], listed: list[Press], task: Task) -> Outfit:
    if not held:
        size = f"{task.outside.joined(task.inside).rounded_up(5)} or more"
        if role == "arm press":
            size += f", throat {reach_in(task) + 60:.0f} mm or more"
        return Outfit((), 0.0, {}, (_lack(role, _first(listed), size),))
    press = held[0]
    item = KitItem(
        role=role, item=press.id, size=str(press.heated),
        because=f"covers {task.outside}, touches the wall all over and reaches the injury (house default)",
        runner_up=_second(held),
    )  # fmt: skip
    return Outfit((item,), press.power, {"press": press.id})


def _mould(held: list[Mould], listed: list[Mould], task: Task) -> Outfit:
    if not held:
        size = f"for an inflated width of {task.inflated_width:.0f} mm, heated {task.outside.joined(task.inside)}"
        return Outfit((), 0.0, {}, (_lack("sectional mould", _first(listed), size),))
    item = KitItem(
        role="sectional mould", item=held[0].id, size=str(held[0].heated),
        because=f"profile fits an inflated width of {task.inflated_width:.0f} mm; template it first (house default)",
        runner_up=_second(held),
    )  # fmt: skip
    return Outfit((item,), held[0].power, {"press": held[0].id})


def _first(pieces: list[_Piece]) -> str:
    return pieces[0].id if pieces else ""


def _second(pieces: list[_Piece]) -> str:
    return pieces[1].id if len(pieces) > 1 else ""


def _lack(role: str, would: str, size: str) -> str:
    if would:
        return f"{role}: none on hand serves; '{would}' of the catalogue would"
    return f"{role}: none in the catalogue serves; one {size} would"
