"""The two versions that are compared, what belongs together in them, and how each says what it holds."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from functools import cached_property

from briefgen.model.work import Step, Task
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.revision.change import Subject
from briefgen.revision.pairing.alignment import rising
from briefgen.revision.pairing.names import Names, identifier, names_of
from briefgen.revision.pairing.version import Version
from briefgen.revision.telling import Telling, instruction


class Pair:
    """Two versions. `was` and `now` say the values of the old and of the new."""

    def __init__(self, old: Version, new: Version) -> None:
        self.old, self.new = old, new
        self.was, self.now = Telling(old.library), Telling(new.library)

    @cached_property
    def names(self) -> Names:
        """Which record and step of the new version is which of the old."""
        return names_of(self.old.library, self.new.library)

    @cached_property
    def sorties(self) -> tuple[tuple[SortieEvidence, SortieEvidence], ...]:
        """The sorties that are run in both versions, in the new one's order."""
        before = {self.names.record("sorties", name): proved for name, proved in self.old.sorties.items()}
        return tuple((before[name], proved) for name, proved in self.new.sorties.items() if name in before)

    def old_task(self, task: str) -> Task:
        """The old version of a task of the new version that is in both."""
        tasks: Mapping[str, Task] = self.old.library.tasks
        return tasks[identifier(self.old.library, task, self.names.renamed)]

    def steps(self) -> Iterator[tuple[Task, Step, Task, Step]]:
        """Every step that is in both versions, each with its task, in the new version's order."""
        for name, task in self.new.library.tasks.items():
            if name in self.names.tasks:
                for before, after in self.names.tasks[name].both:
                    yield self.old_task(name), before, task, after

    @cached_property
    def moved_within_tasks(self) -> frozenset[str]:
        """The steps (`task/step`) that stand elsewhere among those of their task that are in both versions."""
        found = set[str]()
        for task, pairs in self.names.tasks.items():
            before = self.old_task(task)
            stayed = rising([before.seat(one) for one, _ in pairs.both])
            found |= {f"{task}/{other.key}" for index, (_, other) in enumerate(pairs.both) if index not in stayed}
        return frozenset(found)

    @cached_property
    def kept_steps(self) -> Mapping[str, frozenset[str]]:
        """For each person, the steps written for them in both versions."""
        found: dict[str, set[str]] = {}
        for _, one, task, other in self.steps():
            for person in {self.now_person(str(name)) for name in one.who} & set(map(str, other.who)):
                found.setdefault(person, set()).add(f"{task.id}/{other.key}")
        return {person: frozenset(steps) for person, steps in found.items()}

    @cached_property
    def names_stand(self) -> bool:
        """Whether nothing is called otherwise than before: then the same words mean the same."""
        return not self.names.renamed

    @cached_property
    def outside_before(self) -> frozenset[str]:
        """Who is outside in the old version; nobody else has a place."""
        return _outside(self.old)

    @cached_property
    def outside_now(self) -> frozenset[str]:
        """The same for the new one."""
        return _outside(self.new)

    def now_called(self, step: PlannedStep) -> str:
        """A step of the old version by its new name; where it is gone, by one that no step of the new version has."""
        return self.names.steps.get(step.key, f"gone {step.key}")

    def now_person(self, person: str) -> str:
        """A person of the old version by the new id."""
        return self.names.record("people", person)


def _outside(version: Version) -> frozenset[str]:
    return frozenset(name for name, person in version.library.people.items() if person.outside)


def sorties_of(version: Version, *keys: str) -> tuple[str, ...]:
    """The sorties that have one of these steps in their plan."""
    return tuple(name for name, proved in version.sorties.items() if any(proved.plan.step(key) for key in keys))


def step_subject(task: str, step: Step) -> Subject:
    """A step as what a difference is about."""
    return Subject("task", task, instruction(step), step.key)


def record_subject(telling: Telling, kind: str, singular: str, identifier: str) -> Subject:
    """A record as what a difference is about."""
    return Subject(singular, identifier, telling.name(identifier, kind))
