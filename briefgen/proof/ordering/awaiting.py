"""Who waits, in other tasks, until somebody has confirmed what a step set: whatever relies on it next.

Within a task that is settled by the order in which it is written; between tasks, by the order that the plan guarantees.
Pure: a library goes in, and comes out with these waits in it.
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import replace

from briefgen.model.library import Library
from briefgen.model.work import Step
from briefgen.proof.ordering.happens_before import Order
from briefgen.proof.ordering.states import Item, items_named, needs
from briefgen.proof.plan import Plan, PlannedStep, make_plan
from briefgen.source import StepRef


def with_waits(library: Library) -> Library:
    """The library, in which every step waits for the confirmations that it must. Plans with a circle are left."""
    if not any(step.origin.confirms for task in library.tasks.values() for step in task.steps):
        return library
    waits: dict[str, list[StepRef]] = defaultdict(list)
    for sortie in library.ordered_sorties:
        plan = make_plan(library, sortie)
        if not plan.circle:
            for look, later in _waits(plan):
                waits[later.key].append(StepRef(look.key, look.step.position))
    tasks = {
        name: task.with_steps(tuple(_waiting(step, waits.get(f"{name}/{step.key}", ())) for step in task.steps))
        if any(key.partition("/")[0] == name for key in waits)
        else task
        for name, task in library.tasks.items()
    }
    return Library({**library.records, "tasks": tasks})


def _waiting(step: Step, refs: list[StepRef] | tuple[()]) -> Step:
    if not refs:
        return step
    origin = replace(step.origin, after=step.written_after)
    return step.made(origin, step.number, step.key, after=tuple(dict.fromkeys((*step.after, *refs))))


def _waits(plan: Plan) -> Iterator[tuple[PlannedStep, PlannedStep]]:
    """Each confirming step, with each step of another task that must wait for it; those that others imply left out."""
    order, uses = plan.order, _Uses(plan)
    found: dict[int, set[int]] = defaultdict(set)
    for look in plan.steps:
        setter = plan.step(f"{look.task.id}/{look.step.origin.confirms}") if look.step.origin.confirms else None
        for later in uses.next_after(setter) if setter else ():
            if later.task.id != look.task.id and not order.before(look.index, later.index):
                found[later.index].add(look.index)
    for index, looks in found.items():
        for one in sorted(looks):
            if not any(order.before(one, other) for other in looks):
                yield plan.steps[one], plan.steps[index]


class _Uses:
    """Where in a plan each item is relied on, and where it is set."""

    def __init__(self, plan: Plan) -> None:
        self._plan = plan
        self._order: Order = plan.order
        self._set: dict[Item, list[int]] = defaultdict(list)
        self._relied: dict[tuple[Item, str], list[int]] = defaultdict(list)
        for step in plan.steps:
            for name in step.step.sets:
                for item in items_named(plan, step, str(name)):
                    self._set[item].append(step.index)
        for need in needs(plan):
            if need.relies:
                self._relied[need.item, need.state].append(need.step)

    def next_after(self, setter: PlannedStep) -> Iterator[PlannedStep]:
        """The steps that rely on what a step set: the first in each task of each who does one thing after another."""
        for name, state in setter.step.sets.items():
            for item in items_named(self._plan, setter, str(name)):
                relying = [one for one in self._relied[item, str(state)] if self._finds(item, setter.index, one)]
                yield from self._first(relying)

    def _finds(self, item: Item, setter: int, step: int) -> bool:
        before = self._order.before
        return before(setter, step) and not any(
            before(setter, other) and before(other, step) for other in self._set[item]
        )

    def _first(self, relying: list[int]) -> Iterator[PlannedStep]:
        chains: Mapping[str, tuple[int, ...]] = self._plan.chains
        taken: set[tuple[str, str]] = set()
        for step in sorted((self._plan.steps[one] for one in relying), key=lambda one: one.step.number):
            bound = {(person, str(step.task.id)) for person in step.people if person in chains}
            if not bound or not bound <= taken:
                taken |= bound
                yield step
