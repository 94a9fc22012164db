"""The cure time of a hot repair: a cure order in, a cure sheet out. Reads no file and knows no rule."""

from mendbook.cure.course import NeverCuredError
from mendbook.cure.overlap import PadTooSmallError, centre_factor, overlap_needed
from mendbook.cure.sheet import compute

__all__ = ["NeverCuredError", "PadTooSmallError", "centre_factor", "compute", "overlap_needed"]
