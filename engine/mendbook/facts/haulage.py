"""How hard a haul works a tyre: tonne-kilometres per hour."""


def tkph(empty_t: float, loaded_t: float, cycle_km: float, cycles: float, shift_h: float) -> float:
    """Return the work of one tyre [t km/h]: its mean load times the mean speed over a shift.

    `empty_t`, `loaded_t`: load on the tyre with the machine empty and loaded [t]; `cycle_km`: round trip [km];
    `cycles`: round trips in a shift; `shift_h`: length of the shift [h], above 0.
    The trade-wide formula (common practice, no source); not found in the text of a standard.
    """
    mean_load = (empty_t + loaded_t) / 2.0
    return mean_load * cycle_km * cycles / shift_h
