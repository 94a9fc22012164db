"""The way back to service: limits on the tyre, and the ladder from the end of the cure to the follow-up."""

import re

from mendbook.plan.request import Release, Said
from mendbook.plan.script import Script, perform
from mendbook.terms.plan import Limit, Step

REST = {"W1": 12, "W2": 12, "W3": 24, "W4": 24, "W5": 24}  # h from the end of the cure; house default
REST_WIDE = 36  # h
_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")


def limits_of(release: Release) -> tuple[Limit, ...]:
    """Return the caps of the release rules; where two rules cap the same thing, the smaller."""
    return tuple(Limit(what=what, limit=limit, basis=said.source) for what, (limit, said) in _caps(release).items())


def ladder_of(release: Release, script: Script) -> tuple[Step, ...]:
    """Return the steps from the end of the work back to service."""
    words = {name: value for name, value in release.facts.items() if isinstance(value, str)}
    return perform([script], {**words, "verdict": release.verdict}, _figures(release), release.do, release.cautions)


def _caps(release: Release) -> dict[str, tuple[str, Said]]:
    caps: dict[str, tuple[str, Said]] = {}
    for what, limit, said in release.caps:
        if what not in caps or _size(limit) < _size(caps[what][0]):
            caps[what] = (limit, said)
    return caps


def _size(limit: str) -> float:
    found = _NUMBER.search(limit)
    return float(found[0]) if found else float("inf")


def _figures(release: Release) -> dict[str, str]:
    caps = {what: limit for what, (limit, _) in _caps(release).items()}
    specified = release.facts.get("pressure specified")

    def pressure(share: float) -> str:
        if isinstance(specified, float) and specified > 0:
            return f"{share * specified:.1f} bar"
        return f"{100 * share:.0f} %"

    return {
        "rest": f"{REST.get(str(release.facts.get('width class')), REST_WIDE)} h",
        "half pressure": pressure(0.5),
        "three quarters pressure": pressure(0.75),
        "full pressure": pressure(1.0),
        "bulge": caps.get("bulge", ""),
        "loss": caps.get("pressure loss in a day", ""),
        "first load": caps.get("load in the first 50 h", ""),
        "first speed": caps.get("speed in the first 50 h", ""),
    }
