"""Pictures of a cure as files: SVG to be printed or set into a page, PNG for everything else."""

from dataclasses import dataclass
from pathlib import Path

from mendbook.cli.case_writing import check_target, write_bytes
from mendbook.cli.refusals import RefusalError
from mendbook.terms.cure_order import CureOrder
from mendbook.terms.cure_sheet import CureSheet

ENDINGS = (".svg", ".png")


@dataclass(frozen=True)
class Gallery:
    """Where pictures are wanted. A picture that is there already is replaced."""

    folder: Path | None  # for every picture, as SVG and PNG
    file: Path | None  # for the sheet of all

    def check(self) -> None:
        """Raise RefusalError when nothing can be written there. A folder that is not there is made."""
        if self.file is not None:
            if self.file.suffix.lower() not in ENDINGS:
                raise RefusalError(f"{self.file}: its name does not say which kind of picture. End it in .svg or .png.")
            check_target(self.file, is_forced=True)
        if self.folder is not None:
            try:
                self.folder.mkdir(exist_ok=True)
            except OSError as error:
                raise RefusalError(
                    f"{self.folder}: this folder cannot be made ({error.strerror}). Name one that is there."
                ) from error

    def fill(self, order: CureOrder, sheet: CureSheet) -> str:
        """Write the pictures of the cure of `order`, whose answer is `sheet`, and return where they are, in words."""
        if self.file is None and self.folder is None:
            return ""
        from mendbook.card.cure_pictures import PICTURES, as_png, as_svg, draw_cure

        for picture in PICTURES if self.folder is not None else ("all",):
            figure = draw_cure(picture, order, sheet)
            files = [self.folder / f"cure_{picture}{ending}" for ending in ENDINGS] if self.folder is not None else []
            if self.file is not None and picture == "all":
                files.append(self.file)
            for file in files:
                write_bytes(as_png(figure) if file.suffix.lower() == ".png" else as_svg(figure).encode(), file)
        folder = [f"{self.folder / f'cure_*{ending}'}" for ending in ENDINGS] if self.folder is not None else []
        return ", ".join([*folder, *([f"{self.file}"] if self.file is not None else [])])
