"""Everything that is computed from a library, each piece once and only when it is asked for.

Rules, charts and pages all look here, so that a page can't show another number than the one that was proved.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import cached_property

from briefgen.model.library import Library
from briefgen.model.work import Sortie
from briefgen.proof.plan import Plan, make_plan
from briefgen.proof.routes import Routes
from briefgen.proof.timeline import Timeline, make_timeline
from briefgen.source import Position


class SortieEvidence:
    """What is computed for one sortie. Times are asked for only where `plan.circle` is empty."""

    def __init__(self, evidence: Evidence, sortie: Sortie) -> None:
        self.evidence = evidence
        self.library = evidence.library
        self.sortie = sortie

    @cached_property
    def plan(self) -> Plan:
        return make_plan(self.library, self.sortie)

    @cached_property
    def timeline(self) -> Timeline:
        return make_timeline(self.plan, self.evidence.routes)


class Evidence:
    """What is computed for a library. `broken` names records that were written but not understood.

    `sources` holds each file's lines, for the exact place of a word inside a text.
    """

    def __init__(
        self,
        library: Library,
        broken: frozenset[tuple[str, str]] = frozenset(),
        sources: Mapping[str, tuple[str, ...]] | None = None,
    ) -> None:
        self.library = library
        self.broken = broken
        self.sources = sources or {}

    def place_of_words(self, words: str, start: Position, occurrence: int = 0) -> Position:
        """Where `words` stand in the file for the nth time from `start` on; `start` where they can't be found."""
        lines = self.sources.get(start.file, ())
        for number in range(start.line, len(lines) + 1):
            column = lines[number - 1].find(words, start.column - 1 if number == start.line else 0)
            while column >= 0:
                if occurrence == 0:
                    return Position(start.file, number, column + 1)
                occurrence -= 1
                column = lines[number - 1].find(words, column + 1)
        return start

    @cached_property
    def routes(self) -> Routes:
        return Routes(self.library)

    @cached_property
    def sorties(self) -> Mapping[str, SortieEvidence]:
        """By id, in the programme's order."""
        return {str(sortie.id): SortieEvidence(self, sortie) for sortie in self.library.ordered_sorties}

    def knows(self, kind: str, identifier: str) -> bool:
        """Whether such a record was written, sound or not."""
        return self.library.find(kind, identifier) is not None or (kind, str(identifier)) in self.broken
