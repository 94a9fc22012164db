"""Many rows at once: the rule tree lowered to Polars expressions. It holds no word of the trade."""

from mendbook.columns.speak import Columns, Instead

__all__ = ["Columns", "Instead"]
