"""Which tyres of a reviewed yard to repair this week; `planning.py` leads through it."""

from mendbook.yard.week.fault import WeekError
from mendbook.yard.week.labour import read_labour
from mendbook.yard.week.planning import Limits, plan_week
from mendbook.yard.week.price_columns import read_price_columns
from mendbook.yard.week.price_list import PriceList, read_price_list

__all__ = ["Limits", "PriceList", "WeekError", "plan_week", "read_labour", "read_price_columns", "read_price_list"]
