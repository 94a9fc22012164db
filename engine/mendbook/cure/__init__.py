"""The cure time of a hot repair: a cure order in, a cure sheet out. Reads no file and knows no rule."""

from mendbook.cure.overlap import overlap_needed
from mendbook.cure.reach import PadTooSmallError
from mendbook.cure.schedules import NeverCuredError
from mendbook.cure.sheet import compute
from mendbook.cure.sideways import look_sideways

__all__ = ["NeverCuredError", "PadTooSmallError", "compute", "look_sideways", "overlap_needed"]
