"""A week at the bench as a page: what is chosen, how good the choice is, the ranked list, and who was left out."""

from collections.abc import Iterator

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.layout import STRONG, hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.card.printing import column_width
from mendbook.card.yard.report import lay_out
from mendbook.card.yard.tables import Table
from mendbook.terms.week import LeftOut, Week

MOST = 30  # rows; the rest is in the data
CAUTION = "Before work on a tyre begins, read its own report and settle what holds it. Money never changes a verdict."


def week_report(week: Week, decisions: str, width: int) -> RenderableType:
    """Return the page of `week`, chosen from `decisions`, laid out for `width` columns (40 to 100)."""
    columns = column_width(width)
    return stack(
        line(f"{short(decisions)}: a week at the bench", STRONG),
        Text(),
        labelled(_head(week), columns, indent=0),
        _ranked(week, columns),
        _left_out(week),
        stack(heading("Basis"), hanging([("-", line(sentence(said))) for said in week.basis])),
        Text(),
        line(CAUTION, STRONG),
    )


def _head(week: Week) -> Iterator[tuple[str, RenderableType]]:
    taken = [job for job in week.jobs if job.is_chosen]
    yield (
        "This week",
        line(
            f"{len(taken)} of {len(week.jobs)} tyres that are worth repairing: {week.value:,.2f} {week.currency} "
            f"against new tyres, in {week.hours_used:,.1f} of {week.bench_hours:,.1f} bench hours.",
            STRONG,
        ),
    )
    limits = {kit: f" of {hours:,.1f} h" for kit, hours in week.kit_hours.items()}
    kits = (f"{plain(kit)} {hours:,.1f} h{limits.get(kit, ' (no limit)')}" for kit, hours in week.kit_used.items())
    yield "Kit", ", ".join(kits)
    yield "How good", _how_good(week)
    less = week.value - week.greedy_value
    told = "the same" if less < 0.005 else f"{less:,.2f} less"
    yield "By the list", f"down the list as long as they fit brings {week.greedy_value:,.2f}, {told}."
    yield "More hours", f"{week.more_hours:,.1f} hours more at the bench would bring {week.more_value:,.2f} more."


def _how_good(week: Week) -> str:
    bound = f"no choice can be worth more than {week.bound:,.2f}"
    if week.is_proven:
        return f"proven by the solver: {bound} (gap {100 * week.gap:.2f} %)."
    return f"the best that was found in time; {bound}, {100 * week.gap:.2f} % above it."


def _ranked(week: Week, width: int) -> RenderableType | None:
    if not week.jobs:
        return None
    heads = ("Tyre", "This week", f"{week.currency} an hour", "Value", "Bench h", "Kit h")
    rows = tuple(
        (
            short(job.tag, 20),
            "yes" if job.is_chosen else "-",
            f"{job.value_an_hour:,.2f}",
            f"{job.value:,.2f}",
            f"{job.bench_hours:,.1f}",
            f"{sum(job.kit_hours.values()):,.1f}",
        )
        for job in week.jobs
    )
    table = Table(heads, rows, words=2).first(MOST)
    more = f"And {table.left_out} more; --out FILE.csv or --json tells all." if table.left_out else ""
    return stack(
        heading("By value per bench hour, the best first"), lay_out(table, width), line(f"  {more}") if more else None
    )


def _left_out(week: Week) -> RenderableType | None:
    if not week.left_out:
        return None
    return stack(heading("Left out"), hanging([("-", line(_reason(one))) for one in week.left_out]))


def _reason(one: LeftOut) -> str:
    tags = ", ".join(short(tag, 20) for tag in one.tags)
    more = f" and {one.tyres - len(one.tags)} more" if one.tyres > len(one.tags) else ""
    return sentence(f"{one.tyres} {'tyre' if one.tyres == 1 else 'tyres'}: {one.why} ({tags}{more})")
