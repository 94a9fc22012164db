"""Which process is left: from each group of the rulebook's methods the best that no rule rules out."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from mendbook.plan.cavity import REINFORCED
from mendbook.plan.request import Said, Wanted
from mendbook.terms.plan import WhyNot

HEAT, STAGES, REINFORCEMENT, HEATING, KIT = "heat", "stages", "reinforcement", "heating", "kit"
HOT, COLD = "hot", "cold"
TWO_STAGES, BOTH_FACES, PRECURED = "two stages", "heat from both faces", "precured reinforcement"
HOUSE = "house default"

_WOULD_SERVE = {
    HEAT: "a place where hot work can be done",
    STAGES: "kit that presses and heats both faces",
    REINFORCEMENT: "an inside bag with a proof test in date, and another size or place of the reinforcement",
    HEATING: "kit that reaches both faces, or a shop that has it",
    KIT: "a shop with kit that fits this section",
}


@dataclass(frozen=True)
class Choice:
    """The words chosen, empty where a group does not apply; `kits` are those left to choose from, best first.

    `closed` says which groups are ruled out as a whole; then there is no method.
    """

    heat: str
    stages: str
    reinforcement: str
    heating: str
    kits: tuple[str, ...]
    why_not: tuple[WhyNot, ...]
    closed: tuple[str, ...]

    @property
    def both_faces(self) -> bool:
        """True when both faces are heated."""
        return self.heating == BOTH_FACES


def choose(wanted: Wanted, methods: Mapping[str, Sequence[str]]) -> Choice:
    """Return the process for a spot, reinforce or section repair.

    methods : groups of the rulebook, each with its words, best first
    A cold repair has no stages, pads or reinforcement of its own; a spot repair has no reinforcement.
    """
    reasons = _reasons(wanted)
    left = {group: [word for word in words if word not in reasons] for group, words in methods.items()}
    heat = next(iter(left[HEAT]), "")
    asked = [HEAT, STAGES, HEATING, KIT] if heat != COLD else [HEAT]
    if wanted.verdict in REINFORCED:
        asked.insert(2, REINFORCEMENT)
    closed = tuple(_closed(group, methods[group], reasons) for group in asked if not left[group])

    def first(group: str) -> str:
        return next(iter(left[group]), "") if group in asked else ""

    return Choice(
        heat=heat,
        stages=first(STAGES),
        reinforcement=first(REINFORCEMENT),
        heating=first(HEATING),
        kits=tuple(left[KIT]) if KIT in asked else (),
        why_not=(*_refused(reasons), *_also(heat, left[HEAT])),
        closed=closed,
    )


def cold_instead(choice: Choice, lacking: Sequence[str]) -> Choice:
    """Return the choice of a cold repair where no kit serves a hot one."""
    hot = WhyNot(method=HOT, because=f"No kit serves it. {'. '.join(lacking)}.", source="house default, catalogue")
    kept = tuple(refused for refused in choice.why_not if refused.method != COLD)
    return Choice(COLD, "", "", "", (), (hot, *kept), ())


def may_be_cold(wanted: Wanted, methods: Mapping[str, Sequence[str]]) -> bool:
    """Return whether a cold repair is left: only for a spot repair that no rule wants hot."""
    return wanted.verdict == "spot" and COLD in methods[HEAT] and COLD not in _reasons(wanted)


def _reasons(wanted: Wanted) -> dict[str, list[Said]]:
    reasons: dict[str, list[Said]] = {}
    for said in wanted.ruled_out:
        reasons.setdefault(said.what.casefold(), []).append(said)
    return reasons


def _refused(reasons: Mapping[str, Sequence[Said]]) -> list[WhyNot]:
    return [
        WhyNot(
            method=method,
            because=" ".join(dict.fromkeys(one.because for one in said)),
            source="; ".join(dict.fromkeys(one.source for one in said)),
        )
        for method, said in reasons.items()
    ]


def _also(heat: str, left: Sequence[str]) -> list[WhyNot]:
    if heat == HOT and COLD in left:
        return [WhyNot(method=COLD, because="Permitted here too; the rulebook puts hot first.", source=HOUSE)]
    return []


def _closed(group: str, words: Sequence[str], reasons: Mapping[str, Sequence[Said]]) -> str:
    why = "; ".join(f"{word}: {reasons[word][0].because.rstrip('.')}" for word in words if word in reasons)
    return f"{group}: every way is ruled out ({why}). What would serve: {_WOULD_SERVE.get(group, 'another way')}"
