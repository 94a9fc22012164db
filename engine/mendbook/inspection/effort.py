"""How much it costs to judge a case of which little is known: every value still possible is tried."""

from datetime import date
from math import prod

from mendbook.facts.case_reading import read_readings
from mendbook.facts.readings import Reading
from mendbook.facts.scenarios import TooManyChoices
from mendbook.terms.case import Case
from mendbook.terms.vocabulary import Vocabulary

MOST_ROWS = 3000  # measured: some two seconds; ten times as many take half a minute and gigabytes


def check_effort(case: Case, vocabulary: Vocabulary, on: date) -> None:
    """Raise TooManyChoices when judging `case` on the day `on` would keep a person waiting."""
    readings = read_readings(case, vocabulary, on, "none")
    tyre = _choices(readings.tyre, vocabulary)
    rows = tyre * max(1, sum(_choices(injury, vocabulary) for injury in readings.injuries))
    if rows > MOST_ROWS:
        subjects = [("tyre", readings.tyre), *zip(readings.names, readings.injuries, strict=True)]
        open_facts = ((about, name) for about, one in subjects for name in one.alternatives(vocabulary))
        unknown = [f"{name} of {about}" for about, name in open_facts if vocabulary[name].is_given]
        raise TooManyChoices(f"{rows} combinations are possible. Find out some of: {', '.join(unknown)}.")


def _choices(reading: Reading, vocabulary: Vocabulary) -> int:
    return prod(len(values) for values in reading.alternatives(vocabulary).values())
