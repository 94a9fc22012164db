"""Caps of the rules that the bench itself keeps, so that each must be one figure."""

from collections.abc import Mapping

from mendbook.terms.units import Dimension

CAPPED: Mapping[str, Dimension] = {"bag pressure": Dimension.PRESSURE, "setpoint": Dimension.TEMPERATURE}
