"""What a repair is worth: cost per hour or km of repairing, replacing, retreading and selling the casing.

Nothing here decides what may be repaired. Pure functions on frozen models; `weigh` leads through them.
"""

from mendbook.worth.survival import Survival, open_survival
from mendbook.worth.weighing import weigh

__all__ = ["Survival", "open_survival", "weigh"]
