"""A few rows through durable-rules: the rule tree lowered to rulesets, one flat fact at a time.

It holds no word of the trade, and nothing else of mendbook imports `durable`.
"""

from mendbook.inference.session import Firing, Session, is_available

__all__ = ["Firing", "Session", "is_available"]
