"""How long repairs hold by their follow-ups, in words that say from how many."""

from collections.abc import Iterator, Mapping, Sequence

from rich.console import RenderableType

from mendbook.card.layout import heading, stack, table
from mendbook.card.lettering import line, plain
from mendbook.record.survival import EARLY, FEWEST_LOSSES, FEWEST_REPAIRS, LEVEL, Group, Step


def survived(groups: Sequence[Group], at: Mapping[str, Sequence[float]], width: int) -> RenderableType:
    """Return how long repairs of each class hold in each zone; `at` says after what [unit]."""
    if not groups:
        return line("No repair of the record was followed up yet.")
    parts: list[RenderableType] = []
    for unit in sorted({group.unit for group in groups}):
        same = [group for group in groups if group.unit == unit]
        heads = ("Class", "Zone", "Repairs", "Lost", "Early loss", *(f"Hold {ran:g} {unit}" for ran in at[unit]))
        parts += [
            heading(f"Counted in {unit}"),
            table(heads, [_row(group, at[unit]) for group in same], width),
        ]
        early = next((group.early for group in same if group.early), None)
        if early:
            basis = " (house default)" if early.before == EARLY[unit] else ""
            right = f"{100 * LEVEL:.0f} in 100 intervals are right."
            parts.append(line(f"Early: within {early.before:g} {unit}{basis}. {right}"))
    parts += [heading("What it rests on"), *map(line, _limits())]
    return stack(*parts)


def _row(group: Group, at: Sequence[float]) -> Sequence[str]:
    early = group.early
    lost = "not known"
    if early is not None:
        lost = f"{early.lost} of {early.known}: {_share(early.chance.low)} to {_share(early.chance.high)}"
    zone = plain(group.zone) or "all zones"
    return (group.klass, zone, f"{group.repairs}", f"{group.lost}", lost, *(_hold(group.at(ran)) for ran in at))


def _hold(step: Step | str | None) -> str:
    if step is None:
        return "too few to say"
    if isinstance(step, str):
        return "nothing known"
    ends = "" if step.low is None or step.high is None else f" ({_share(step.low)} to {_share(step.high)})"
    return f"{_share(step.share)}{ends}"


def _share(share: float) -> str:
    return f"{share:.0%}".replace("%", " %")


def _limits() -> Iterator[str]:
    yield (
        f"A share is told from {FEWEST_REPAIRS} repairs with {FEWEST_LOSSES} losses on (house default); Kaplan and "
        "Meier's estimate, where a repair that still runs or was removed for another reason is one that held so long."
    )
    yield "Early losses are counted among repairs whose first shifts are known; the interval is Jeffreys'."
