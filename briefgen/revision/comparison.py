"""All that differs between two versions, each piece once and only when it is asked for."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from functools import cached_property

from briefgen.revision.change import Change, Verb
from briefgen.revision.differences.records import record_changes
from briefgen.revision.differences.shifts import shift_changes
from briefgen.revision.differences.states import state_changes
from briefgen.revision.differences.steps import step_changes
from briefgen.revision.differences.times import task_times, time_changes
from briefgen.revision.differences.tools import tool_changes
from briefgen.revision.differences.waits import wait_changes
from briefgen.revision.differences.ways import way_changes
from briefgen.revision.pairing.pair import Pair
from briefgen.revision.pairing.version import Version
from briefgen.revision.revision_letters import Letter, letters

_CONCEPTS = (
    step_changes, wait_changes, way_changes, time_changes, shift_changes, tool_changes, state_changes, record_changes,
)  # fmt: skip


class Comparison:
    """What the new version has otherwise than the old. Neither may have a circle in its order."""

    def __init__(self, old: Version, new: Version) -> None:
        self.pair = Pair(old, new)

    @cached_property
    def changes(self) -> tuple[Change, ...]:
        """Every difference: what touches safety first, then by topic."""
        found = (self._concerning(change) for concept in _CONCEPTS for change in concept(self.pair))
        return tuple(sorted(found, key=lambda change: change.order))

    def _concerning(self, change: Change) -> Change:
        """What is gone concerned people and sorties that may go by other names now."""
        if change.verb is not Verb.GONE:
            return change
        people = tuple(map(self.pair.now_person, change.people))
        sorties = tuple(self.pair.names.record("sorties", name) for name in change.sorties)
        return replace(change, people=people, sorties=sorties)

    @cached_property
    def task_times(self) -> Mapping[str, tuple[Change, ...]]:
        """For each sortie that is in both versions, the tasks whose planned times moved."""
        return {
            str(after.sortie.id): tuple(task_times(self.pair, before, after)) for before, after in self.pair.sorties
        }

    @cached_property
    def letters(self) -> tuple[Letter, ...]:
        """Each sortie's revision before and now, in the new version's order."""
        return tuple(letters(self.pair, self.changes))

    @cached_property
    def _by_step(self) -> Mapping[tuple[str, str], tuple[Change, ...]]:
        found: dict[tuple[str, str], tuple[Change, ...]] = {}
        for change in self.changes:
            key = change.subject.id, change.subject.part
            if change.subject.kind == "task" and change.subject.part:
                found[key] = (*found.get(key, ()), change)
        return found

    def of_step(self, task: str, step: str) -> tuple[Change, ...]:
        """What is said of a step, by its task and its id or number; of the old one where it is gone."""
        return self._by_step.get((task, step), ())
