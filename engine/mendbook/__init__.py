"""Whether a heavy tyre can be repaired, how, within which limits, and for how long under heat."""

__version__ = "0.1.0"
