"""The stages of the rulebook that a triage runs, in its order, by the pass that runs them."""

PEOPLE = ("people",)
BEFORE_CLASS = ("identity", "casing", "injury")
WITH_CLASS = ("pairs",)
METHOD = ("method",)
RELEASE = ("release",)
ALL = (*PEOPLE, *BEFORE_CLASS, *WITH_CLASS, *METHOD, *RELEASE)
