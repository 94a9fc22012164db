"""The plan: how each permitted repair is done, with what, in which steps, and the way back to service."""

from collections.abc import Iterable, Iterator, Sequence

from rich.console import RenderableType
from rich.text import Text

from mendbook.card.cure_report import heat_words, stage_words, stages_of
from mendbook.card.layout import QUIET, STRONG, hanging, heading, labelled, stack
from mendbook.card.lettering import line, plain, sentence, short
from mendbook.terms.answers import verdict_words
from mendbook.terms.plan import Amount, KitItem, Limit, Method, Plan, Repair, Step, WhyNot


def repairs(plan: Plan | None, width: int) -> RenderableType | None:
    """Return method, kit and materials of every repair, without their steps."""
    if plan is None or not plan.repairs:
        return None
    several = sum(bool(repair.cure or repair.second_cure) for repair in plan.repairs) > 1
    power = labelled([("Power", sentence(plan.power))], width) if plan.power else None
    return stack(*(_repair(repair, width, warns=several) for repair in plan.repairs), power)


def _title(what: str, repair: Repair) -> str:
    return f"{what} {short(repair.injury, 30)}: {verdict_words(repair.verdict)}, {plain(repair.zone)}"


def _repair(repair: Repair, width: int, *, warns: bool) -> RenderableType:
    return stack(heading(_title("Plan for", repair)), labelled(_parts(repair, warns=warns), width))


def _parts(repair: Repair, *, warns: bool) -> Iterator[tuple[str, RenderableType]]:
    yield "Method", method_words(repair.method)
    for refused in repair.why_not:
        yield "Why not", _why_not(refused)
    if repair.thickness_mm is not None:
        yield "To heat", f"{repair.thickness_mm:.0f} mm thick"
    yield from _cures(repair, warns=warns)
    yield "Reinforce", f"at least {plain(repair.reinforcement)}" if repair.reinforcement else ""
    for item in repair.kit:
        yield "Kit", _kit(item)
    for lack in repair.not_served:
        yield "Missing", sentence(lack)
    for amount in repair.materials:
        yield "Materials", _amount(amount)


def _cures(repair: Repair, *, warns: bool) -> Iterator[tuple[str, RenderableType]]:
    """Yield every cure of a repair; `warns` adds the warnings, where only the longest cure is told in full."""
    stages = stages_of(repair)
    for stage in stages:
        name, sheet = stage
        if name:
            yield "Cure", stage_words(stage)
        elif sheet is not None:
            yield "Cure", heat_words(sheet)
    for _, sheet in stages if warns else ():
        for warning in sheet.warnings if sheet else ():
            yield "Warning", line(sentence(warning), STRONG)


def method_words(method: Method | None) -> str:
    """Return the method in one line."""
    if method is None:
        return "No process is left, or none is needed."
    chosen = (method.heat, method.stages, method.reinforcement, method.heating, method.kit)
    return sentence(", ".join(plain(word) for word in chosen if word))


def _why_not(refused: WhyNot) -> Text:
    return line(f"{plain(refused.method)}: {plain(refused.because).rstrip('.')}").append_text(_basis(refused.source))


def _kit(item: KitItem) -> Text:
    count = f"{item.count} x " if item.count > 1 else ""
    size = f", {plain(item.size)}" if item.size else ""
    told = line(f"{plain(item.role)}: {count}{plain(item.item)}{size}").append_text(_basis(item.because.rstrip(".")))
    return told.append(f"; next best: {plain(item.runner_up)}" if item.runner_up else "")


def _amount(amount: Amount) -> Text:
    told = f"{plain(amount.material)}: {amount.amount:g} {plain(amount.unit)}".rstrip()
    return line(told).append_text(_basis(amount.basis))


def _basis(basis: str) -> Text:
    return Text(f" ({plain(basis)})" if basis else "", style=QUIET)


def limits(told: Sequence[Limit]) -> RenderableType | None:
    """Return the limits on the tyre after its repair, None when there are none."""
    rows = [line(f"{plain(limit.what)}: {plain(limit.limit)}").append_text(_basis(limit.basis)) for limit in told]
    if not rows:
        return None
    mind = dict.fromkeys(limit.caution for limit in told if limit.caution)
    warned = [("!", line(sentence(caution), STRONG)) for caution in mind]
    return stack(heading("Limits in service"), hanging([*warned, *(("-", row) for row in rows)]))


def work(plan: Plan | None) -> RenderableType | None:
    """Return the steps of every repair in order, None when there are none."""
    if plan is None:
        return None
    parts = [
        stack(heading(_title("Steps for", repair)), steps(repair.steps)) for repair in plan.repairs if repair.steps
    ]
    return stack(*parts) if parts else None


def ladder(plan: Plan | None) -> RenderableType | None:
    """Return the way from the end of the cure back to service, None when there is none."""
    if plan is None or not plan.ladder:
        return None
    return stack(heading("Back to service"), steps(plan.ladder))


def steps(told: Iterable[Step]) -> RenderableType:
    """Return numbered steps; a hold point is named in words and stands on its own line."""
    return hanging([(str(step.number), _step(step)) for step in told])


def _step(step: Step) -> RenderableType:
    parts = [line(sentence(step.do)).append_text(_basis(step.basis))]
    if step.figures:
        parts.append(line(plain(step.figures)))
    if step.hold_point:
        parts.append(line(f"Hold point: {sentence(step.hold_point)}", STRONG))
    if step.caution:
        parts.append(line(f"Caution: {sentence(step.caution)}"))
    return stack(*parts)
