"""A published formula for the hourly cost of tyres, to hold ours against."""

RETREADS_COST = 1.5  # a tyre and one retread, of the price of a tyre
RETREADS_LIFE = 1.8  # what the two run together, of the life of a tyre
REPAIRS = 0.15  # of the wear


def hourly_wear(tyre_cost: float, life_h: float, wear_factor: float = 1.0) -> float:
    """Return the hourly cost of wear of a tyre that is retreaded once.

    tyre_cost : [currency]
    life_h : longest life of the tyre [h]
    wear_factor : share of that life that the work leaves

    US Army Corps of Engineers, EP 1110-1-8, 31 July 2003, worksheet 5.e (read in an excerpt).
    """
    return RETREADS_COST * tyre_cost / (RETREADS_LIFE * wear_factor * life_h)


def hourly_repair(wear: float, labour_adjustment: float = 1.0) -> float:
    """Return the hourly cost of tyre repairs beside the hourly `wear`. The same pamphlet, worksheet 5.f."""
    return REPAIRS * wear * labour_adjustment
