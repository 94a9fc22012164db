"""The way a repair is done: its process, the kit that serves, the wall as heat meets it, and what is to be cured."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mendbook.plan.bench import Bench
from mendbook.plan.cavity import Cavity, cavity_of, reinforcement_of
from mendbook.plan.draft import Draft
from mendbook.plan.energy import overload
from mendbook.plan.kit import fit_out
from mendbook.plan.method import COLD, Choice, cold_instead, may_be_cold
from mendbook.plan.outfit import Outfit
from mendbook.plan.request import Wanted
from mendbook.plan.size import Size
from mendbook.plan.stock import Stock
from mendbook.plan.task import task_of
from mendbook.plan.wall import Wall, wall_of
from mendbook.terms.plan import Method, WhyNot

NO_KIT = Outfit()


@dataclass(frozen=True)
class Way:
    """How one repair is done. A cold one has no kit; `passed` says why better kinds of kit do not serve."""

    choice: Choice
    kit: str
    outfit: Outfit
    passed: tuple[WhyNot, ...]
    cavity: Cavity
    reinforcement: Size | None
    wall: Wall

    @property
    def method(self) -> Method:
        """The words chosen."""
        chosen = self.choice
        return Method(
            heat=chosen.heat, stages=chosen.stages, reinforcement=chosen.reinforcement, heating=chosen.heating,
            kit=self.kit,
        )  # fmt: skip

    def not_served(self, uncured: Sequence[str], bench: Bench, stock: Stock) -> tuple[str, ...]:
        """Return what cannot be done with the kit there is; `uncured` says why a cure has no time, else nothing."""
        lacks = (*self.outfit.lacking, *uncured, overload(self.outfit.power, bench.circuit, stock.kit))
        return (*filter(None, lacks), *bench.remarks)

    def drafts(self, wanted: Wanted, bench: Bench) -> tuple[Draft, ...]:
        """Return what is to be cured, in turn; nothing of a cold repair."""
        if self.choice.heat == COLD:
            return ()
        cures = self.wall.cures
        return tuple(
            Draft(
                name=f"repair {wanted.injury}" if len(cures) == 1 else f"repair {wanted.injury}, cure {place} of 2",
                layers=layers,
                bench=bench,
                casing=str(wanted.facts.get("casing", "")),
                moisture=str(wanted.facts.get("moisture", "")),
                both_faces=self.choice.both_faces,
                injury=self.cavity.middle,
                heated={} if self.outfit.lacking else self.outfit.heated,
            )
            for place, layers in enumerate(cures, 1)
        )


def find_way(wanted: Wanted, choice: Choice, bench: Bench, methods: Mapping[str, Sequence[str]], stock: Stock) -> Way:
    """Return the way to do a repair of which no group of methods is closed.

    Where no kit serves a hot repair that may be done cold, it is done cold.
    """
    cavity, reinforcement = cavity_of(wanted), reinforcement_of(wanted)
    wall = wall_of(wanted, cavity, choice, stock, bench.compound)
    kit, outfit = "", NO_KIT
    passed: tuple[WhyNot, ...] = ()
    if choice.heat != COLD:
        kit, outfit, passed = _kit(wanted, choice, bench, stock, cavity, reinforcement, wall)
        if outfit.lacking and may_be_cold(wanted, methods):
            choice, kit, outfit, passed = cold_instead(choice, outfit.lacking), "", NO_KIT, ()
    return Way(choice, kit, outfit, passed, cavity, reinforcement, wall)


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
