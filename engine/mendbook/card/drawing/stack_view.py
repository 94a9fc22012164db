"""The stack through a repair to scale: what lies over what, how thick, which face is heated, where it cures last."""

from collections.abc import Iterator

from mendbook.card.drawing.labels import Label, column
from mendbook.card.drawing.shapes import Box, Drawing, Line, Shape, Words, rectangle
from mendbook.card.lettering import short
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

TITLE = "Stack through the repair"
WIDTH = 62.0  # mm
HIGH = 22.0  # mm of paper for the stack
SCALES = (0.5, 1, 1.5, 2, 2.5, 3, 4, 5, 6, 7.5, 10, 12.5, 15)
TOP, LEFT, ACROSS = 4.5, 9.0, 11.0  # mm
LOOKS = {"fill": "fill", "cured fill": "fill", "gum": "gum", "casing": "casing", "reinforcement": "bridge"}
LONGEST = 14  # letters of a name
LABEL = 3.2  # mm from label to label


def draw_stack(order: CureOrder, sheet: CureSheet) -> Drawing:
    """Return the layers of `order` from the outside face down to the inside face."""
    whole = sum(layer.thickness_mm for layer in order.layers)
    scale = next((one for one in SCALES if whole / one <= HIGH), whole / HIGH)
    shapes: list[Shape] = []
    labels: list[Label] = []
    top = TOP
    for number, layer in enumerate(order.layers):
        bottom = top + layer.thickness_mm / scale
        box = Box(LEFT, top, LEFT + ACROSS, bottom)
        shapes.append(rectangle(f"layer {number}", box, LOOKS.get(layer.name, "other layer")))
        before = " cured" if layer.cured_before else ""
        said = f"{short(layer.name, LONGEST)} {layer.thickness_mm:g} mm{before}"
        labels.append(Label(f"name {number}", (LEFT + ACROSS, (top + bottom) / 2), said))
        top = bottom
    slow = TOP + sheet.slowest.depth_mm / scale
    shapes.append(Line("slowest", ((LEFT - 1.0, slow), (LEFT + ACROSS + 1.0, slow)), "slowest"))
    labels.append(
        Label("slowest point", (LEFT + ACROSS + 1.0, slow), f"cures last, {sheet.slowest.depth_mm:.0f} mm deep")
    )
    shapes += column(labels, LEFT + ACROSS + 4.0, TOP - 1.5, top + 1.5, anchor="start")
    foot = max(top + 0.6, TOP - 1.5 + LABEL * len(labels))
    shapes += _faces(order, top, foot)
    shapes += _whole(whole, top)
    height = foot + 4.9
    shapes.append(Words("scale", (WIDTH - 0.5, height - 1.3), f"1 : {scale:g} as printed", 7.0, "end"))
    return Drawing(TITLE, WIDTH, height, tuple(shapes), scale)


def _faces(order: CureOrder, bottom: float, foot: float) -> Iterator[Shape]:
    """Yield what lies on each face; what is said of the inside stands below all labels, at the `foot`."""
    for face, pad, y, words in (
        ("outside", order.outside, TOP - 0.9, TOP - 2.1),
        ("inside", order.inside, bottom + 0.9, foot + 3.6),
    ):
        heated = f"pad {pad.setpoint_C:g} °C" if pad.present else "no pad"
        if pad.present:
            yield Line(f"{face} pad", ((LEFT, y), (LEFT + ACROSS, y)), f"{face} pad")
        yield Words(f"{face} face", (LEFT, words), f"{face}: {heated}")


def _whole(whole: float, bottom: float) -> Iterator[Shape]:
    """Yield the thickness of it all, beside the stack."""
    x = LEFT - 2.5
    yield Line("whole", ((x, TOP), (x, bottom)), "thin")
    for y in (TOP, bottom):
        yield Line("whole end", ((x - 0.8, y), (x + 0.8, y)), "tick")
    yield Words("whole", (x - 0.8, (TOP + bottom) / 2 + 0.9), f"{whole:g}", 7.0, "end")
