"""The report of a docket: the answer first, then its parts, short before long."""

from rich.console import RenderableType

from mendbook.card.cure_report import cure_part, further_cautions
from mendbook.card.findings import cautions, findings, reasons_of_the_plan
from mendbook.card.imprint import assumed, imprint
from mendbook.card.injuries import changes, injuries
from mendbook.card.layout import stack
from mendbook.card.printing import WIDEST, column_width
from mendbook.card.repairs import ladder, limits, repairs, work
from mendbook.card.summary import summary
from mendbook.card.wording import STANDING
from mendbook.card.worth import worth_part
from mendbook.terms.docket import Docket


def report(docket: Docket, width: int = WIDEST) -> RenderableType:
    """Return the report of `docket`, laid out for `width` columns (40 to 100), to be printed through rich.

    Every text in it is printed as written, without markup, escapes or control characters.
    """
    columns = column_width(width)
    plan = docket.plan
    standing = docket.cautions or STANDING
    return stack(
        summary(docket, columns),
        injuries(docket, columns),
        changes(docket),
        repairs(plan, columns),
        cure_part(docket.cure, plan.repairs if plan else (), columns),
        limits(plan.limits if plan else ()),
        work(plan),
        ladder(plan),
        worth_part(docket.worth, columns),
        findings(docket),
        reasons_of_the_plan(docket),
        None if docket.stops else assumed(docket),
        cautions((*standing, *further_cautions(docket.cure, standing))),
        imprint(docket, columns),
    )
