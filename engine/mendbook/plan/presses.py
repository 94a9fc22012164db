"""Rigid heated kit: arm press, spot press and sectional mould, where they touch all over."""

from collections.abc import Iterable, Iterator

from mendbook.facts.method import CROWN_RADIUS
from mendbook.plan.catalogue import Kit, Mould, Press
from mendbook.plan.harness import RATED
from mendbook.plan.size import Size
from mendbook.plan.task import Task, sag

FLAT = 3.0  # mm of sag under a flat plate; house default
SHAPED = 10.0  # mm of sag under a shaped shoe; house default


def fit_arm_press(kit: Kit, task: Task) -> list[Press]:
    """Return the arm presses whose shoes cover both faces, touch, and reach the injury; the smallest first."""
    return sorted(
        (
            press
            for press in kit.arm_presses
            if press.serves(task.section_width)
            and press.reach >= reach_in(task) + kit.spare_throat
            and touches(needed(task), task, SHAPED)
            and any(shoe.covers(needed(task)) for shoe in (press.heated, press.heated.turned))
        ),
        key=lambda press: (press.heated.area, press.reach),
    )


def fit_spot_press(kit: Kit, task: Task) -> list[Press]:
    """Return the spot presses whose plates cover the fill, touch, and heat it through; the smallest first."""
    return sorted(
        (
            press
            for press in kit.spot_presses
            if task.verdict == "spot"
            and press.serves(task.section_width)
            and press.reach >= task.depth
            and touches(needed(task), task, FLAT)
            and any(plate.covers(needed(task)) for plate in (press.heated, press.heated.turned))
        ),
        key=lambda press: press.heated.area,
    )


def fit_mould(kit: Kit, task: Task) -> list[Mould]:
    """Return the moulds whose profile fits the inflated width, and whose heat covers; the smallest first."""
    return sorted(_fitting_moulds(kit.moulds, task), key=lambda mould: mould.heated.area)


def reach_in(task: Task) -> float:
    """Return how deep an arm reaches in, straight from the bead to the middle of the injury [mm].

    Along the surface, which is never shorter; the section height in the crown or where the place is unknown.
    """
    centre = task.place.centre
    return task.height if task.is_crown or centre is None else min(centre, task.height)


def touches(pressed: Size, task: Task, allowed: float) -> bool:
    """Return whether a rigid shoe leaves no gap over `allowed` [mm] where it must press, either way."""
    around = sag(pressed.around, task.place.around_radius)
    return max(around, sag(pressed.across, task.place.across_radius)) <= allowed


def needed(task: Task) -> Size:
    """Return what rigid kit must cover [mm]: the same on both faces where both are heated."""
    return task.outside.joined(task.inside) if task.both_faces else task.outside


def _fitting_moulds(moulds: Iterable[Mould], task: Task) -> Iterator[Mould]:
    radius = CROWN_RADIUS * task.inflated_width
    for mould in moulds:
        profile = mould.section[0] <= task.inflated_width <= mould.section[1]
        profile = profile and mould.tread_radius[0] <= radius <= mould.tread_radius[1]
        if profile and mould.rated >= RATED * task.pressure and mould.heated.covers(needed(task)):
            yield mould
