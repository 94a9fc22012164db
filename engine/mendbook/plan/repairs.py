"""The plan of a tyre: its permitted repairs, one by one, and its way back to service."""

from collections.abc import Mapping, Sequence

from mendbook.plan.bench import Bench, least_caps, read_bench
from mendbook.plan.cavity import Cavity, number
from mendbook.plan.energy import Load, power_words
from mendbook.plan.figures import figures_of
from mendbook.plan.materials import amounts
from mendbook.plan.method import COLD, Choice, choose
from mendbook.plan.order import Cured, order_cure
from mendbook.plan.outfit import Outfit, patch
from mendbook.plan.release import ladder_of, limits_of
from mendbook.plan.request import Release, Said, Wanted
from mendbook.plan.script import perform
from mendbook.plan.size import Size
from mendbook.plan.stock import Stock
from mendbook.plan.way import find_way
from mendbook.terms.case import Section
from mendbook.terms.plan import Patch, Plan, Repair

WORKED = ("spot", "reinforce", "section")


def plan_repairs(
    wanted: Sequence[Wanted],
    release: Release,
    workshop: Section | Mapping[str, object],
    methods: Mapping[str, Sequence[str]],
    stock: Stock,
) -> Plan:
    """Return how the injuries `wanted` are repaired: method, kit, materials, cure, steps, limits.

    release : what the release rules said of the tyre
    workshop : the section of the case, or a map of its facts
    methods : groups of the rulebook's methods, each best first
    What cannot be done, or not with the kit there is, is said in `not_served` with what would serve; nothing is
    left out in silence.
    """
    bench = read_bench(workshop, stock, least_caps((what, to) for one in wanted for what, to, _ in one.caps))
    made = [_repair(one, bench, methods, stock) for one in wanted]
    return Plan(
        repairs=tuple(repair for repair, _ in made),
        power=power_words([load for _, load in made], bench.circuit, stock.kit),
        limits=limits_of(release),
        ladder=ladder_of(release, stock.scripts["ladder"]) if wanted else (),
    )


def _repair(wanted: Wanted, bench: Bench, methods: Mapping[str, Sequence[str]], stock: Stock) -> tuple[Repair, Load]:
    nothing = Load(wanted.injury, 0.0, ())
    if wanted.verdict not in WORKED:
        return _dressed(wanted, stock), nothing
    choice = choose(wanted, methods)
    if choice.closed:
        refused = Repair(
            injury=wanted.injury, verdict=wanted.verdict, zone=wanted.zone, why_not=choice.why_not,
            not_served=(*choice.closed, *bench.remarks),
        )  # fmt: skip
        return refused, nothing
    return _worked(wanted, choice, bench, methods, stock)


def _worked(
    wanted: Wanted, left: Choice, bench: Bench, methods: Mapping[str, Sequence[str]], stock: Stock
) -> tuple[Repair, Load]:
    way = find_way(wanted, left, bench, methods, stock)
    choice, kit, outfit, cavity, reinforcement = way.choice, way.kit, way.outfit, way.cavity, way.reinforcement
    why_hot = next((f"Hot: {r.because} ({r.source})" for r in choice.why_not if r.method == COLD), "Hot.")
    cures = tuple(order_cure(draft, why_hot) for draft in way.drafts(wanted, bench))
    materials = amounts(
        cavity, reinforcement, wanted.zone, stock.goods,
        reinforcement_kind=choice.reinforcement,
        reinforcement_thickness=number(wanted, "reinforcement thickness"),
        is_cold=choice.heat == COLD,
    )  # fmt: skip
    words = _words(wanted, choice, kit, outfit, cures)
    figures = figures_of(wanted, cavity, reinforcement, materials, bench, outfit, cures)

    def heeded(said: Sequence[Said]) -> list[Said]:
        return _heeded(said, choice, kit, methods)

    scripts = [stock.scripts["preparation"], stock.scripts["cold" if choice.heat == COLD else "hot"]]
    sheets = tuple(cured.sheet for cured in cures if cured.sheet)
    second = cures[1] if len(cures) > 1 else Cured(None, None)
    repair = Repair(
        injury=wanted.injury,
        verdict=wanted.verdict,
        zone=wanted.zone,
        method=way.method,
        why_not=(*choice.why_not, *way.passed),
        thickness_mm=round(way.wall.thickness, 1) if cures else None,
        reinforcement=str(reinforcement) if reinforcement else "",
        depth_mm=round(cavity.depth, 1),
        patches=(*_rubber(cavity, reinforcement), *outfit.patches),
        kit=outfit.items,
        not_served=way.not_served([cured.why_not for cured in cures], bench, stock),
        materials=materials,
        steps=perform(scripts, words, figures, heeded(wanted.do), heeded(wanted.cautions)),
        cure_order=cures[0].order if cures else None,
        cure=cures[0].sheet if cures else None,
        second_cure_order=second.order,
        second_cure=second.sheet,
    )
    return repair, Load(wanted.injury, outfit.power, sheets)


def _rubber(cavity: Cavity, reinforcement: Size | None) -> tuple[Patch, ...]:
    """Return what is opened and bridged, as rectangles."""
    level = ("inside opening", cavity.inside) if cavity.inside else ("cord level", cavity.floor)
    sizes = (("opening", cavity.opening), level, ("reinforcement", reinforcement))
    return tuple(patch(what, size) for what, size in sizes if size is not None)


def _dressed(wanted: Wanted, stock: Stock) -> Repair:
    steps = perform([stock.scripts["dress"]], {}, {}, wanted.do, wanted.cautions) if wanted.verdict == "dress" else ()
    return Repair(injury=wanted.injury, verdict=wanted.verdict, zone=wanted.zone, steps=steps)


def _heeded(said: Sequence[Said], choice: Choice, kit: str, methods: Mapping[str, Sequence[str]]) -> list[Said]:
    """Return what was said without sentences that name a way of working other than the one chosen."""
    chosen = {choice.stages, choice.reinforcement, choice.heating, kit}
    others = [word for words in methods.values() for word in words if " " in word and word not in chosen]
    return [one for one in said if not any(word in one.what.casefold() for word in others)]


def _second_stage(cures: Sequence[Cured]) -> str:
    """Return whether a second stage follows; 'open' where no cure was found for it."""
    if len(cures) < 2:
        return "no"
    return "yes" if cures[1].sheet else "open"


def _words(wanted: Wanted, choice: Choice, kit: str, outfit: Outfit, cures: Sequence[Cured]) -> dict[str, str]:
    facts = {name: value for name, value in wanted.facts.items() if isinstance(value, str)}
    return {
        "moisture": "dry",
        **facts,
        "verdict": wanted.verdict,
        "heat": choice.heat,
        "stages": choice.stages,
        "reinforcement": choice.reinforcement,
        "kit": kit,
        "shield": "yes" if outfit.needs_shield else "no",
        "second stage": _second_stage(cures),
    }
