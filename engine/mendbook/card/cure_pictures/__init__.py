"""Pictures of a cure: temperatures, cure through the wall, time against thickness, and a sheet of all three.

matplotlib is loaded when this package is: nothing that a triage needs may import it.
"""

from mendbook.card.cure_pictures.picture import PICTURES, Picture, draw_cure
from mendbook.card.cure_pictures.rendering import as_png, as_svg

__all__ = ["PICTURES", "Picture", "as_png", "as_svg", "draw_cure"]
