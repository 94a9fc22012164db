"""What people read of a review: the summary in a terminal, as a page to print, and which tyres flip.

The page draws pictures: `mendbook.card.yard.page` alone loads matplotlib, so it is imported by itself.
"""

from mendbook.card.yard.flipped import flips_report
from mendbook.card.yard.note import Note
from mendbook.card.yard.report import yard_report

__all__ = ["Note", "flips_report", "yard_report"]
