"""How far a property may change with temperature before it means nothing."""

REFERENCE = 80.0  # °C, at which properties are as ordered
LEAST = 0.1  # of a property, at any temperature that it may get; house default


def refuse_drift(of: str, per_K: dict[str, float], coldest_C: float, hottest_C: float) -> None:
    """Raise ValueError when a property of the material `of` falls below a tenth of itself.

    per_K : relative change of each property about 80 °C [1/K]
    coldest_C, hottest_C : that the material may get [°C]
    """
    for name, change in per_K.items():
        worst = coldest_C if change > 0 else hottest_C
        if 1 + change * (worst - REFERENCE) < LEAST:
            most = int(1e4 * (LEAST - 1) / (worst - REFERENCE)) / 1e4
            raise ValueError(
                f"the {name} of '{of}' changes by {change:g} a kelvin about {REFERENCE:g} °C: at {worst:.0f} °C next "
                f"to nothing of it is left. Write {most:g} or {'less' if change > 0 else 'more'}; 0 if it is not known."
            )
