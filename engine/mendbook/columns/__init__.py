"""Many rows at once: the rule tree lowered to Polars expressions. It holds no word of the trade."""

from mendbook.columns.speak import Columns

__all__ = ["Columns"]
