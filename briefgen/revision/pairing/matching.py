"""Which step of a task's new version is which of the old: by id, by what it says, and last by likeness."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass

from briefgen.model.work import Step, Task
from briefgen.revision.pairing.alignment import alignment, alike

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
    # Ties are broken from one end, so always from the same version's: back again is what there was.
    if _words(new) < _words(old):
        back = _pairs(new, old, new_says, old_says)
        pairs = [(one, other) for other, one in back]
    else:
        pairs = _pairs(old, new, old_says, new_says)
    pairs = _first_rounds(old, new, pairs)
    pairs.sort(key=lambda pair: new.seat(pair[1]))
    gone, added = _left(old, new, pairs)
    gone = [one for one in gone if not any(split(other, one) for _, other in pairs)]
    added = [one for one in added if not any(split(other, one) for other, _ in pairs)]
    return StepPairs(tuple(pairs), tuple(gone), tuple(added))


def split(whole: Step, round_: Step) -> bool:
    """Whether a step that stood by itself for all its items is now done round by round, this one among them.

    Then it is one step as before, whatever else changed in it, and no round of it is new or gone.
    """
    own, part = whole.each, round_.each
    if whole.origin.block or not round_.origin.block or own is None or part is None or str(whole.do) != str(round_.do):
        return False
    named = ((key, part.where.get(key, ())) for key in own.where)
    return (
        own.equipment == part.equipment
        and own.where != part.where
        and all(here and {*here} <= {*own.where[key]} for key, here in named)
    )


def _first_rounds(old: Task, new: Task, pairs: Sequence[tuple[Step, Step]]) -> list[tuple[Step, Step]]:
    """The same pairs, but what is done round by round in one of the versions stands there in its first round."""
    return [
        (_told(old, one), other)
        if split(other, one)
        else (one, _told(new, other))
        if split(one, other)
        else (one, other)
        for one, other in pairs
    ]


def _told(task: Task, step: Step) -> Step:
    same = (one for one in task.steps if (one.origin.block, one.number) == (step.origin.block, step.number))
    return next(one for one in same if not one.origin.again)


def _words(task: Task) -> list[tuple[str, str]]:
    return [(str(step.do), step.key) for step in task.steps]


def _pairs(old: Task, new: Task, old_says: Says, new_says: Says) -> list[tuple[Step, Step]]:
    pairs: list[tuple[Step, Step]] = []
    for find in (_by_id, lambda one, other: _by_words(one, other, old_says, new_says), _by_likeness):
        pairs += find(*_left(old, new, pairs))
    return pairs


def _left(old: Task, new: Task, pairs: Sequence[tuple[Step, Step]]) -> tuple[list[Step], list[Step]]:
    """The steps of both versions that are in no pair."""
    paired = {id(step) for pair in pairs for step in pair}
    return [one for one in old.steps if id(one) not in paired], [one for one in new.steps if id(one) not in paired]


def _by_id(old: Sequence[Step], new: Sequence[Step]) -> Iterator[tuple[Step, Step]]:
    known = {step.key: step for step in old if step.named}
    return ((known[step.key], step) for step in new if step.named and step.key in known)


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
        (-alike(one.do, other.do), abs(one.number - other.number), one.number + other.number, i, j)
        for i, one in enumerate(old) for j, other in enumerate(new) if not (_own_id(one) and _own_id(other))
    )  # fmt: skip
    before, after = dict(enumerate(old)), dict(enumerate(new))
    for rating, _, _, one, other in rated:
        if -rating >= _ALIKE and one in before and other in after:
            yield before.pop(one), after.pop(other)


def _own_id(step: Step) -> bool:
    """Whether the author gave it an id that is its own: not one of many rounds', nor made from another's."""
    return step.named and not step.origin.block and not step.origin.confirms
