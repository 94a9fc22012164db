"""What goes with every state of a running cure, in words."""

from mendbook.cure.live.estimate import DEPTH_SD, Fit
from mendbook.cure.varying import varies
from mendbook.terms.cure_order import CureOrder


def live_cautions(order: CureOrder) -> tuple[str, ...]:
    """Return what goes with every cure that runs."""
    return (
        "Only trained, authorised persons cure a tyre. Local codes, site rules and makers' instructions win over this.",
        "A cure is never left alone, and a log replaces no look at pads, clamp and gauge.",
        f"Clamp, pads and pressure stay on until the hottest point is below {order.release_C:g} °C. The middle goes on "
        "warming up after power-off: a cool face says nothing about it.",
        "Check hardness and bond at the end. This is not a release certificate.",
    )


def live_notes(order: CureOrder, fitted: Fit) -> tuple[str, ...]:
    """Return what the model counts and what it leaves out."""
    counted = (
        "Diffusivity and contact are told from the sensors inside, starting from the order with 10 % and a factor of "
        f"2 (one standard deviation, house defaults) and depths known to {1e3 * DEPTH_SD:g} mm. The band from 5 to "
        "95 % holds that alone: not the cure curve, the thickness, or what is done next."
        if fitted.blocks
        else "No sensor inside bears the order out: pads say what the faces met, nothing about the middle. The "
        "properties are those of the order."
    )
    left_out = (
        "Heat of reaction and properties that change with temperature are left out here, though the order gives them."
    )
    longer = fitted.history.pads.longer
    edge = (
        f"The pads end near the edge of the injury, which takes {longer:.2f} times as long as the middle: the times to "
        "go count that, the cure told here is that of the middle."
    )
    return (
        "The pads of the log are what the faces met, in straight lines between readings. The wall is "
        "at the temperature of the order in the first line.",
        counted,
        *([left_out] if varies(order) else []),
        *([edge] if longer > 1 else []),
        "One-dimensional, straight through the wall; cure in multiples of t90 after Arrhenius.",
    )
