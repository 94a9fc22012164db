"""A guided inspection: one question at a time, only what can still change the answer."""

from mendbook.inspection.answers import UnclearAnswer
from mendbook.inspection.course import answer, begin, next_question, outcome
from mendbook.inspection.form import full_form
from mendbook.inspection.question import Kind, Question
from mendbook.inspection.reasons import reasons
from mendbook.inspection.state import Inspection

__all__ = [
    "Inspection",
    "Kind",
    "Question",
    "UnclearAnswer",
    "answer",
    "begin",
    "full_form",
    "next_question",
    "outcome",
    "reasons",
]
