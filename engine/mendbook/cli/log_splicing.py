"""A log held against its order, and against what its file held before."""

from dataclasses import replace

import numpy as np

from mendbook.cli.cure_log import CureLog, LogError
from mendbook.cli.log_headings import HOW
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_state import Fault


def check_against(log: CureLog, order: CureOrder, name: str) -> None:
    """Raise LogError where the log is of another wall or of other pads than `order`."""
    thickness = sum(layer.thickness_mm for layer in order.layers)
    for heading in log.headings:
        if heading.depth_mm is not None and heading.depth_mm > thickness:
            raise LogError(
                f"{name}: '{heading.name}' lies {heading.depth_mm:g} mm deep, and the wall of the order is "
                f"{thickness:g} mm thick. Count the depth from the outside face."
            )
    pads = {"outside": order.outside, "inside": order.inside}
    if not any(heading.kind in pads and pads[heading.kind].present for heading in log.headings):
        raise LogError(f"{name}: the pad that the order heats with is not in the log. {HOW}")


def splice(old: CureLog, new: CureLog) -> CureLog:
    """Return the log as it is known once its file was written anew: what it held before is not forgotten.

    A file cut short keeps its lines; one that goes on later, as after a rotation, is joined; any other replaces it.
    """
    if [heading.name for heading in old.headings] != [heading.name for heading in new.headings]:
        return _replaced(new)
    short = len(new.moments) <= len(old.moments)
    if short and np.array_equal(new.moments, old.moments[: len(new.moments)]):
        return old
    if new.moments[0] <= old.moments[0]:
        grown = not short and np.array_equal(old.moments, new.moments[: len(old.moments)])
        return new if grown else _replaced(new)
    keep = old.moments < new.moments[0]
    return replace(
        new,
        moments=np.concatenate([old.moments[keep], new.moments]),
        readings=np.concatenate([old.readings[:, keep], new.readings], axis=1),
        began=old.began,
    )


def _replaced(log: CureLog) -> CureLog:
    fault = Fault(
        kind="late start",
        where="",
        from_min=0.0,
        to_min=0.0,
        said="The file was begun anew while it was followed.",
        done="What it held before is not counted. If it is the same cure, put both parts into one file.",
    )
    return replace(log, faults=(*log.faults, fault))
