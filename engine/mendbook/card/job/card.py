"""The card of a docket: what stands on it, by outcome. Where no repair is allowed it holds no step of a repair."""

from collections.abc import Iterator

from mendbook.card.cure_report import further_cautions
from mendbook.card.drawing.marks import marks_of, site_marks
from mendbook.card.injuries import injury_verdict_words, share_words, size_words
from mendbook.card.job.blocks import Band, Block, Grid, Paper, Part, RunOn, Text
from mendbook.card.job.closing import rejection, service, signed
from mendbook.card.job.looking import looks, stops
from mendbook.card.job.picturing import is_wide, places
from mendbook.card.job.reasons import book, reasons
from mendbook.card.job.working import back_to_service, cures, goods, limits, mark_of, method, repair_bands, steps
from mendbook.card.lettering import plain, sentence, short
from mendbook.card.summary import answer_said, tyre_line
from mendbook.card.wording import STANDING
from mendbook.terms.docket import Docket, InjuryVerdict, Outcome

NAMES: dict[Outcome, str] = {
    "stop": "Stop sheet", "reject": "Rejection sheet", "hold": "Hold sheet", "repair": "Job card",
    "serve": "Return-to-service sheet",
}  # fmt: skip
FOOT = "Local law, site rules and makers' instructions override this sheet. A person signs; a sheet is no certificate."


def job_card(docket: Docket) -> Paper:
    """Return the paper for the outcome of `docket`."""
    name = NAMES[docket.outcome]
    tag = short(docket.tyre.tag, 40)
    return Paper(
        name=name,
        outcome=docket.outcome,
        identity=identity(docket, name),
        title=tag or "no tag",
        subtitle=f"{short(docket.case)}. {sentence(tyre_line(docket.tyre))}".strip(),
        word=docket.outcome.upper(),
        answer=answer_said(docket),
        bands=tuple(band for band in _bands(docket) if band.parts or band.beside),
        foot=FOOT,
    )


def identity(docket: Docket, name: str) -> str:
    """Return what stands on every sheet: which paper, of which tyre, judged when and by which book."""
    tyre = docket.tyre
    words = (
        name, short(tyre.tag, 30) or short(docket.case, 40), short(tyre.designation, 30), plain(docket.judged)[:10],
        f"rulebook {plain(docket.rulebook.digest)[:8]}",
    )  # fmt: skip
    return ", ".join(word for word in words if word)


def _bands(docket: Docket) -> Iterator[Band]:
    end = Band("wide", (_cautions(docket), book(docket)))
    match docket.outcome:
        case "stop":
            yield Band("wide", (stops(docket), reasons(docket)))
            yield end
        case "reject":
            yield from _beside(places(docket, None), (), (reasons(docket),))
            yield Band("wide", (_injuries(docket), rejection(docket)))
            yield end
        case "hold":
            yield Band("wide", (looks(docket),))
            yield from _beside(places(docket, None), (), (reasons(docket),))
            yield Band("wide", (_injuries(docket),))
            yield end
        case "serve":
            yield from _beside(places(docket, None), (), (reasons(docket),))
            yield Band("wide", (_injuries(docket), service(docket)))
            yield end
        case _:
            yield from _working(docket)


def _working(docket: Docket) -> Iterator[Band]:
    repairs = docket.plan.repairs if docket.plan else ()
    marks = site_marks(docket.map.sites) if docket.map else {}
    after = (*back_to_service(docket), _cautions(docket))
    if len(repairs) == 1:
        repair, mark = repairs[0], mark_of(repairs[0], marks)
        yield from _beside(
            places(docket, repair), (_injuries(docket), *goods(repair), signed()),
            (reasons(docket), method(repair), *cures(repair, mark), limits(docket), book(docket)),
        )  # fmt: skip
        yield Band("run", (*steps(repair, mark).parts, *after))
        return
    yield from _beside(places(docket, None), (_injuries(docket),), (reasons(docket), limits(docket), book(docket)))
    for repair in repairs:
        yield from repair_bands(docket, repair, marks)
    yield Band("run", (*after, signed()))


def _beside(
    seen: tuple[tuple[Block, ...], tuple[Block, ...]], below: tuple[Part, ...], right: tuple[Part, ...]
) -> Iterator[Band]:
    """Yield section and clock maps, what stands below and beside them; a section of both halves goes right across."""
    section, around = seen
    if is_wide(section):
        yield Band("wide", (Part("Where it is", section),))
        yield Band("pair", (Part("Round the tyre", around), *below), right)
    else:
        own = (Part("Where it is", (*section, *around)),) if section or around else ()
        yield Band("pair", (*own, *below), right)


def _injuries(docket: Docket) -> Part:
    """Return the injuries; each has its mark on the drawings in front where that is not its name."""
    if not docket.injuries:
        return Part("Injuries", (Text("None is written in the case."),))
    marks = marks_of([injury.name for injury in docket.injuries])
    is_named = all(mark == short(one.name) for mark, one in zip(marks, docket.injuries, strict=True))
    rows = tuple((*([] if is_named else [mark]), *_row(one)) for mark, one in zip(marks, docket.injuries, strict=True))
    verdict = "Verdict" if docket.outcome in ("repair", "serve") else "By itself"
    heads = ("Injury", "Zone", "Around x across", "Box allowed", "Of its limit", verdict)
    shares = (9, 18, 15, 13, 28, 17)
    if is_named:
        return Part("Injuries", (Grid(heads, rows, shares),))
    return Part("Injuries", (Grid(("Mark", *heads), rows, (6, 16, 16, 13, 12, 23, 14)),))


def _row(injury: InjuryVerdict) -> tuple[str, ...]:
    return (
        short(injury.name, 60), plain(injury.zone), size_words(injury) or "not measured", plain(injury.box) or "none",
        ", ".join(share_words(injury)) or "none",
        injury_verdict_words(injury),
    )  # fmt: skip


def _cautions(docket: Docket) -> Part:
    standing = docket.cautions or STANDING
    cure = docket.cure if docket.outcome == "repair" else None
    told = dict.fromkeys(sentence(caution) for caution in (*standing, *further_cautions(cure, standing)))
    return Part("Cautions", (RunOn(tuple(told)),))
