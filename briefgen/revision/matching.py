"""Which step of a task's new version is which of the old: by id, by what it says, and last by likeness."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from briefgen.model.work import Step, Task
from briefgen.revision.alignment import alignment, alike

_ALIKE = 0.6
Says = Callable[[Step], tuple[object, ...]]
"""Who does what in a step, comparable between the versions."""


@dataclass(frozen=True)
class StepPairs:
    """A task's steps in both versions, by old and new; those that are gone, and those that are new, in order."""

    both: tuple[tuple[Step, Step], ...]
    gone: tuple[Step, ...]
    new: tuple[Step, ...]


def pair_steps(old: Task, new: Task, old_says: Says, new_says: Says) -> StepPairs:
    """The steps of a task. A step with an id of its own keeps it or is renamed; one without is told by its words."""
    pairs: list[tuple[Step, Step]] = []
    for find in (_by_id, lambda one, other: _by_words(one, other, old_says, new_says), _by_likeness):
        before = [step for step in old.steps if all(step is not one for one, _ in pairs)]
        after = [step for step in new.steps if all(step is not one for _, one in pairs)]
        pairs += find(before, after)
    pairs.sort(key=lambda pair: pair[1].number)
    gone = tuple(step for step in old.steps if all(step is not one for one, _ in pairs))
    added = tuple(step for step in new.steps if all(step is not one for _, one in pairs))
    return StepPairs(tuple(pairs), gone, added)


def _by_id(old: Sequence[Step], new: Sequence[Step]) -> Iterator[tuple[Step, Step]]:
    known = {str(step.id): step for step in old if step.id}
    return ((known[step.id], step) for step in new if step.id and step.id in known)


def _by_words(old: Sequence[Step], new: Sequence[Step], old_says: Says, new_says: Says) -> Iterator[tuple[Step, Step]]:
    """Steps that say the same, in the same order as far as can be; then what is left, in whatever order."""
    before, after = [old_says(step) for step in old], [new_says(step) for step in new]
    pairs = alignment(before, after)
    taken = {j for _, j in pairs}
    for i in set(range(len(old))) - {i for i, _ in pairs}:
        j = next((j for j, says in enumerate(after) if j not in taken and says == before[i]), None)
        if j is not None:
            taken.add(j)
            pairs.append((i, j))
    return ((old[i], new[j]) for i, j in pairs)


def _by_likeness(old: Sequence[Step], new: Sequence[Step]) -> Iterator[tuple[Step, Step]]:
    """Numbered steps with nearly the same words, the most alike first; two ids that differ are two steps."""
    rated = sorted(
        (-alike(one.do, other.do), abs(one.number - other.number), one.number + other.number, one.number, other.number)
        for one in old for other in new if not (one.id and other.id)
    )  # fmt: skip
    before, after = {step.number: step for step in old}, {step.number: step for step in new}
    for rating, _, _, one, other in rated:
        if -rating >= _ALIKE and one in before and other in after:
            yield before.pop(one), after.pop(other)
