"""Where something stands in an author's file, and words that remember it.

Lines and columns count from one. A position is carried beside a value and is no part of its identity.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any, Self


@dataclass(frozen=True, slots=True, order=True)
class Position:
    """A place in a content file; `file` is relative to the content folder, with forward slashes."""

    file: str
    line: int = 1
    column: int = 1

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


NOWHERE = Position("", 0, 0)


class Lines:
    """The places of a text's letters, however many are asked for. `start` is where the text itself begins."""

    def __init__(self, text: str, start: Position) -> None:
        self._begin = [0, *(one + 1 for one, letter in enumerate(text) if letter == "\n")]
        self._start = start

    def __getitem__(self, at: int) -> Position:
        """Where the letter stands that so many others precede.

        >>> str(Lines("one\\ntwo", Position("a.md"))[5])
        'a.md:2:2'
        """
        line = bisect_right(self._begin, at) - 1
        column = at - self._begin[line] + (self._start.column if line == 0 else 1)
        return Position(self._start.file, self._start.line + line, column)


class Text(str):
    """A string that an author wrote, with its place."""

    __slots__ = ("position",)
    position: Position

    def __new__(cls, value: str = "", position: Position = NOWHERE) -> Self:
        """A text, and where it stands."""
        self = super().__new__(cls, value)
        self.position = position
        return self

    def __reduce__(self) -> tuple[Any, ...]:
        return (type(self), (str(self), self.position))


class Ref(Text):
    """An id that names a record of one of `kinds`, with its own place.

    `part` is what follows a `#`: a step of a task, a callout of a figure, or nothing.
    The string itself is the bare id.
    """

    __slots__ = ("kinds", "part")
    kinds: tuple[str, ...]
    part: str

    def __new__(cls, value: str, position: Position = NOWHERE, kinds: tuple[str, ...] = (), part: str = "") -> Self:
        """What is named, where, and of which kinds of record it may be."""
        self = super().__new__(cls, value, position)
        self.kinds = kinds
        self.part = part
        return self

    def __reduce__(self) -> tuple[Any, ...]:
        return (type(self), (str(self), self.position, self.kinds, self.part))


class Address(Ref):
    """A record named as `kind:id`: its one kind is the author's word, which may be none."""

    __slots__ = ()

    def __new__(cls, value: str, position: Position = NOWHERE, kinds: tuple[str] = ("",), part: str = "") -> Self:
        """What is named with its kind before the colon, and where."""
        return super().__new__(cls, value, position, kinds, part)

    @property
    def kind(self) -> str:
        """The word before the colon."""
        return self.kinds[0]


class StepRef(Text):
    """A step named as `task/step` (or, inside its own task, as `step`)."""

    __slots__ = ("step", "task")
    task: str
    step: str

    def __new__(cls, value: str, position: Position = NOWHERE) -> Self:
        """A step's name as `task/step`, and where it stands."""
        self = super().__new__(cls, value, position)
        self.task, _, self.step = value.partition("/")
        return self

    def __reduce__(self) -> tuple[Any, ...]:
        return (type(self), (str(self), self.position))


def find_words(lines: Sequence[str], words: str, start: Position, occurrence: int = 0) -> Position:
    """Where `words` stand in a file's lines for the nth time (from 0) from `start` on; `start` where they don't."""
    for number in range(start.line, len(lines) + 1):
        column = lines[number - 1].find(words, start.column - 1 if number == start.line else 0)
        while column >= 0:
            if occurrence == 0:
                return Position(start.file, number, column + 1)
            occurrence -= 1
            column = lines[number - 1].find(words, column + 1)
    return start
