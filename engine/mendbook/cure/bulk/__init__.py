"""Thousands of cures at once: orders in, a table of answers out."""

from mendbook.cure.bulk.columns import OrderColumns, columns_of
from mendbook.cure.bulk.many import compute_columns, compute_many
from mendbook.cure.bulk.table import CureTable

__all__ = ["CureTable", "OrderColumns", "columns_of", "compute_columns", "compute_many"]
