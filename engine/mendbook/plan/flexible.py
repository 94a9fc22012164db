"""The flexible set: a pad and a bag on each face, straps round the section, spreaders under the straps."""

from dataclasses import dataclass, field
from math import ceil

from mendbook.plan.catalogue import Bag, Kit
from mendbook.plan.harness import (
    PAST_INSIDE,
    PAST_OUTSIDE,
    RATED,
    fit_bags,
    fit_spreaders,
    fit_straps,
    leg_force,
    lie,
    plates_needed,
    push,
    strap_length,
    straps_needed,
)
from mendbook.plan.outfit import Outfit, lack, patch, runner_up
from mendbook.plan.pads import Laid, lay_pads
from mendbook.plan.size import Size
from mendbook.plan.task import Task
from mendbook.terms.plan import KitItem, Patch


def fit_flexible(kit: Kit, catalogue: Kit, task: Task) -> Outfit:
    """Return the flexible set for `task` from `kit`; `catalogue` is the whole of it, to name what would serve.

    Where one face is heated the other has a bag and no pad.
    """
    being = _Set(kit, catalogue, task)
    for face, needed in (("outside", task.outside), ("inside", task.inside)):
        heated = being.add_pad(face, needed) if face == "outside" or task.both_faces else needed
        being.add_bag(face, heated)
    being.add_straps()
    lacking = tuple(being.lacking)
    return Outfit(
        tuple(being.items), being.power, being.figures, lacking, being.needs_shield, being.heated, tuple(being.patches)
    )


