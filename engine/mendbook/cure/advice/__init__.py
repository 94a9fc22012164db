"""Advice on a cure: setpoints, shifts, stages, pressure, and what comes of things that go otherwise."""

from mendbook.cure.advice.sheet import advise
from mendbook.cure.advice.shifts import SHIFT

__all__ = ["SHIFT", "advise"]
