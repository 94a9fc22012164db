"""Text in any of the encodings that sheets come in, as UTF-8 with plain line ends."""

import codecs
from pathlib import Path

from mendbook.yard.sheets.fault import SheetError
from mendbook.yard.sheets.source import Source, is_wide_text

BLOCK = 1 << 24
_MARKS = ((codecs.BOM_UTF8, "utf-8-sig"), (codecs.BOM_UTF16_LE, "utf-16"), (codecs.BOM_UTF16_BE, "utf-16"))
_ONE_BYTE = ("cp1252", "latin-1")  # the second reads what the first has no letter for


def as_utf8(source: Source, scratch: Path) -> Path:
    """Return `source` itself when it is plain UTF-8, else a copy in `scratch` that is. Raises SheetError."""
    encoding = _encoding(source)
    if encoding == "utf-8":
        return source.path
    copy = scratch / f"{source.path.name}.utf8"
    with (
        source.path.open(encoding=encoding, newline=None) as old,
        copy.open("w", encoding="utf-8", newline="\n") as new,
    ):
        try:
            while block := old.read(BLOCK):
                if "\0" in block:
                    raise SheetError(source.name, "there is a NUL in the text: this is no sheet. Save it as CSV again.")
                new.write(block)
        except UnicodeError:
            raise SheetError(source.name, "the text breaks off or is mixed. Save the sheet as CSV in UTF-8.") from None
    return copy


def _encoding(source: Source) -> str:
    with source.path.open("rb") as file:
        head = file.read(BLOCK)
        for mark, name in _MARKS:
            if head.startswith(mark):
                return name
        if wide := is_wide_text(head[:4096]):
            return wide
        decoder, is_utf8, lone_returns = codecs.getincrementaldecoder("utf-8")(), True, False
        block, last = head, b""
        while block:
            if b"\0" in block:
                raise SheetError(source.name, "there is a NUL in the text: this is no sheet. Save it as CSV again.")
            if is_utf8 and not (block.isascii() and not decoder.getstate()[0]):
                try:
                    decoder.decode(block)
                except UnicodeDecodeError:
                    is_utf8 = False
            ends = (last + block).count(b"\r") - (last + block).count(b"\r\n") - (block.endswith(b"\r"))
            lone_returns = lone_returns or ends > 0
            last = block[-1:] if block.endswith(b"\r") else b""
            block = file.read(BLOCK)
    if is_utf8 and not decoder.getstate()[0]:
        return "utf-8-sig" if lone_returns else "utf-8"
    return _one_byte(source)


def _one_byte(source: Source) -> str:
    try:
        with source.path.open(encoding=_ONE_BYTE[0]) as file:
            while file.read(BLOCK):
                pass
    except UnicodeDecodeError:
        return _ONE_BYTE[1]
    return _ONE_BYTE[0]
