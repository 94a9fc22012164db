"""The cure time of a hot repair: a cure order in, a cure sheet out. Reads no file and knows no rule."""

from mendbook.cure.overlap import PadTooSmallError, centre_factor, overlap_needed
from mendbook.cure.schedules import NeverCuredError
from mendbook.cure.sheet import compute

__all__ = ["NeverCuredError", "PadTooSmallError", "centre_factor", "compute", "overlap_needed"]
