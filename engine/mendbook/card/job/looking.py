"""What must be looked at or cleared before anything else: the sheets of a stop and of a hold."""

from mendbook.card.clearing import clearing_words
from mendbook.card.job.blocks import Blanks, Block, Part, Points, Task, Tasks, Text
from mendbook.card.lettering import sentence
from mendbook.card.summary import lack_words, look_words
from mendbook.terms.docket import Docket

KEEP_AWAY = "Nobody goes near, moves, cools, opens or repairs it until each of these is done and signed."
RESULT = ("Result", "Date", "Name")


def stops(docket: Docket) -> Part:
    """Return what people do first, and that nobody touches the tyre."""
    told = (Task(sentence(stop), number, room=("Time", "Name")) for number, stop in enumerate(docket.stops, 1))
    return Part(
        "Do not touch this tyre",
        (
            Text(KEEP_AWAY, strong=True),
            Tasks(tuple(told)),
            Text("A stop cannot be waived by anybody. When it is cleared, look at the tyre and judge it again."),
            Blanks(("Latest time at which it can have begun", "Who keeps people away", "Cleared by, date and time")),
        ),
    )  # fmt: skip


def looks(docket: Docket) -> Part:
    """Return each look that is missing, with room for what it showed."""
    lacks = lack_words(docket)
    items = [
        Task(f"{sentence(hold)} {clearing_words(docket.findings, hold)}".strip(), room=RESULT)
        for hold in docket.holds
        if not hold.endswith(lacks)
    ]
    items += [Task(look_words(look), room=RESULT) for look in docket.measure_next]
    blocks: list[Block] = [Text("No repair begins and nothing is released while a look below is open.", strong=True)]
    if items:
        blocks.append(Tasks(tuple(items)))
    if lacks:
        blocks += [Text("The plan is not complete. It needs:"), Points(tuple(sentence(lack) for lack in lacks))]
    blocks.append(
        Text("Then write the results into the case and judge it again. This sheet holds no steps of a repair.")
    )
    blocks.append(Blanks(("Looks done by", "Second person", "Date")))
    return Part("Looks that are missing", tuple(blocks))
