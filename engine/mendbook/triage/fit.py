"""Whether a rulebook fits the program: what its rules say is heard where they stand, and its facts can be worked out.

Without this a rule in a stage that is never run, or a stop where nobody listens for one, would be silent.
"""

from collections.abc import Iterator

from mendbook.facts.caps import CAPPED
from mendbook.facts.needs import find_unmet_needs
from mendbook.facts.table_sense import find_senseless_numbers
from mendbook.rulebook.book import Rulebook
from mendbook.terms.quantity import QuantityError, read_quantity
from mendbook.terms.units import Dimension
from mendbook.terms.vocabulary import Subject
from mendbook.triage.stages import ALL, BEFORE_CLASS, METHOD, PEOPLE, RELEASE, WITH_CLASS

COVER = "rulebook.yaml"
SCALE = ("leave", "dress", "spot", "reinforce", "section", "reject")  # from mild to severe
CLASSES = ("repair class", "tyre class")  # facts that take the words of the scale
# What nobody listens for in a stage.
UNHEARD: dict[str, tuple[str, ...]] = {
    **dict.fromkeys((*BEFORE_CLASS, *WITH_CLASS), ("stop",)),
    **dict.fromkeys(METHOD, ("stop", "verdict")),
    **dict.fromkeys(RELEASE, ("stop", "verdict", "rule out")),
}
HEARD_IN = {"stop": PEOPLE[-1], "verdict": BEFORE_CLASS[-1], "rule out": METHOD[-1]}
FIGURES = {"bag pressure": "2.5 bar", "setpoint": "150 °C"}  # how a cap that the bench keeps may be written


def find_misfits(book: Rulebook) -> list[str]:
    """Return what keeps `book` from being judged by, as `place: what and why. what to write`; empty when it fits."""
    return [
        *_scale_faults(book), *_stage_faults(book), *_hearing_faults(book), *_cap_faults(book),
        *find_unmet_needs(book), *find_senseless_numbers(book),
    ]  # fmt: skip


def _scale_faults(book: Rulebook) -> Iterator[str]:
    scales = {f"{COVER}: verdicts": book.verdicts}
    scales |= {f"knowledge/vocabulary: {n}": book.vocabulary[n].values for n in CLASSES if n in book.vocabulary}
    for where, scale in scales.items():
        if tuple(scale) != SCALE:
            yield f"{where}: repairs are planned for these words in this order: {', '.join(SCALE)}. Write them."


def _stage_faults(book: Rulebook) -> Iterator[str]:
    named = [stage.name for stage in book.stages]
    run = ", ".join(ALL)
    for name in named:
        if name not in ALL:
            yield f"{COVER}: the stage '{name}' is never run, so its rules would be silent. The stages are: {run}."
    for name in ALL:
        if name not in named:
            yield f"{COVER}: there is no stage '{name}'. The stages are: {run}."
    if [name for name in named if name in ALL] != [name for name in ALL if name in named]:
        yield f"{COVER}: the stages are run in another order than they are written in. Write: {run}."


def _hearing_faults(book: Rulebook) -> Iterator[str]:
    for rule in book.rules:
        if rule.stage in PEOPLE and rule.subject is Subject.INJURY:
            yield (
                f"{rule.file}:1: the stage '{rule.stage}' looks at the tyre alone, and this rule at an injury, so it "
                "would be silent. Move it to the folder of another stage."
            )
        for line in rule.lines:
            for word in line.outcome.words():
                if word in UNHEARD.get(rule.stage, ()):
                    yield (
                        f"{rule.file}:{line.at}: a '{word}' is not heard in the stage '{rule.stage}'. "
                        f"Move the rule to a folder of the stage '{HEARD_IN[word]}'."
                    )


def _cap_faults(book: Rulebook) -> Iterator[str]:
    for rule in book.rules:
        for line in rule.lines:
            for what, limit in line.outcome.cap:
                if what in CAPPED and not _is_one_figure(limit, CAPPED[what]):
                    yield (
                        f"{rule.file}:{line.at}: '{what}' is capped at '{limit}', and the bench keeps this cap by its "
                        f"figure. Write one figure with its unit, such as '{FIGURES[what]}'."
                    )


def _is_one_figure(limit: str, dimension: Dimension) -> bool:
    try:
        return read_quantity(limit, dimension).value is not None
    except QuantityError:
        return False
