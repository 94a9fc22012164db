"""What the plan is asked: one permitted repair with its facts and what the method rules said about it."""

from collections.abc import Mapping
from dataclasses import dataclass, field

from mendbook.rulebook.tree import Value


@dataclass(frozen=True)
class Said:
    """Something a method or release rule said, with why and from which source (as printed)."""

    what: str
    because: str
    source: str


@dataclass(frozen=True)
class Wanted:
    """One injury that may be repaired.

    `facts` is its flat row of facts as read (names of the vocabulary, and the outline of the section: `height`,
    `rim`, `half girth`, `bead ends`, `lower edge`, `upper edge`, `inflated width`, `reinforcement extra`,
    `reinforcement thickness`, all in mm). The zone is the one that decided. `caps` are those of the method rules (what,
    limit); of them `setpoint` and `bag pressure` bind the plan.
    """

    injury: str
    verdict: str
    zone: str
    facts: Mapping[str, Value]
    ruled_out: tuple[Said, ...] = ()
    do: tuple[Said, ...] = ()
    cautions: tuple[Said, ...] = ()
    caps: tuple[tuple[str, str, Said], ...] = ()


@dataclass(frozen=True)
class Release:
    """What the release rules said for the whole tyre: caps (what, limit), things to do, cautions."""

    caps: tuple[tuple[str, str, Said], ...] = ()
    do: tuple[Said, ...] = ()
    cautions: tuple[Said, ...] = ()
    verdict: str = ""
    facts: Mapping[str, Value] = field(default_factory=dict)
