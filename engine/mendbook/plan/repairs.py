"""The plan of a tyre: its permitted repairs, one by one, and its way back to service."""

from collections.abc import Mapping, Sequence

from mendbook.plan.bench import Bench, read_bench
from mendbook.plan.cavity import Cavity, cavity_of, number, reinforcement_of
from mendbook.plan.energy import Load, overload, power_words
from mendbook.plan.figures import figures_of
from mendbook.plan.kit import fit_out
from mendbook.plan.materials import amounts
from mendbook.plan.method import COLD, Choice, choose, cold_instead, may_be_cold
from mendbook.plan.order import Cured, order_cure
from mendbook.plan.outfit import Outfit
from mendbook.plan.release import ladder_of, limits_of
from mendbook.plan.request import Release, Said, Wanted
from mendbook.plan.script import perform
from mendbook.plan.size import Size
from mendbook.plan.stock import Stock
from mendbook.plan.task import task_of
from mendbook.plan.wall import Wall, wall_of
from mendbook.terms.case import Section
from mendbook.terms.plan import Method, Plan, Repair, WhyNot

WORKED = ("spot", "reinforce", "section")
NO_KIT = Outfit()


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
    bench = read_bench(workshop, stock, [cap for one in wanted for cap in one.caps])
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
    wanted: Wanted, choice: Choice, bench: Bench, methods: Mapping[str, Sequence[str]], stock: Stock
) -> tuple[Repair, Load]:
    cavity, reinforcement = cavity_of(wanted), reinforcement_of(wanted)
    wall = wall_of(wanted, cavity, choice, stock, bench.compound)
    kit, outfit = "", NO_KIT
    passed: tuple[WhyNot, ...] = ()
    if choice.heat != COLD:
        kit, outfit, passed = _kit(wanted, choice, bench, stock, cavity, reinforcement, wall)
        if outfit.lacking and may_be_cold(wanted, methods):
            choice, kit, outfit, passed = cold_instead(choice, outfit.lacking), "", NO_KIT, ()
    cures = () if choice.heat == COLD else _cures(wanted, choice, bench, wall, cavity, outfit)
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
    lacks = (*(cured.why_not for cured in cures), overload(outfit.power, bench.circuit, stock.kit))
    repair = Repair(
        injury=wanted.injury,
        verdict=wanted.verdict,
        zone=wanted.zone,
        method=Method(
            heat=choice.heat, stages=choice.stages, reinforcement=choice.reinforcement, heating=choice.heating, kit=kit
        ),
        why_not=(*choice.why_not, *passed),
        thickness_mm=round(wall.thickness, 1) if cures else None,
        reinforcement=str(reinforcement) if reinforcement else "",
        kit=outfit.items,
        not_served=(*outfit.lacking, *filter(None, lacks), *bench.remarks),
        materials=materials,
        steps=perform(scripts, words, figures, heeded(wanted.do), heeded(wanted.cautions)),
        cure_order=cures[0].order if cures else None,
        cure=cures[0].sheet if cures else None,
        second_cure_order=second.order,
        second_cure=second.sheet,
    )
    return repair, Load(wanted.injury, outfit.power, sheets)


def _dressed(wanted: Wanted, stock: Stock) -> Repair:
    steps = perform([stock.scripts["dress"]], {}, {}, wanted.do, wanted.cautions) if wanted.verdict == "dress" else ()
    return Repair(injury=wanted.injury, verdict=wanted.verdict, zone=wanted.zone, steps=steps)


def _kit(
    wanted: Wanted,
    choice: Choice,
    bench: Bench,
    stock: Stock,
    cavity: Cavity,
    reinforcement: Size | None,
    wall: Wall,
) -> tuple[str, Outfit, tuple[WhyNot, ...]]:
    """Return the first kind of kit that serves, with why those before it do not; else the best of those left."""
    task = task_of(
        wanted,
        cavity,
        reinforcement,
        wall.thickness,
        wall.overlap(both_faces=choice.both_faces),
        both_faces=choice.both_faces,
        pressure=bench.pressure,
    )
    tried: list[tuple[str, Outfit]] = []
    for kind in choice.kits:
        outfit = fit_out(kind, task, bench.kit, stock.kit)
        if not outfit.lacking:
            passed = tuple(
                WhyNot(method=other, because=f"{'; '.join(lack.lacking)}.", source="house default, catalogue")
                for other, lack in tried
            )
            return kind, outfit, passed
        tried.append((kind, outfit))
    return (*tried[0], ())


def _cures(
    wanted: Wanted, choice: Choice, bench: Bench, wall: Wall, cavity: Cavity, outfit: Outfit
) -> tuple[Cured, ...]:
    why_hot = next((f"Hot: {r.because} ({r.source})" for r in choice.why_not if r.method == COLD), "Hot.")
    return tuple(
        order_cure(
            f"repair {wanted.injury}" if len(wall.cures) == 1 else f"repair {wanted.injury}, cure {place} of 2",
            layers,
            bench,
            casing=str(wanted.facts.get("casing", "")),
            moisture=str(wanted.facts.get("moisture", "")),
            both_faces=choice.both_faces,
            why_hot=why_hot,
            injury=cavity.middle,
            heated={} if outfit.lacking else outfit.heated,
        )
        for place, layers in enumerate(wall.cures, 1)
    )


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
