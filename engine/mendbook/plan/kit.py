"""Which kit does the task, kind by kind."""

from collections.abc import Sequence

from mendbook.plan.catalogue import Kit, Mould, Press
from mendbook.plan.flexible import fit_flexible
from mendbook.plan.outfit import Outfit, lack, patch, runner_up
from mendbook.plan.presses import fit_arm_press, fit_mould, fit_spot_press, needed, reach_in
from mendbook.plan.task import Task
from mendbook.terms.plan import KitItem


def fit_out(kind: str, task: Task, kit: Kit, catalogue: Kit) -> Outfit:
    """Return the kit of `kind` for `task`, with what is lacking and what would serve.

    kind : a word of the rulebook's kit group
    kit : what may be used; `catalogue` is the whole of it, to name what would serve
    """
    match kind:
        case "flexible pads":
            return fit_flexible(kit, catalogue, task)
        case "arm press":
            throat = f", throat {reach_in(task) + catalogue.spare_throat:.0f} mm or more"
            return _rigid(
                task, kind, fit_arm_press(kit, task), fit_arm_press(catalogue, task), _covering(task) + throat
            )
        case "spot press":
            return _rigid(task, kind, fit_spot_press(kit, task), fit_spot_press(catalogue, task), _covering(task))
        case "sectional mould":
            size = f"for an inflated width of {task.inflated_width:.0f} mm, {_covering(task)}"
            return _rigid(task, kind, fit_mould(kit, task), fit_mould(catalogue, task), size)
        case _:
            return Outfit(lacking=(f"{kind}: the catalogue has no such kind; describe its sizes first",))


def _rigid(task: Task, kind: str, held: Sequence[Press | Mould], listed: Sequence[Press | Mould], size: str) -> Outfit:
    if not held:
        return Outfit(lacking=(lack(kind, listed, size),))
    item = KitItem(
        role=kind,
        item=held[0].id,
        size=str(held[0].heated),
        because="covers opening and reinforcement, and touches the wall all over; template it first (house default)",
        runner_up=runner_up(held),
    )
    heated = held[0].heated if held[0].heated.covers(needed(task)) else held[0].heated.turned
    laid = tuple(patch(f"{face} of the {kind}", heated) for face in ("outside", "inside"))
    return Outfit(
        (item,), held[0].power, {"press": held[0].id}, heated={"outside": heated, "inside": heated}, patches=laid
    )


def _covering(task: Task) -> str:
    return f"heated {task.outside.joined(task.inside).rounded_up(5)} or more"
