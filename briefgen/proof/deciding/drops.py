"""What to leave out first when the crew is late: the optional tasks of the flow, and what each gives back.

Lowest priority first, then what gives back most. A task that others need takes them along, as it does what only serves
it; one that a required task needs can't be left out. Every set that is advised is proved whole: where one more task
would leave something undone, the search takes another one first. Times are seconds, with the likely durations. Of more
than 12 tasks, only the 3 that give back most by themselves are compared with what is dropped already.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass
from typing import TYPE_CHECKING

from briefgen.model.library import Library
from briefgen.proof.soundness import step_faults

if TYPE_CHECKING:  # evidence keeps what is found here
    from briefgen.proof.evidence import SortieEvidence

MANY, FEW = 12, 3
_RANKS = {"get-ahead": 0, "time-permitting": 1, "required": 2}


@dataclass(frozen=True)
class Drop:
    """An optional task that can be left out, in the order in which to do so.

    `takes_along` are tasks that need it, or serve nothing else that is left, and go with it. `gives_back` is how much
    earlier the sortie then ends, `in_all` the same together with all that is dropped before. `frees` says for each
    person how much less they work and go, be it that the sortie ends no earlier.
    """

    task: str
    takes_along: tuple[str, ...]
    gives_back: float
    in_all: float
    frees: tuple[tuple[str, float], ...]


@dataclass(frozen=True)
class Kept:
    """An optional task that can't be left out, because the required tasks `needed_by` need it.

    Where nobody is named it can't be left out together with all that is dropped before: something would not hold then.
    """

    task: str
    needed_by: tuple[str, ...]


@dataclass(frozen=True)
class Dropping:
    """The optional tasks of a sortie: what to drop, in order, and what must stay."""

    drops: tuple[Drop, ...]
    kept: tuple[Kept, ...]


def dropping(proved: SortieEvidence) -> Dropping:
    """What can be left out of a sortie without a circle."""
    along = {task: _along(proved, task) for task in proved.plan.optional_tasks}
    required = {task: tuple(_staying(proved, task, needing)) for task, needing in along.items()}
    free = {task: needing for task, needing in along.items() if not required[task]}
    drops = tuple(_in_order(proved, free))
    dropped = {one for drop in drops for one in (drop.task, *drop.takes_along)}
    kept = (Kept(task, needed_by) for task, needed_by in required.items() if needed_by or task not in dropped)
    return Dropping(drops, tuple(kept))


def _along(proved: SortieEvidence, task: str) -> tuple[str, ...]:
    """The tasks that do not hold without this one, nor without those, or are for these alone; in the plan's order."""
    found: set[str] = set()
    fresh = {task}
    while fresh:
        found |= fresh
        fresh = (_needing(proved, frozenset(found)) | proved.leaving(frozenset(found))) - found
    return _planned(proved, found - {task})


def _planned(proved: SortieEvidence, names: Collection[str]) -> tuple[str, ...]:
    in_plan = dict.fromkeys(str(step.task.id) for step in proved.plan.steps)
    return tuple(one for one in in_plan if one in names)


def _staying(proved: SortieEvidence, task: str, needing: tuple[str, ...]) -> Iterator[str]:
    """Of what would go with a task, what must not go: what is required, and what still serves something else."""
    for one in needing:
        if _serves(proved, one):
            if one not in proved.leaving(frozenset({task, *needing}) - {one}):
                yield one
        elif _rank(proved.library, one) == 2:
            yield one


def _needing(proved: SortieEvidence, left_out: frozenset[str]) -> set[str]:
    """The tasks whose steps, or prerequisites, do not hold without these tasks and did hold with them."""
    variant = proved.without(left_out)
    before = set(step_faults(proved.plan, proved.states, proved.custody))
    broken = set(step_faults(variant.plan, variant.states, variant.custody)) - before
    needing = {key.partition("/")[0] for _, key, *_ in broken}
    there = {str(step.task.id): step.task for step in variant.plan.steps}
    return needing | {name for name, task in there.items() if left_out & set(map(str, task.needed))}


def _in_order(proved: SortieEvidence, free: Mapping[str, tuple[str, ...]]) -> Iterator[Drop]:
    dropped, left = frozenset[str](), dict(free)
    while left:
        candidates = _candidates(proved, left, dropped)
        if not candidates:
            return
        finishes = {task: _finish(proved, dropped | {task, *left[task]}) for task in candidates}
        task = min(candidates, key=lambda one: finishes[one])
        along = left.pop(task)
        before, dropped = dropped, proved.leaving(dropped | {task, *along})
        yield _drop(proved, task, _planned(proved, dropped - before - {task}), dropped)
        left = {other: rest for other, rest in left.items() if other not in dropped}


def _candidates(proved: SortieEvidence, left: Mapping[str, tuple[str, ...]], dropped: frozenset[str]) -> list[str]:
    """The tasks of lowest rank that can be left out next; of many, those that give back most by themselves."""
    ranks = {task: _standing(proved.library, task, along) for task, along in left.items()}
    many = len(left) > MANY
    alone = {task: _finish(proved, frozenset({task, *along})) if many else 0.0 for task, along in left.items()}
    found: list[str] = []
    for task in sorted(left, key=lambda one: (ranks[one], alone[one])):
        if found and (ranks[task] > ranks[found[0]] or (many and len(found) == FEW)):
            break
        if proved.holds_without(dropped | {task, *left[task]}):  # the dear question, asked of no more than needed
            found.append(task)
    return found


def _standing(library: Library, task: str, along: tuple[str, ...]) -> int:
    """The highest rank of what goes with a task: it must not be dropped before its time."""
    return max(_rank(library, one) for one in (task, *along) if one == task or not library.tasks[one].serves)


def _drop(proved: SortieEvidence, task: str, along: tuple[str, ...], dropped: frozenset[str]) -> Drop:
    finish, alone = proved.timeline.finish, frozenset({task, *(one for one in along if not _serves(proved, one))})
    without = proved.timeline_without(alone)
    busy = {person: _busy(proved.timeline.sums(person)) - _busy(without.sums(person)) for person in proved.plan.flows}
    frees = tuple((person, seconds) for person, seconds in busy.items() if seconds > 0.5)
    return Drop(task, along, finish - without.finish, finish - _finish(proved, dropped), frees)


def _serves(proved: SortieEvidence, task: str) -> bool:
    """Whether a task goes with others only."""
    return bool(proved.library.tasks[task].serves)


def _busy(sums: Mapping[str, float]) -> float:
    return sums["work"] + sums["way"]


def _finish(proved: SortieEvidence, left_out: frozenset[str]) -> float:
    return proved.timeline_without(left_out).finish


def _rank(library: Library, task: str) -> int:
    return _RANKS[library.tasks[task].priority]
