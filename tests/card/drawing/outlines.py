"""Outlines and maps of tyres for the tests of drawings, invented throughout."""

from mendbook.terms.designation import read_designation
from mendbook.terms.plan import Patch, Repair
from mendbook.terms.tyre_map import Outline, Site, TyreMap, ZoneEnd

SIZES = (
    "18.00-25", "24.00R35", "23.5R25", "17.5L-24", "11R22.5", "35/65R33", "875/65R29", "8.25-20", "26.5R25",
    "315/80R22.5", "295/60R22.5", "455/45R22.5", "385/65R22.5", "27.00R49", "59/80R63", "13.00-24", "29.5-25",
)  # fmt: skip
ENDS = {
    "bead": 0.15, "lower sidewall": 0.3, "upper sidewall": 0.53, "shoulder": 0.73, "crown edge": 0.81,
    "crown centre": 1.0,
}  # fmt: skip


def outline(size: str, swell: float = 1.0) -> Outline:
    """Return the outline of a size, `swell` times as high as it says; by the formulas that zones are laid out by."""
    read = read_designation(size)
    height, width = read.section_height_mm * swell, read.section_width_mm
    tread = (0.80 if read.is_road_size else 0.86) * width
    girth = 1.22 * height - 0.10 * width + tread / 2
    zones = tuple(ZoneEnd(zone=zone, ends_mm=share * girth) for zone, share in ENDS.items())
    return Outline(
        rim_mm=read.rim_diameter_mm, height_mm=height, width_mm=width, tread_width_mm=tread, half_girth_mm=girth,
        zones=zones, is_taped=False,
    )  # fmt: skip


def site(name: str = "A", lower: float | None = 330.0, width: float | None = 118.0, **more: object) -> Site:
    """Return an injury on the opposite side."""
    upper = None if lower is None or width is None else lower + width
    known: dict[str, object] = {"side": "opposite side", "clock_deg": 214.0, "length_mm": 48.0, "reaches": "through"}
    if lower is not None and upper is not None:
        known["counted_mm"] = (lower, upper)
    return Site.model_validate({"name": name, "lower_mm": lower, "upper_mm": upper, **known, **more})


def tyre(*sites: Site, size: str = "26.5R25") -> TyreMap:
    """Return the map of a tyre."""
    return TyreMap(outline=outline(size), sites=sites)


REPAIR = Repair(
    injury="A",
    verdict="section",
    zone="upper sidewall",
    depth_mm=46,
    patches=(
        Patch(what="opening", around_mm=101, across_mm=171),
        Patch(what="cord level", around_mm=48, across_mm=118),
        Patch(what="reinforcement", around_mm=295, across_mm=365),
        Patch(what="outside pad", around_mm=300, across_mm=500, shift_mm=4),
        Patch(what="outside bag", around_mm=360, across_mm=560, shift_mm=4),
        Patch(what="inside pad", around_mm=400, across_mm=475),
        Patch(what="inside bag", around_mm=500, across_mm=900),
    ),
)
HOSTILE = "</text><script>alert('x')</script>&<b> \u202e #let $x$ \\n"
