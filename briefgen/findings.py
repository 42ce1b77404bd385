"""What is wrong, as data: a rule's name, a level, a place, one sentence, and the way out.

How a finding looks (text, JSON, a panel in a page) is decided where it is shown.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from enum import StrEnum

from briefgen.source import Position


class Level(StrEnum):
    """How bad it is. Errors could hurt or stop the crew, warnings are likely mistakes, advice is about words."""

    ERROR = "error"
    WARNING = "warning"
    ADVICE = "advice"

    @property
    def rank(self) -> int:
        """0 for what is gravest."""
        return list(Level).index(self)


@dataclass(frozen=True, slots=True)
class Related:
    """Another place that belongs to a finding, and what is there."""

    position: Position
    words: str


@dataclass(frozen=True, slots=True)
class Finding:
    """One mistake. `write` is the line to write, `write_at` where it belongs: at `position` if not said."""

    rule: str
    level: Level
    position: Position
    sentence: str
    related: tuple[Related, ...] = ()
    write: str = ""
    write_at: Position | None = None

    def __post_init__(self) -> None:
        # Several reasons can lie in one line: it is named once.
        object.__setattr__(self, "related", tuple(dict.fromkeys(self.related)))
        if self.write and self.write_at is None:
            object.__setattr__(self, "write_at", self.position)

    @property
    def order(self) -> tuple[str, int, int, int, str, str]:
        """Sorts by place, then by level, rule and words."""
        spot = self.position
        return (spot.file, spot.line, spot.column, self.level.rank, self.rule, self.sentence)


def in_order(findings: Iterable[Finding]) -> tuple[Finding, ...]:
    """The findings by place in the files, each once."""
    return tuple(sorted(set(findings), key=lambda finding: finding.order))


def count(findings: Iterable[Finding]) -> dict[Level, int]:
    """How many of each level."""
    tally = dict.fromkeys(Level, 0)
    for finding in findings:
        tally[finding.level] += 1
    return tally
