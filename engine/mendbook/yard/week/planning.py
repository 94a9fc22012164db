"""From the decisions of a review and the prices of its tyres to the choice for a week."""

from collections import defaultdict
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field

import polars as pl

from mendbook.terms.spelling import did_you_mean
from mendbook.terms.week import Job, LeftOut, Week
from mendbook.yard.week.choosing import choose, choose_greedily
from mendbook.yard.week.fault import WeekError
from mendbook.yard.week.jobs import JobMaker, Skipped, Written, group_rows

NEEDED = ("tyre", "tag", "name", "outcome", "verdict", "zone", "process", "kit", "cure minutes", "release minutes")
TOLD = 5  # tags of those left out
MORE = 0.1  # of the bench hours
TO_REPAIR = "repair"
OUTCOMES: Mapping[str, str] = {
    "stop": "stopped: people first; money has no say",
    "reject": "rejected: money has no say",
    "hold": "on hold: settle the holds and review again",
    "serve": "nothing is to be repaired",
}


@dataclass(frozen=True)
class Limits:
    """What there is in a week: hours at the bench [h], and under each kit that is named [h]."""

    bench_hours: float
    kit_hours: Mapping[str, float] = field(default_factory=dict)


def to_repair(decisions: pl.DataFrame) -> set[str]:
    """Return the tags of tyres that may be repaired now. Raises WeekError when the review made no plans."""
    missing = [name for name in NEEDED if name not in decisions.columns]
    if missing:
        raise WeekError(
            f"the decisions have no '{missing[0]}'. A week needs the plans of the repairs: review the yard again with "
            "--full."
        )
    return set(decisions.filter(pl.col("outcome") == TO_REPAIR).get_column("tag").cast(pl.String))


def plan_week(
    decisions: pl.DataFrame,
    written: Mapping[str, Written],
    prices: Mapping[str, Mapping[str, frozenset[str]]],
    maker: JobMaker,
    limits: Limits,
    basis: Sequence[str],
) -> Week:
    """Return the most valuable week within `limits`.

    decisions : of a review, with its plans
    written : what the sheet says of each tyre in `to_repair`, by tag
    prices : what is written of the money of single tyres, by tag
    Raises WeekError for a kit that no repair needs, and for tyres priced in several currencies.
    """
    jobs: list[Job] = []
    skipped: list[Skipped] = []
    for tag, outcome, rows in group_rows(decisions):
        if outcome != TO_REPAIR:
            skipped.append(Skipped(tag, OUTCOMES.get(outcome, outcome)))
            continue
        made = maker.make(tag, rows, written[tag], prices.get(tag, {}))
        if isinstance(made, Job):
            jobs.append(made)
        else:
            skipped.append(made)
    _check(decisions, maker.currencies, limits)
    jobs.sort(key=lambda job: (-job.value_an_hour, job.tag))
    best = choose(jobs, limits.bench_hours, limits.kit_hours)
    greedy = choose_greedily(jobs, limits.bench_hours, limits.kit_hours)
    more = choose(jobs, (1.0 + MORE) * limits.bench_hours, limits.kit_hours)
    marked = [
        job.model_copy(update={"is_chosen": is_chosen, "is_greedy": is_greedy})
        for job, is_chosen, is_greedy in zip(jobs, best.chosen, greedy, strict=True)
    ]
    taken = [job for job in marked if job.is_chosen]
    return Week(
        currency=next(iter(maker.currencies), ""),
        bench_hours=limits.bench_hours,
        kit_hours=dict(limits.kit_hours),
        jobs=tuple(marked),
        value=best.value,
        hours_used=sum(job.bench_hours for job in taken),
        kit_used=_kit_used(taken),
        bound=best.bound,
        gap=best.gap,
        is_proven=best.is_proven,
        greedy_value=sum(job.value for job in marked if job.is_greedy),
        more_hours=MORE * limits.bench_hours,
        more_value=max(0.0, more.value - best.value),
        left_out=tuple(_left_out(skipped)),
        basis=tuple(basis),
    )


def _check(decisions: pl.DataFrame, currencies: Mapping[str, str], limits: Limits) -> None:
    kits = sorted(decisions.get_column("kit").drop_nulls().unique().to_list())
    for kit in limits.kit_hours:
        if kit not in kits:
            raise WeekError(
                f"--kit {kit}: no repair of this yard is planned with it.{did_you_mean(kit, kits)} "
                f"Planned: {', '.join(kits) or 'none'}."
            )
    if len(currencies) > 1:
        told = " and ".join(f"{currency} (tyre {tag})" for currency, tag in currencies.items())
        raise WeekError(f"tyres are priced in {told}. One sum needs one currency: write all in it.")


def _kit_used(taken: Sequence[Job]) -> dict[str, float]:
    used: dict[str, float] = defaultdict(float)
    for job in taken:
        for kit, hours in job.kit_hours.items():
            used[kit] += hours
    return dict(sorted(used.items()))


def _left_out(skipped: Sequence[Skipped]) -> list[LeftOut]:
    by_reason: dict[str, list[str]] = defaultdict(list)
    for one in skipped:
        by_reason[one.why].append(one.tag)
    found = [LeftOut(why=why, tyres=len(tags), tags=tuple(tags[:TOLD])) for why, tags in by_reason.items()]
    return sorted(found, key=lambda one: (-one.tyres, one.why))
