"""Where the injuries lie, as pictures: the section and the clock maps, with what is not drawn."""

from mendbook.card.drawing.clock_view import draw_clocks
from mendbook.card.drawing.marks import site_marks
from mendbook.card.drawing.section_view import draw_section
from mendbook.card.drawing.shapes import Drawing
from mendbook.card.job.blocks import Block, Picture, Points, Text
from mendbook.card.job.sizes import LEFT
from mendbook.terms.docket import Docket
from mendbook.terms.plan import Repair

TAPE = "Figures are mm from the bead toe along the outside, as a tape reads them"
SKETCH = "Shape, thickness and depth are a sketch; lengths along the outside are true."
CLOCK = (
    "Spokes run along the surface, bead to crown centreline. Angles count from the mark (black wedge), as seen on the "
    "serial side from outside. Hatched: bead, no repair. Lines as in the section. What is too small is drawn larger."
)


def places(docket: Docket, repair: Repair | None) -> tuple[tuple[Block, ...], tuple[Block, ...]]:
    """Return section and clock maps, with what is laid over the injury of `repair`; what is not drawn is listed."""
    if docket.map is None:
        return (), ()
    marks = site_marks(docket.map.sites)
    section = draw_section(docket.map, marks, repair)
    clocks = draw_clocks(docket.map, marks, repair)
    if isinstance(section, Drawing):
        taped = docket.map.outline is not None and docket.map.outline.is_taped
        origin = "Height by the measured diameter." if taped else "Height by the size on the tyre; a tape beats it."
        seen: tuple[Block, ...] = (Picture("section", (section,), f"{TAPE}. {origin} {SKETCH}"),)
    else:
        seen = (Text(section),)
    drawn = [*([section] if isinstance(section, Drawing) else []), *clocks]
    left_out = tuple(dict.fromkeys(words for one in drawn for words in one.left_out))
    around = (Picture("clock", clocks, CLOCK),) if clocks else ()
    return seen, (*around, *((Points(left_out),) if left_out else ()))


def is_wide(blocks: tuple[Block, ...]) -> bool:
    """Return whether a picture among `blocks` is wider than the left of two columns."""
    pictures = (block for block in blocks if isinstance(block, Picture))
    return any(drawing.width > LEFT for picture in pictures for drawing in picture.drawings)
