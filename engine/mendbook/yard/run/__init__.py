"""Run a review: part after part, so that it may be larger than memory, be interrupted, and use many processors."""

from mendbook.yard.run.fault import Interrupted, LostRowsError, RunError
from mendbook.yard.run.options import Form, Options, Places
from mendbook.yard.run.progress import Progress
from mendbook.yard.run.running import Outcome, Source, run_review

__all__ = [
    "Form",
    "Interrupted",
    "LostRowsError",
    "Options",
    "Outcome",
    "Places",
    "Progress",
    "RunError",
    "Source",
    "run_review",
]
