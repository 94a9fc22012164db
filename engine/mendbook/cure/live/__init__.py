"""A cure that runs: its order and the log of its temperatures in, where it stands and what it needs out."""

from mendbook.cure.live.record import Channel, Record
from mendbook.cure.live.state import read_state

__all__ = ["Channel", "Record", "read_state"]