@dataclass
class _Set:
    kit: Kit
    catalogue: Kit
    task: Task
    items: list[KitItem] = field(default_factory=list)
    lacking: list[str] = field(default_factory=list)
    figures: dict[str, str] = field(default_factory=dict)
    bags: list[Size] = field(default_factory=list)
    spans: list[float] = field(default_factory=list)
    power: float = 0.0
    needs_shield: bool = False
    heated: dict[str, Size] = field(default_factory=dict)
    patches: list[Patch] = field(default_factory=list)
    shift: float = 0.0  # of the pad of the face that is being dressed, and of the bag over it

    def add_pad(self, face: str, needed: Size) -> Size:
        """Add the pad of one face; return what it heats, or what is needed where no pad serves."""
        ways = self.ways(self.kit, face, needed)
        self.shift = ways[0].lies if ways else 0.0
        if not ways:
            would = [laid.pad for laid in self.ways(self.catalogue, face, needed)]
            self.lacking.append(lack(f"{face} pad", would, f"heated {needed.rounded_up(5)} or more"))
            return needed
        laid = ways[0]
        other = next((way for way in ways if way.pad != laid.pad), None)
        self.items.append(
            KitItem(
                role=f"{face} pad",
                item=laid.pad.id,
                size=f"{laid.heated}, around x across",
                count=laid.count,
                because=f"covers {needed}: {self.why(face)}{_shield(laid)} (house default)",
                runner_up="" if other is None else _named(other),
            )
        )
        self.heated[face] = laid.heated_evenly
        self.patches.append(patch(f"{face} pad", laid.heated, laid.lies))
        self.power += laid.power
        self.needs_shield = self.needs_shield or laid.needs_shield
        shifted = f", {laid.shift:.0f} mm towards the crown" if laid.shift >= 1 else ""
        self.figures[f"{face} pad"] = f"{_named(laid)}, heated {laid.heated}, around x across{shifted}"
        return laid.heated

    def ways(self, kit: Kit, face: str, needed: Size) -> list[Laid]:
        return lay_pads(kit.pads, needed, self.task.place, self.task.section_width, inside=face == "inside")

    def why(self, face: str) -> str:
        self.figures["reach"] = f"{self.task.reach:.0f} mm"
        if face == "outside":
            return f"heat reaches {self.task.reach:.0f} mm past the opening, {self.task.reach_why}"
        return self.task.inside_why

    def add_bag(self, face: str, heated: Size) -> None:
        """Add the bag of one face."""
        past = PAST_OUTSIDE if face == "outside" else PAST_INSIDE
        bags = self.fitting(self.kit, face, heated, past)
        pressure = self.task.pressure
        if not bags:
            rated = ceil(100 * RATED * pressure - 1e-9) / 100
            size = f"{heated.grown(past).rounded_up(5)} or more, rated {rated:g} bar or more"
            self.lacking.append(lack(f"{face} bag", self.fitting(self.catalogue, face, heated, past), size))
            return
        lying = lie(bags[0], heated, past)
        self.bags.append(lying)
        self.spans.append(heated.across)
        self.patches.append(patch(f"{face} bag", lying, self.shift))
        self.figures["bags"] = " and ".join(filter(None, (self.figures.get("bags", ""), bags[0].id)))
        self.items.append(
            KitItem(
                role=f"{face} bag",
                item=bags[0].id,
                size=f"{lying}, around x across",
                because=(
                    f"covers {heated} and {past:.0f} mm more on every side (house default); rated {bags[0].rated:g} "
                    f"bar, at least {RATED} times {pressure:g} bar (common practice, no source)"
                ),
                runner_up=runner_up(bags),
            )
        )

    def fitting(self, kit: Kit, face: str, heated: Size, past: float) -> list[Bag]:
        bags = kit.outer_bags if face == "outside" else kit.inner_bags
        return fit_bags(bags, heated, self.task.pressure, self.task.section_width, past)

    def add_straps(self) -> None:
        """Add straps and spreaders. A strap runs round the section, so it holds the stronger of the two bags."""
        task, kit = self.task, self.kit
        length = strap_length(task.place.half_girth, task.inflated_width)
        straps = fit_straps(kit.straps, length, task.section_width)
        if not straps:
            would = fit_straps(self.catalogue.straps, length, task.section_width)
            self.lacking.append(lack("straps", would, f"{length / 1000:.1f} m long or more"))
            return
        if not self.bags:
            return
        strap = straps[0]
        force = max(push(bag, task.pressure) for bag in self.bags)
        count = straps_needed(force, strap.limit, kit.used_strap_share, kit.least_straps)
        leg, most = leg_force(force, count) / 1000, kit.used_strap_share * strap.limit / 1000
        self.figures |= {"straps": f"{count} x {strap.id}", "leg force": f"{leg:.1f} kN", "leg limit": f"{most:.0f} kN"}
        self.items.append(
            KitItem(
                role="straps",
                item=strap.id,
                size=f"{strap.length / 1000:.1f} m",
                count=count,
                because=(
                    f"{force / 1000:.1f} kN at {task.pressure:g} bar pull {leg:.1f} kN in each leg, at most "
                    f"{most:.0f} kN; never fewer than {kit.least_straps}; {length / 1000:.2f} m needed (house default)"
                ),
                runner_up=runner_up(straps),
            )
        )
        self.add_spreaders(count)

    def add_spreaders(self, straps: int) -> None:
        """Add the plates: under every strap, on each bag, across what is heated."""
        widest = max(self.spans)
        plates = fit_spreaders(self.kit.spreaders, widest, self.task.section_width)
        if not plates:
            would = fit_spreaders(self.catalogue.spreaders, widest, self.task.section_width)
            self.lacking.append(lack("spreaders", would, f"{widest:.0f} mm long or more, for this section width"))
            return
        self.items.append(
            KitItem(
                role="spreaders",
                item=plates[0].id,
                size=str(plates[0].size),
                count=sum(plates_needed(plates[0], span, straps) for span in self.spans),
                because=f"on each bag under every strap, across {widest:.0f} mm of heat at most (house default)",
                runner_up=runner_up(plates),
            )
        )


def _named(laid: Laid) -> str:
    return laid.pad.id if laid.count == 1 else f"{laid.count} x {laid.pad.id}, side by side with 20 to 30 mm overlap"


def _shield(laid: Laid) -> str:
    return "; it lies within 30 mm of the bead wire: shield the bead" if laid.needs_shield else ""
