"""An author's line with a mark under the word in question, as wide as a terminal shows it.

Pure: lines and a position go in, two lines of text come out.
"""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from briefgen.language.printable import in_one_line
from briefgen.source import Position

WIDEST = 100
_WORD = re.compile(r"[\w#:/.%°·*&!-]+")


@dataclass(frozen=True)
class Excerpt:
    """The line's number, the line as it may be printed, and the spaces and carets that go under it."""

    number: int
    line: str
    mark: str


def excerpt(sources: Mapping[str, Sequence[str]], position: Position, widest: int = WIDEST) -> Excerpt | None:
    """The line at a position, cut to `widest` characters around it; None where there is no such line.

    >>> excerpt({"a.yaml": ["tools:", "  hok: {}"]}, Position("a.yaml", 2, 3))
    Excerpt(number=2, line='  hok: {}', mark='  ^^^')
    """
    lines = sources.get(position.file, ())
    if not 1 <= position.line <= len(lines):
        return None
    line = lines[position.line - 1]
    start = min(max(position.column - 1, 0), len(line))
    found = _WORD.match(line, start)
    length = len(found[0].rstrip(":,.")) if found else 1
    line, start = _cut(line, start, widest)
    before, marked = line[:start], line[start : start + max(1, length)]
    return Excerpt(position.line, in_one_line(line), " " * _columns(before) + "^" * max(1, _columns(marked)))


def _columns(text: str) -> int:
    """How many columns a terminal gives the text (Unicode Standard Annex 11: wide letters take two)."""
    return sum(_width(letter) for letter in in_one_line(text))


def _width(letter: str) -> int:
    if unicodedata.combining(letter):
        return 0
    return 2 if unicodedata.east_asian_width(letter) in ("W", "F") else 1


def _cut(line: str, start: int, widest: int) -> tuple[str, int]:
    """A long line without what lies far from the place, and the place in what is left."""
    if len(line) <= widest:
        return line, start
    begin = max(0, min(start - widest // 2, len(line) - widest))
    head, tail = ("…" if begin else ""), ("…" if begin + widest < len(line) else "")
    return f"{head}{line[begin : begin + widest]}{tail}", start - begin + len(head)
