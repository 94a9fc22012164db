"""What cannot be used: a whole file, or a row of it that is set aside with its reason."""

import polars as pl

from mendbook.yard.batch import FAULT_SCHEMA

ROW, TYRE, COLUMN, WORDS = FAULT_SCHEMA
FAULTS = pl.Schema(FAULT_SCHEMA)


class SheetError(ValueError):
    """A file of which nothing can be read. The message says which file, what, why and what to write instead."""

    def __init__(self, file: str, message: str) -> None:
        super().__init__(f"{file}: {message}")
        self.file, self.message = file, message
