"""Where in one person's flow a further task could stand, and how early the sortie could then end at best.

Pure. A task is done in one go, between two tasks of a person, so that none is interrupted; nobody outside does it
before their first task or after their last. The bound counts what is over before, the person's own ways and steps,
without waiting and without bags that are carried anyway, and what is left after them. Seconds since the sortie's start.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from briefgen.model.library import Library
from briefgen.model.work import Step, Task
from briefgen.proof.moving.routes import Routes
from briefgen.proof.plan import Plan, PlannedStep, chosen_items
from briefgen.proof.schedule.timeline import Timeline


@dataclass(frozen=True)
class Gap:
    """The seat (counted from 0) in a person's flow ahead of which the task would stand, between two steps.

    The sortie can't end before `finish`; the person goes `ways` seconds more, and would set off at `ready`. Somebody
    without a flow has one gap behind all, and is ready whenever the others are (NaN).
    """

    person: str
    seat: int
    before: PlannedStep | None
    then: PlannedStep | None
    finish: float
    ways: float
    ready: float


def gaps(timeline: Timeline, routes: Routes, task: Task, person: str) -> Iterator[Gap]:
    """Every gap for a person's part of a task that ways lead to and from."""
    if person in timeline.plan.free:
        yield Gap(person, len(timeline.plan.flows.get(person, ())), None, None, timeline.finish, 0.0, math.nan)
        return
    part = _Part(timeline.plan, routes, task, person)
    for seat, before, then in _seats(timeline.plan, person):
        start, goal = part.spot_after(before), part.spot_of(then)
        seconds, ways = part.passing(start, goal)
        ready = timeline.times[before.index].end if before else 0.0
        rest = timeline.tails[then.index] if then else 0.0
        if math.isfinite(ways):
            yield Gap(person, seat, before, then, max(timeline.finish, ready + seconds + rest), ways, ready)


def _seats(plan: Plan, person: str) -> Iterator[tuple[int, PlannedStep | None, PlannedStep | None]]:
    """The seats between two tasks; for who is not outside, those at both ends as well."""
    flow = [plan.steps[index] for index in plan.flows.get(person, ())]
    outside = plan.library.people[person].outside
    around: Sequence[PlannedStep | None] = [None, *flow, None]
    for seat in range(len(flow) + 1):
        before, then = around[seat], around[seat + 1]
        if before and then:
            if before.task.id != then.task.id:
                yield seat, before, then
        elif not outside:
            yield seat, before, then


class _Part:
    """What one person does of a task."""

    def __init__(self, plan: Plan, routes: Routes, task: Task, person: str) -> None:
        self._plan, self._routes, self._person = plan, routes, person
        self._outside = plan.library.people[person].outside
        self._steps = [step for step in task.steps if person in step.who]
        self._stops = [str(step.at or task.place) for step in self._steps]
        self._leads = [str(step.to or stop) for step, stop in zip(self._steps, self._stops, strict=True)]
        self._work = sum(likely_seconds(plan.library, step) for step in self._steps)

    def spot_after(self, step: PlannedStep | None) -> str | None:
        """Where the person is after a step of theirs."""
        return (step.leads_to if step else self._plan.home) if self._outside else None

    def spot_of(self, step: PlannedStep | None) -> str | None:
        """Where the person must be for a step of theirs."""
        return step.place if self._outside and step else None

    def passing(self, start: str | None, goal: str | None) -> tuple[float, float]:
        """Seconds from one spot to the other with this work between, and how much of it is ways that are new."""
        if not self._outside:
            return self._work, 0.0
        spots = zip([start, *self._leads], [*self._stops, goal], self._loads(), strict=True)
        ways = sum(self._way(one, other, loaded) for one, other, loaded in spots)
        return self._work + ways, ways - self._way(start, goal, loaded=False)

    def _loads(self) -> Iterator[bool]:
        """Whether the person carries a bag of this task's own ahead of each step of it, and after the last."""
        carried: set[str] = set()
        for step in self._steps:
            yield bool(carried)
            if self._person == next((name for name in step.who if self._plan.library.people[name].outside), None):
                carried |= {str(thing) for thing in step.picks if thing in self._plan.library.bags}
            carried -= {str(thing) for thing in (*step.hands, *step.leaves)}
        yield bool(carried)

    def _way(self, start: str | None, goal: str | None, loaded: bool) -> float:
        if not start or not goal:
            return 0.0
        way = self._routes.way(start, goal, loaded)
        return way.seconds if way else math.inf


def likely_seconds(library: Library, step: Step) -> float:
    """How long a step takes, for all its items."""
    record = library.equipment.get(step.each.equipment) if step.each else None
    return step.takes.likely * max(1, len(chosen_items(record, step)))
