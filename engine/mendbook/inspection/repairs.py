"""The questions about earlier repairs: which there are, how each holds, and where it lies."""

from collections.abc import Iterator
from typing import get_args

from mendbook.inspection.question import Kind, Question
from mendbook.inspection.state import TAPES, Inspection
from mendbook.terms.case import Repair
from mendbook.terms.docket import Docket
from mendbook.terms.document import Way
from mendbook.terms.vocabulary import Vocabulary

REPAIRS: Way = ("earlier repairs",)
REPAIR_CLASSES: tuple[str, ...] = get_args(Repair.model_fields["repair_class"].annotation)
UNNAMED = ("none", "not mapped")
REINFORCED = ("reinforce", "section")  # spacing is between reinforcements
SERIOUS = (*REINFORCED, "reject")

_STATE = "one that is letting go is an injury of its own"
_NEAR = "how far it lies from the injuries decides whether they count as one"


def ask_repairs(why: str) -> Question:
    """Return the question for the earlier repairs as a whole."""
    return Question(
        REPAIRS,
        "earlier repairs, inside and outside: what was done in each, with commas between, or 'none'",
        "look all round inside under raking light, and number them on the map as you name them: P1, P2 and so on",
        why,
        kind=Kind.REPAIRS,
        values=(*UNNAMED, *REPAIR_CLASSES),
        example="section, spot",
    )


def repair_questions(state: Inspection, docket: Docket, vocabulary: Vocabulary) -> Iterator[Question]:
    """Yield what is not told yet of each earlier repair; its place only where spacing may matter."""
    repairs = state.written(REPAIRS)
    is_near = any(injury.bracket and injury.bracket[1] in SERIOUS for injury in docket.injuries)
    for number, repair in enumerate(repairs if isinstance(repairs, list) else []):
        here: Way = (*REPAIRS, number)
        reinforced = isinstance(repair, dict) and repair.get("class") in REINFORCED
        name = str(repair.get("name", "")) if isinstance(repair, dict) else ""
        questions = [
            _state(here, name),
            *(_whereabouts(state, here, name, vocabulary) if reinforced and is_near else ()),
        ]
        yield from (question for question in questions if not state.is_answered(question.path))


def _state(here: Way, name: str) -> Question:
    return Question(
        (*here, "state"), "how the earlier repair holds", "tap it, press its edge, look for lifting", _STATE, name,
        values=("sound", "loose"), example="sound",
    )  # fmt: skip


def _whereabouts(state: Inspection, here: Way, name: str, vocabulary: Vocabulary) -> Iterator[Question]:
    if not any(state.is_answered((*here, tape)) for tape in TAPES):
        yield Question(
            (*here, "place"), "where the nearest edge of the earlier repair lies, along the surface",
            "tape from the bead toe, or from the crown centreline; or name the zone", _NEAR, name, Kind.PLACE,
            values=vocabulary["zone"].values, example="330 mm from bead",
        )  # fmt: skip
    sides = ("serial side", "opposite side", "crown")
    yield Question((*here, "side"), "side it lies on", "look", _NEAR, name, values=sides, example=sides[0])
    yield Question(
        (*here, "clock"), "angle from the valve or serial mark, seen on the serial side",
        "stand on the serial side and count round from the mark", _NEAR, name, unit="deg", example="214 deg",
    )  # fmt: skip
    for field, across in (("length", "around the tyre"), ("width", "across the section")):
        yield Question(
            (*here, field), f"size of its reinforcement {across}", "tape over the reinforcement", _NEAR, name,
            unit="mm", example="180 mm",
        )  # fmt: skip
