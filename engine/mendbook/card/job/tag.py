"""The limits tag: the small paper that stays on the tyre, for whoever fits it and runs it."""

from collections.abc import Iterator

from mendbook.card.job.blocks import Band, Blanks, Block, Pairs, Paper, Part, Points, Text
from mendbook.card.job.card import FOOT, identity
from mendbook.card.lettering import plain, sentence, short
from mendbook.card.summary import answer_said
from mendbook.terms.answers import verdict_words
from mendbook.terms.docket import Docket, Outcome
from mendbook.terms.plan import Step

WORDS: dict[Outcome, str] = {
    "stop": "DO NOT TOUCH", "reject": "REJECTED", "hold": "ON HOLD", "repair": "LIMITS", "serve": "IN SERVICE",
}  # fmt: skip
TOLD: dict[Outcome, tuple[str, ...]] = {
    "stop": ("Keep away. Nobody moves, cools, opens or repairs this tyre until the stop is cleared and signed.",),
    "reject": ("Do not inflate it. Do not fit it.",),
    "hold": ("Not released. Do not inflate it, do not fit it, do not repair it until every look is signed.",),
    "repair": (),
    "serve": ("No repair was needed. Look at the injury at every service, and judge it again when it has grown.",),
}
LIMITED = "The rejection is for {uses} use. It is no release for any other use."


def limits_tag(docket: Docket) -> Paper:
    """Return the tag for the outcome of `docket`."""
    name = "Limits tag" if docket.outcome == "repair" else "Tyre tag"
    return Paper(
        name=name,
        outcome=docket.outcome,
        identity=identity(docket, name),
        title=short(docket.tyre.tag, 40) or "no tag",
        subtitle=short(docket.tyre.designation, 40),
        word=WORDS[docket.outcome],
        answer=answer_said(docket),
        bands=(Band("wide", tuple(_parts(docket))),),
        foot=FOOT.partition(". ")[0] + ".",
    )


def _parts(docket: Docket) -> Iterator[Part]:
    if docket.outcome != "repair" or docket.plan is None:
        yield Part("What it means", tuple(_told(docket)))
        yield Part("Who says so", (Blanks(("Name", "Date")),))
        return
    repairs = tuple(
        (short(repair.injury, 20), f"{verdict_words(repair.verdict)}, {plain(repair.zone)}")
        for repair in docket.plan.repairs
    )
    yield Part("Repaired", (Pairs(repairs),))
    limits = tuple((plain(limit.what).capitalize(), f"at most {plain(limit.limit)}") for limit in docket.plan.limits)
    minded = dict.fromkeys(limit.caution for limit in docket.plan.limits if limit.caution)
    cautions = [Text(sentence(caution), strong=True) for caution in minded]
    yield Part("Limits", (*cautions, Pairs(limits) if limits else Text("None is set.")))
    kept = tuple(said for step in docket.plan.ladder if step.on_tag and (said := _step(step)))
    if kept:
        yield Part("In service", (Points(kept),))
    yield Part("Released", (Blanks(("Shop", "Job", "Repaired on", "Released by the foreman")),))


def _told(docket: Docket) -> Iterator[Block]:
    rejected = [plain(use) for use, verdict in docket.uses.items() if verdict == "reject"]
    if docket.outcome == "reject" and 0 < len(rejected) < len(docket.uses):
        yield Text(LIMITED.format(uses=" and ".join(rejected)), strong=True)
    else:
        yield from (Text(said, strong=True) for said in TOLD[docket.outcome])
    yield Text(sentence(docket.reason))
    if docket.outcome == "hold":
        yield Points(tuple(sentence(hold) for hold in docket.holds))


def _step(step: Step) -> str:
    """Return what whoever runs the tyre must know of a step."""
    return " ".join(filter(None, (sentence(step.do), sentence(step.figures), sentence(step.caution))))
