"""What people read: the report of a docket and of a cure sheet, as text for a terminal or a file."""

from mendbook.card.cure_report import cure_report
from mendbook.card.printing import as_text
from mendbook.card.report import report

__all__ = ["as_text", "cure_report", "report"]
