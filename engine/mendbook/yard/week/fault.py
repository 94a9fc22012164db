"""The one error of a week that cannot be planned."""


class WeekError(ValueError):
    """Decisions or prices that cannot be used. The message says what, where, why and what to write instead."""
