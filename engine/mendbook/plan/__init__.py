"""How a permitted repair is done: process, kit, materials, steps, limits, and the order to the cure module."""

from mendbook.plan.repairs import plan_repairs
from mendbook.plan.stock import Stock, open_stock

__all__ = ["Stock", "open_stock", "plan_repairs"]
