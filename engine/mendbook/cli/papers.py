"""Papers of a job as files: the card and the limits tag, HTML or PDF by the ending of the name."""

from dataclasses import dataclass
from enum import StrEnum
from pathlib import Path
from typing import TYPE_CHECKING

from mendbook.cli.case_writing import check_target, write_bytes
from mendbook.cli.refusals import RefusalError

if TYPE_CHECKING:
    from mendbook.card.job.blocks import Paper
    from mendbook.card.job.sizes import Size
    from mendbook.terms.docket import Docket

ENDINGS = (".html", ".pdf")


class Sheet(StrEnum):
    """Sizes of paper."""

    A4 = "a4"
    LETTER = "letter"


@dataclass(frozen=True)
class Papers:
    """Which papers are wanted, and where. A file that is there already is replaced."""

    card: Path | None
    tag: Path | None
    sheet: Sheet

    @property
    def are_wanted(self) -> bool:
        """Whether any is asked for."""
        return self.card is not None or self.tag is not None

    def check(self) -> None:
        """Raise RefusalError when one cannot be written where it is wished."""
        for file, option in ((self.card, "--card"), (self.tag, "--tag")):
            if file is None:
                continue
            if file.suffix.lower() not in ENDINGS:
                raise RefusalError(f"{option} {file}: its name does not say which kind. End it in .html or .pdf.")
            check_target(file, is_forced=True)
        if self.card is not None and self.tag is not None and self.card.absolute() == self.tag.absolute():
            raise RefusalError(f"--tag {self.tag}: the card is written there. Name another file.")

    def write(self, docket: "Docket") -> str:
        """Write the papers of `docket`, and return what came out and where it is, in a line."""
        from mendbook.card.job.card import job_card
        from mendbook.card.job.sizes import card_size, tag_size
        from mendbook.card.summary import answer_said

        told = []
        if self.card is not None:
            write_bytes(_laid_out(job_card(docket), card_size(self.sheet.value, docket.outcome), self.card), self.card)
            told.append(f"Card: {self.card}.")
        if self.tag is not None:
            from mendbook.card.job.tag import limits_tag

            write_bytes(_laid_out(limits_tag(docket), tag_size(self.sheet.value, docket.outcome), self.tag), self.tag)
            told.append(f"Tag: {self.tag}.")
        return f"{docket.outcome.upper()}. {answer_said(docket)} {' '.join(told)}"


def _laid_out(paper: "Paper", size: "Size", file: Path) -> bytes:
    """Return `paper` as the ending of the name asks."""
    if file.suffix.lower() == ".html":
        from mendbook.card.job.page import as_page

        return as_page(paper, size).encode()
    from mendbook.card.job.sheet import as_pdf

    return as_pdf(paper, size)
