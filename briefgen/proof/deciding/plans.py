"""A sortie's plan with get-aheads put into its flows: the same plan, remade from longer flows.

Pure. Flows are steps by their keys (`task/step`), person by person; two plans with the same flows are the same plan.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property
from itertools import permutations

from briefgen.expansion.whoever import OtherPeople
from briefgen.model.library import Library
from briefgen.model.work import Task
from briefgen.proof.moving.routes import Routes
from briefgen.proof.plan import Plan, Precedence, make_plan
from briefgen.proof.schedule.network import CircleFound
from briefgen.proof.schedule.timeline import Timeline, make_timeline
from briefgen.source import StepRef, Text

Flows = tuple[tuple[str, tuple[str, ...]], ...]
"""Each person with the keys of their steps, in order."""


def flows_of(plan: Plan) -> Flows:
    """The flows of a plan."""
    return tuple((person, tuple(plan.steps[index].key for index in flow)) for person, flow in plan.flows.items())


def blocks_of(library: Library, task: Task) -> Mapping[str, tuple[str, ...]]:
    """A task's steps for each person who does any, in the order listed."""
    blocks: dict[str, list[str]] = {}
    for step in task.steps:
        for person in dict.fromkeys(map(str, step.who)):
            if person in library.people:
                blocks.setdefault(person, []).append(f"{task.id}/{step.key}")
    return {person: tuple(keys) for person, keys in blocks.items()}


def versions(task: Task, outside: Sequence[str]) -> tuple[Task, ...]:
    """The task for each choice of people outside that may do it: itself where it names them."""
    if not task.whoever:
        return (task,)
    return tuple(_done_by(task, row) for row in permutations(outside, len(task.whoever))) or (task,)


def cast(task: Task, version: Task) -> Mapping[str, str]:
    """Who does a version of a task, by role."""
    pairs = [
        pair
        for one, other in zip(task.steps, version.steps, strict=True)
        for pair in zip(one.who, other.who, strict=True)
    ]
    stand_in = {str(was): str(now) for was, now in pairs}
    return {role: stand_in[name] for role, name in task.whoever.items() if name in stand_in}


def _done_by(task: Task, people: Sequence[str]) -> Task:
    instead = {Text(was): Text(now) for was, now in zip(task.whoever.values(), people, strict=True)}
    new: Task = OtherPeople(instead).of(task)
    return new.with_steps(new.steps)


def with_blocks(flows: Flows, blocks: Mapping[str, tuple[str, ...]], seats: Mapping[str, int]) -> Flows:
    """The flows with each person's block ahead of the step at that seat (counted from 0).

    >>> with_blocks((("ev1", ("a/1", "b/1")),), {"ev1": ("c/1",)}, {"ev1": 1})
    (('ev1', ('a/1', 'c/1', 'b/1')),)
    """
    there = dict(flows)
    for person, block in blocks.items():
        flow, seat = there.get(person, ()), seats[person]
        there[person] = (*flow[:seat], *block, *flow[seat:])
    return tuple(there.items())


class Pool:
    """The steps of a plan and of further tasks, planned once, from which plans are put together.

    A plan has the steps of `whole` in their order, then those that its flows add. A task may come in several versions,
    done by other people each: the flows tell which one it is.
    """

    def __init__(self, whole: Plan, tasks: Sequence[Sequence[Task]], routes: Routes) -> None:
        self.routes, self._whole = routes, whole
        many = max(map(len, tasks), default=1)
        plans = [self._every([row[min(number, len(row) - 1)] for row in tasks]) for number in range(many)]
        self._steps = [{step.key: step for step in every.steps} for every in plans]
        first = plans[0].steps
        self._links = [(first[link.first].key, first[link.second].key, link) for link in plans[0].links]

    def _every(self, tasks: Sequence[Task]) -> Plan:
        """The whole plan with all these tasks at the ends of its flows."""
        whole = self._whole
        records = {**whole.library.tasks, **{str(task.id): task for task in tasks}}
        library = Library({**whole.library.records, "tasks": records})
        flows = flows_of(whole)
        for blocks in (blocks_of(whole.library, task) for task in tasks):
            flows = with_blocks(flows, blocks, {person: len(dict(flows).get(person, ())) for person in blocks})
        refs = {Text(person): tuple(map(StepRef, keys)) for person, keys in flows if person not in whole.free}
        loose = {person: keys for person, keys in flows if person in whole.free}
        return make_plan(library, whole.sortie.model_copy(update={"flow": refs}), loose=loose)

    def plan(self, flows: Flows) -> Plan:
        """The plan with these flows, which hold all that the whole plan's flows hold."""
        steps = list(self._whole.steps)
        index = {step.key: step.index for step in steps}
        versions = self._versions(flows, index)
        for key in (key for _, keys in flows for key in keys):
            if key not in index:
                index[key] = len(steps)
                version = versions[key.partition("/")[0]]
                steps.append(replace(self._steps[version][key], index=len(steps)))
        kept = ((a, b, link) for a, b, link in self._links if a in index and b in index)
        links = (Precedence(index[a], index[b], link.position) for a, b, link in kept)
        numbers = {person: tuple(index[key] for key in keys) for person, keys in flows}
        return Plan(
            self._whole.library, self._whole.sortie, tuple(steps), numbers, tuple(links), index,
            self._whole.free,
        )  # fmt: skip

    def _versions(self, flows: Flows, known: Mapping[str, int]) -> dict[str, int]:
        """Which version of each task that the flows add has these people at its steps: the first one."""
        people: dict[str, dict[str, set[str]]] = {}
        for person, keys in flows:
            for key in keys:
                if key not in known:
                    people.setdefault(key.partition("/")[0], {}).setdefault(key, set()).add(person)
        return {
            task: next(
                (
                    number
                    for number, steps in enumerate(self._steps)
                    if all({*steps[key].people} == who for key, who in row.items())
                ),
                0,
            )
            for task, row in people.items()
        }


@dataclass(frozen=True)
class Trial:
    """A sortie with other flows, and what follows from them. `known` holds the trials made so far, each once."""

    pool: Pool
    flows: Flows
    known: dict[Flows, Trial] = field(default_factory=dict, repr=False, compare=False)

    @cached_property
    def plan(self) -> Plan:
        """The plan that these flows make."""
        return self.pool.plan(self.flows)

    @cached_property
    def timeline(self) -> Timeline | None:
        """None where the order runs in a circle."""
        try:
            return make_timeline(self.plan, self.pool.routes)
        except CircleFound:
            return None

    @cached_property
    def ways(self) -> float:
        """Seconds that everybody is on the way, in all."""
        return sum(leg.end - leg.start for leg in self.timeline.legs) if self.timeline else 0.0

    @cached_property
    def cost(self) -> tuple[float, float]:
        """When the sortie ends, then how long everybody is on the way: the less, the better. Microseconds apart."""
        return (round(self.timeline.finish, 6), round(self.ways, 6)) if self.timeline else (math.inf, 0.0)

    def without_task(self, task: str) -> Trial:
        """The same without a task that was added."""
        left = ((person, tuple(key for key in keys if key.partition("/")[0] != task)) for person, keys in self.flows)
        return Trial(self.pool, tuple(left), self.known)

    def with_task(self, blocks: Mapping[str, tuple[str, ...]], seats: Mapping[str, int]) -> Trial:
        """The same with a task more."""
        flows = with_blocks(self.flows, blocks, seats)
        if flows not in self.known:
            self.known[flows] = Trial(self.pool, flows, self.known)
        return self.known[flows]
