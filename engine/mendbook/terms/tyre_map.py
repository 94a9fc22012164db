"""The map of a tyre: where its zones end along the surface, and where its injuries lie. For whoever draws it."""

from pydantic import Field

from mendbook.terms.closed import Closed


class ZoneEnd(Closed):
    """Where one zone ends."""

    zone: str
    ends_mm: float = Field(description="along the outside surface from the bead toe [mm]")


class Outline(Closed):
    """The section as the zones were laid out on it. Both halves are alike."""

    rim_mm: float = Field(description="rim diameter [mm]")
    height_mm: float = Field(description="above the rim diameter [mm]")
    width_mm: float = Field(description="of the section, new and inflated [mm]")
    tread_width_mm: float = Field(description="along the surface, edge to edge [mm]")
    half_girth_mm: float = Field(description="bead toe to crown centreline along the surface [mm]")
    zones: tuple[ZoneEnd, ...] = Field(description="from the bead to the crown centreline")
    is_taped: bool = Field(description="whether the height follows from a measured outside diameter")


class Site(Closed):
    """Where one injury or earlier repair lies, as measured. None or '' stands for what was not measured."""

    name: str
    side: str = Field("", description="serial side, opposite side or crown")
    clock_deg: float | None = Field(None, description="of its middle, from the mark, as seen on the serial side [deg]")
    lower_mm: float | None = Field(None, description="edge nearer the bead, along the surface from the bead toe [mm]")
    upper_mm: float | None = Field(None, description="edge nearer the crown [mm]")
    length_mm: float | None = Field(None, description="along the tyre [mm]")
    counted_mm: tuple[float, float] | None = Field(
        None, description="edges that counted: with rust, separation and slant [mm from the bead toe]"
    )
    reaches: str = ""
    zone: str = Field("", description="zone that was named, where nobody measured")
    is_repair: bool = Field(False, description="an earlier repair, and no injury")

    @property
    def key(self) -> str:
        """Its name, set apart from that of an injury where it is an earlier repair."""
        return f"earlier repair {self.name}" if self.is_repair else self.name


class TyreMap(Closed):
    """Outline and sites of one tyre."""

    outline: Outline | None = None
    why_not: str = Field("", description="why there is no outline, when so")
    sites: tuple[Site, ...] = ()
