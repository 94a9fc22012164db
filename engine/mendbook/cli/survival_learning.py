"""What follow-ups tell of how long repairs hold: printed, or written in the form of knowledge/survival."""

import json
from collections.abc import Sequence
from dataclasses import asdict
from datetime import date
from itertools import groupby
from pathlib import Path

from mendbook.card.survived import survived
from mendbook.cli.keeping import opened, running
from mendbook.cli.refusals import RefusalError, refusing
from mendbook.cli.screen import show, write
from mendbook.record.entry import Unit
from mendbook.record.outcomes import find_outcomes
from mendbook.record.survival import Group, learn

AT = {"h": (1000.0, 4000.0), "km": (20_000.0, 80_000.0)}


def print_survival(where: str, early: Sequence[str], at: Sequence[str], target: Path | None, *, as_json: bool) -> None:
    """Print how long repairs hold, or write it into the folder `target`. Raises RefusalError."""
    limits: dict[Unit, float] = {}
    for one in early:
        amount, unit = running(one, "--early")
        limits[unit] = amount
    times = [running(one, "--at") for one in at]
    with opened(where) as record:
        groups = learn(find_outcomes(record), limits)
        name = record.name
    if target is not None:
        _write(groups, name, target)
    elif as_json:
        write(json.dumps([asdict(group) | {"too_few": group.is_too_few} for group in groups], indent=2))
    else:
        asked = {unit: tuple(a for a, u in times if u == unit) or usual for unit, usual in AT.items()}
        show(lambda width: survived(groups, asked, width))


def _write(groups: Sequence[Group], name: str, target: Path) -> None:
    """Write a file for each class whose repairs are enough to tell, for the worth of a repair to reckon with."""
    told = [one for one in groups if one.unit == "h" and one.early and one.mean_life]
    if not told:
        raise RefusalError(f"{name}: too few repairs were followed up in hours to write anything down.")
    with refusing(OSError):
        target.mkdir(parents=True, exist_ok=True)
        for klass, items in groupby(told, key=lambda one: one.klass):
            file = target / f"{klass}.yaml"
            # The first that fits counts, so all zones together come last.
            in_order = sorted(items, key=lambda one: one.zone == "")
            file.write_text(_file(klass, in_order, name), encoding="utf-8")
            write(f"Written: {file}")


def _file(klass: str, groups: Sequence[Group], name: str) -> str:
    lines = [
        f"# How long {klass} repairs held, by follow-ups. The first item that fits counts.",
        f"survival: {klass}",
        f"owner: {json.dumps(name, ensure_ascii=False)}",
        f"reviewed: {date.today().isoformat()}",
        "items:",
    ]
    for one in groups:
        early, life = one.early, one.mean_life
        assert early is not None
        assert life is not None
        body = [
            *([f"zone: [{one.zone}]"] if one.zone else []),
            f"early loss: {100 * early.chance.value:.2f} %",
            f"early loss range: {100 * early.chance.low:.2f} to {100 * early.chance.high:.2f} %",
            f"mean life: {life.value:.0f} h",
            f"mean life range: {life.low:.0f} to {life.high:.0f} h",
            f"source: followed up, {one.repairs} repairs, {one.lost} lost",
            f"note: Early is within {early.before:g} h, of which {early.known} repairs tell. Ends hold in 95 of 100.",
        ]
        lines += [f"{'  - ' if place == 0 else '    '}{said}" for place, said in enumerate(body)]
    return "\n".join(lines) + "\n"
