"""How a tyre leaves the bench without a repair, and who signs: rejected, back to service as it is, or released."""

from collections.abc import Iterator

from mendbook.card.injuries import change_words
from mendbook.card.job.blocks import Blanks, Block, Part, Points, Text, tasks
from mendbook.card.lettering import plain, sentence
from mendbook.card.wording import listed
from mendbook.terms.docket import Docket

MARK = "Mark it on both sides as rejected, with date and shop, so that nobody fits it."
SCRAP = (
    MARK,
    "Keep it apart from sound tyres. Where the owner agrees make it unfit for use: cut it through, or drill the bead.",
    "Write the rejection into the fleet list, with this sheet.",
    "Dispose of it as local law says. Where the law of the European Union holds, neither whole nor shredded tyres go "
    "to landfill (eu directive 1999/31, art 5(3)(d); from memory: check before quoting).",
)
PARTLY = (
    "Mark it on both sides with the use it is rejected for.",
    "Judge it again for the other use before it is repaired or fitted there; this sheet is no release for it.",
    "Write the rejection into the fleet list, with this sheet.",
)
WATCH = (
    "Leave the injury as it is; opening it does more harm than good.",
    "Photograph it, and write its place and size into the fleet list.",
    "Look at it again at the next service and whenever the tyre comes off. Judge it again when it has grown.",
)


def rejection(docket: Docket) -> Part:
    """Return what is done with a tyre that is not repaired."""
    partly = [plain(use) for use, verdict in docket.uses.items() if verdict is not None and verdict != "reject"]
    blocks: list[Block] = []
    if partly:
        blocks.append(Text(f"The rejection is not for {listed(partly)} use."))
    blocks.append(tasks(PARTLY if partly else SCRAP))
    if learnt := tuple(_learnt(docket)):
        blocks += [Text("What would have changed it, as a lesson:"), Points(learnt)]
    blocks.append(Blanks(("Rejected by", "Second person", "Date", "Where it went")))
    return Part("What is done with it", tuple(blocks))


def _learnt(docket: Docket) -> Iterator[str]:
    yield from map(change_words, docket.would_change)
    if docket.nothing_to_change:
        yield sentence(docket.nothing_to_change)


def service(docket: Docket) -> Part:
    """Return what is done with a tyre that needs no repair."""
    known = tasks(WATCH if docket.injuries else WATCH[2:])
    return Part("What is done with it", (known, Blanks(("Released by", "Date", "Machine and position"))))


def signed() -> Part:
    """Return who signs for a repair; who repaired it does not release it."""
    return Part("Signatures", (Blanks(("Repaired by", "Second person", "Released by the foreman", "Date")),))
