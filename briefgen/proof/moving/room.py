"""Who could meet at a place with limited room, whatever the durations turn out to be.

Pure: a plan goes in. Steps that are pairwise unordered can all run at once, so the people outside of every such set
must fit. What counts are steps at the place, and those that bring somebody there (`to`); on the way past it, and while
waiting for their turn, people make room.
Candidates come from bisection along each person's chain; O(steps at the place × chains × log steps) where two at a
time are enough to fill it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from briefgen.proof.plan import Plan, PlannedStep


@dataclass(frozen=True)
class Crowd:
    """Steps at one place that could all run at once, with more people than there is room for."""

    place: str
    room: int
    steps: tuple[PlannedStep, ...]
    people: tuple[str, ...]


def crowds(plan: Plan) -> tuple[Crowd, ...]:
    """The crowds of a plan without circles; of several with steps of the same tasks, the first."""
    return tuple(crowd for place, steps in _by_place(plan).items() for crowd in _crowds_at(plan, place, steps))


def _by_place(plan: Plan) -> Mapping[str, list[PlannedStep]]:
    found: dict[str, list[PlannedStep]] = defaultdict(list)
    limited = {name for name, place in plan.library.places.items() if place.room is not None}
    for index in plan.order.sequence if limited else ():
        step = plan.steps[index]
        for name in dict.fromkeys((step.place, step.leads_to)):
            if name in limited:
                found[str(name)].append(step)
    return found


def _crowds_at(plan: Plan, place: str, steps: Sequence[PlannedStep]) -> Iterator[Crowd]:
    room = plan.library.places[place].room or 0
    if len({person for step in steps for person in step.outside}) <= room:
        return
    seats = _seats(plan, steps)
    seen: set[frozenset[str]] = set()
    for step in steps:
        for together in _fill(plan, seats, room, (step,)):
            tasks = frozenset(str(one.task.id) for one in together)
            if len(together) == 1 or tasks not in seen:
                seen |= {tasks} if len(together) > 1 else set()
                people = tuple(person for person in plan.outside if any(person in one.outside for one in together))
                yield Crowd(place, room, together, people)


def _seats(plan: Plan, steps: Sequence[PlannedStep]) -> Mapping[str, list[tuple[int, int]]]:
    """The seats of the steps at the place on each person's chain, with the steps' numbers."""
    seats: dict[str, list[tuple[int, int]]] = {person: [] for person in plan.outside}
    for step in steps:
        for person in step.outside:
            seats[person].append((plan.order.seat[step.index][person], step.index))
    return {person: sorted(row) for person, row in seats.items()}


def _fill(
    plan: Plan, seats: Mapping[str, list[tuple[int, int]]], room: int, together: tuple[PlannedStep, ...]
) -> Iterator[tuple[PlannedStep, ...]]:
    """All sets of unordered steps, from `together` on, that overfill the room with their last step."""
    if sum(len(step.outside) for step in together) > room:
        yield together
        return
    last = together[-1]
    beside: set[int] = set()
    for person, row in seats.items():
        low, high = plan.order.beside(last.index, person)
        beside.update(index for _, index in row[bisect_left(row, (low, -1)) : bisect_left(row, (high, -1))])
    for index in sorted(beside):
        step = plan.steps[index]
        alone_too_many = len(step.outside) > room
        if index > last.index and not alone_too_many and not any(plan.order.ordered(index, o.index) for o in together):
            yield from _fill(plan, seats, room, (*together, step))
