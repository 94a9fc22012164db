"""How a repair is done: cure, kit, materials, steps and limits, as a fitter needs them at the bench."""

from collections.abc import Iterator, Mapping

from mendbook.card.cure_figures import minutes
from mendbook.card.cure_report import stages_of
from mendbook.card.drawing.cure_view import draw_cure_curve
from mendbook.card.drawing.section_view import draw_section
from mendbook.card.drawing.shapes import Drawing
from mendbook.card.drawing.stack_view import draw_stack
from mendbook.card.job.blocks import Band, Block, Grid, Pairs, Part, Picture, Task, Tasks, Text
from mendbook.card.lettering import plain, sentence, short
from mendbook.card.repairs import method_words
from mendbook.terms.answers import verdict_words
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet
from mendbook.terms.docket import Docket
from mendbook.terms.plan import Repair, Step

AROUND = ", around x across"
WHEN_TIMED = "when the cooler pad is 20 °C short of its setpoint"


def cures(repair: Repair, mark: str) -> tuple[Part, ...]:
    """Return the cures of a repair, one for each stage that is heated."""
    orders = (repair.cure_order, repair.second_cure_order)
    return tuple(
        _cure(f"{mark}-{number}".replace("#", ""), name, order, sheet)
        for number, ((name, sheet), order) in enumerate(zip(stages_of(repair), orders, strict=False))
        if order is not None and sheet is not None
    )


def repair_bands(docket: Docket, repair: Repair, marks: Mapping[str, str]) -> Iterator[Band]:
    """Yield the bands of one repair among several, with a section of its own."""
    mark = mark_of(repair, marks)
    section = draw_section(docket.map, marks, repair, alone=True) if docket.map is not None else ""
    own = (Picture(f"section-{mark}".replace("#", ""), (section,)),) if isinstance(section, Drawing) else ()
    head = Part(f"Repair {mark}", (*method(repair).blocks, *own))
    yield Band("pair", (head, *goods(repair)), cures(repair, mark))
    yield steps(repair, mark)


def mark_of(repair: Repair, marks: Mapping[str, str]) -> str:
    """Return what its injury is called on the drawings."""
    return marks.get(repair.injury, short(repair.injury, 20))


def method(repair: Repair) -> Part:
    """Return how it is repaired, in a sentence."""
    said = (
        f"{verdict_words(repair.verdict)}, {plain(repair.zone)}. {method_words(repair.method) if repair.method else ''}"
    )
    return Part("Method", (Text(sentence(said.strip())),))


def goods(repair: Repair) -> tuple[Part, ...]:
    """Return kit and materials, where there are any."""
    return tuple(part for part in (_kit(repair), _materials(repair)) if part.blocks)


def steps(repair: Repair, mark: str) -> Band:
    """Return the steps of the work."""
    told = (Part(f"Steps for {mark}", (Tasks(tuple(map(_step, repair.steps))),)),) if repair.steps else ()
    return Band("run", told)


def _cure(key: str, name: str, order: CureOrder, sheet: CureSheet) -> Part:
    title = f"Cure, {name}" if name else "Cure"
    blocks: list[Block] = [Text(sentence(warning), strong=True) for warning in sheet.warnings]
    slow = sheet.slowest
    rows = (
        ("Setpoint", f"{sheet.porosity.setpoint_C:g} °C"),
        ("Pressure", f"{sheet.porosity.clamp_given_bar:.2f} bar, held until let go"),
        ("Timer starts", f"{minutes(sheet.timer_starts_at_min)} after switching on, {WHEN_TIMED}"),
        ("Timer runs", minutes(sheet.minutes_from_timer)),
        ("Power off", f"{minutes(sheet.minutes_from_switch_on)} after switching on"),
        (
            "Let go",
            f"{minutes(sheet.minutes_to_release)} after power-off or later, below {sheet.release_C:g} °C",
        ),
        ("Slowest", f"{plain(slow.layer)}, {slow.depth_mm:.0f} mm below the outside"),
    )
    blocks.append(Pairs(rows))
    blocks.append(Picture(f"cure-{key}", (draw_cure_curve(order, sheet), draw_stack(order, sheet))))
    return Part(title, tuple(blocks))


def _kit(repair: Repair) -> Part:
    rows = tuple(
        (plain(item.role), plain(item.item), plain(item.size).removesuffix(AROUND), f"{item.count}", "")
        for item in repair.kit
    )
    grid = Grid(("For", "Item", "Size, around x across", "Pieces", "Test date"), rows, (18, 27, 27, 10, 18))
    return Part("Kit", (grid,) if rows else ())


def _materials(repair: Repair) -> Part:
    rows = tuple((plain(one.material), f"{one.amount:g} {plain(one.unit)}", "", "") for one in repair.materials)
    grid = Grid(("Material", "Amount", "Batch", "Use by"), rows, (40, 16, 24, 20))
    return Part("Materials", (grid,) if rows else ())


def _step(step: Step) -> Task:
    return Task(
        sentence(step.do),
        step.number,
        sentence(step.figures),
        sentence(step.caution),
        sentence(step.hold_point),
    )


def back_to_service(docket: Docket) -> tuple[Part, ...]:
    """Return the way from the end of the cure to the follow-up."""
    ladder = docket.plan.ladder if docket.plan else ()
    return (Part("Back to service", (Tasks(tuple(map(_step, ladder))),)),) if ladder else ()


def limits(docket: Docket) -> Part:
    """Return the limits in service, and the power that the pads take."""
    plan = docket.plan
    if plan is None:
        return Part("Limits after repair", (Text("None is set."),))
    rows = tuple((plain(limit.what), plain(limit.limit), plain(limit.basis)) for limit in plan.limits)
    minded = dict.fromkeys(limit.caution for limit in plan.limits if limit.caution)
    blocks: list[Block] = [Text(sentence(caution), strong=True) for caution in minded]
    blocks += [Grid(("What", "At most", "Basis"), rows, (45, 19, 36))] if rows else [Text("None is set.")]
    if plan.power:
        blocks.append(Text(f"Power for the cure: {plain(plan.power)}."))
    return Part("Limits after repair", tuple(blocks))
