"""A file of a stranger's as text, or the finding that says why it can't be read."""

from __future__ import annotations

from pathlib import Path

from briefgen.findings import Finding, Level
from briefgen.reading.files import Unreadable, bytes_of
from briefgen.source import Position

LARGEST = 4_000_000


def text_of(path: Path, file: str) -> tuple[str, Finding | None]:
    """The text of an ordinary UTF-8 file of at most 4 MB; `file` is what a finding calls it."""
    try:
        data = bytes_of(path, LARGEST)
    except Unreadable as reason:
        return "", Finding("unreadable-file", Level.ERROR, Position(file), f"This file can't be read: {reason}.")
    try:
        return data.decode("utf-8-sig"), None
    except UnicodeDecodeError as error:
        before = data[: error.start]
        line = before.count(b"\n") + 1
        column = error.start - (before.rfind(b"\n") + 1) + 1
        return "", Finding(
            "not-utf-8",
            Level.ERROR,
            Position(file, line, column),
            f"This file is not UTF-8 text: save it as UTF-8 (the first byte that is not is 0x{data[error.start]:02x}).",
        )
