"""The wall as heat meets it: layers from the outside face to the inside face, through the injury."""

from dataclasses import dataclass

from mendbook.cure import look_sideways, overlap_needed
from mendbook.plan.cavity import REINFORCED, Cavity, number
from mendbook.plan.method import PRECURED, TWO_STAGES, Choice
from mendbook.plan.request import Wanted
from mendbook.plan.stock import Stock
from mendbook.terms.cure_wall import Compound, Layer

GUM = 2.0  # mm of cushion gum under fill and reinforcement; house default
LEAST = 0.5  # mm of any layer


@dataclass(frozen=True)
class Wall:
    """The layers of each cure in turn: one cure, or two."""

    cures: tuple[tuple[Layer, ...], ...]
    previewed: float  # mm of casing taken from a table because it was not measured

    @property
    def thickness(self) -> float:
        """The thickest wall that is heated [mm]."""
        return max(sum(layer.thickness_mm for layer in layers) for layers in self.cures)

    def overlap(self, *, both_faces: bool) -> float:
        """Return how far pads must reach past the injury on every side, for the cure that asks most [mm]."""
        walls = [look_sideways(layers, inside=both_faces) for layers in self.cures]
        return max(overlap_needed(wall.thickness_mm, wall.in_plane_ratio, wall.one_sided) for wall in walls)


def wall_of(wanted: Wanted, cavity: Cavity, choice: Choice, stock: Stock, fill: Compound) -> Wall:
    """Return the wall at the injury.

    Right through, its own column governs: fill, gum, reinforcement. Where casing is left under the cavity it is
    taken as thick as such walls get (house preview, from memory): that makes the time longer, never shorter.
    """
    left = 0.0 if cavity.is_through else max(0.0, whole(wanted) - cavity.depth)
    gum = min(GUM, cavity.depth / 2)
    make = _Layers(stock, fill, str(wanted.facts.get("casing", "")))
    cavity_new = [make.fill(cavity.depth - gum), make.gum(gum)]
    casing = [make.casing(left)] if left >= LEAST else []
    if wanted.facts.get("kind") == "liner only":
        cavity_new, casing = casing, cavity_new[::-1]
    bridge = []
    if choice.reinforcement:
        thick = number(wanted, "reinforcement thickness")
        under = [make.gum(GUM)] if casing or choice.stages == TWO_STAGES else []
        bridge = [*under, make.reinforcement(thick, choice.reinforcement == PRECURED)]
    if choice.stages != TWO_STAGES:
        return Wall((tuple(cavity_new + casing + bridge),), left)
    if bridge:
        second = [make.fill(cavity.depth, cured=True), *casing, *bridge]
        return Wall((tuple(cavity_new + casing), tuple(second)), left)
    lift = (cavity.depth - gum) / 2
    lower = [make.fill(lift), make.gum(gum), *casing]
    upper = [make.fill(lift), make.fill(lift + gum, cured=True), *casing]
    return Wall((tuple(lower), tuple(upper)), left)


def whole(wanted: Wanted) -> float:
    """Return how thick the wall is without a reinforcement [mm]; the rules of method judge by the same figure.

    Their thickness is that of the whole wall where a reinforcement is laid in, else that of the cavity alone.
    """
    if wanted.verdict not in REINFORCED:
        return preview(wanted)
    bridge = number(wanted, "reinforcement thickness")
    return number(wanted, "thickness", preview(wanted) + bridge) - bridge


def preview(wanted: Wanted) -> float:
    """Return how thick the wall of such a casing gets in its zone [mm]; house, from memory."""
    zone = wanted.zone
    part = "crown" if zone.startswith("crown") else "shoulder" if zone == "shoulder" else "sidewall"
    return number(wanted, f"{part} high")


@dataclass(frozen=True)
class _Layers:
    stock: Stock
    compound: Compound
    cord: str

    def fill(self, thickness: float, *, cured: bool = False) -> Layer:
        name, material = "cured fill" if cured else "fill", "fill rubber, carbon-black natural rubber"
        return self._layer(name, thickness, material, self.compound, cured)

    def gum(self, thickness: float) -> Layer:
        material = "cushion gum, natural rubber with little filler"
        return self._layer("gum", thickness, material, self.stock.compounds["cushion gum"], cured=False)

    def casing(self, thickness: float) -> Layer:
        kind = "steel" if self.cord == "steel" else "textile"
        cured = self.stock.compounds["cured casing rubber"]
        return self._layer("casing", thickness, f"casing, {kind} cord", cured, cured=True)

    def reinforcement(self, thickness: float, precured: bool) -> Layer:
        compound = self.stock.compounds["cured reinforcement rubber"] if precured else self.compound
        return self._layer("reinforcement", thickness, "reinforcement, textile cord", compound, precured)

    def _layer(self, name: str, thickness: float, material: str, compound: Compound, cured: bool) -> Layer:
        return Layer(
            name=name,
            thickness_mm=round(max(thickness, LEAST), 1),
            material=self.stock.materials[material],
            compound=compound,
            cured_before=cured,
        )
