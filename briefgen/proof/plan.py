"""A sortie as a plan: who does which step in what order. Pure: records go in, a plan comes out.

Lenient on purpose: what names nothing is left out here and reported by the rules.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, field, replace
from functools import cached_property

from briefgen.model.inheritance import Carried, hazards_of
from briefgen.model.library import Library
from briefgen.model.things import Equipment
from briefgen.model.work import Sortie, Step, Task
from briefgen.proof.ordering.happens_before import Order, order
from briefgen.proof.ordering.loose import Loose, loose_keys, loose_people
from briefgen.proof.schedule.network import CircleFound
from briefgen.source import Position
from briefgen.units import Duration


@dataclass(frozen=True)
class PlannedStep:
    """A step in a sortie. `index` is its number in `Plan.steps`; `place` is None where nobody outside does it.

    `hazards` are its own and those that it inherits.
    """

    index: int
    key: str
    task: Task
    step: Step
    people: tuple[str, ...]
    outside: tuple[str, ...]
    place: str | None
    items: tuple[tuple[str, ...], ...]
    duration: Duration
    hazards: tuple[Carried, ...] = ()

    @property
    def times(self) -> int:
        """How often it is done: once, or once for every item."""
        return len(self.items) if self.step.each else 1

    @property
    def leads_to(self) -> str | None:
        """Where the people outside are after it."""
        return str(self.step.to) if self.step.to and self.outside else self.place


@dataclass(frozen=True)
class Precedence:
    """`first` must be over before `second` begins, because the author says so at `position`."""

    first: int
    second: int
    position: Position


@dataclass(frozen=True)
class PlannedBack:
    """A way back: what the step `of` (by index) changed is taken back by `steps`, whose numbers follow the plan's."""

    of: int
    steps: tuple[PlannedStep, ...]


@dataclass(frozen=True)
class Plan:
    """The steps of a sortie, each person's own sequence of them, and the links between people.

    `free` are people who have no flow of their own: their steps stand in `flows` in no order.
    """

    library: Library
    sortie: Sortie
    steps: tuple[PlannedStep, ...]
    flows: Mapping[str, tuple[int, ...]]
    links: tuple[Precedence, ...]
    _index: Mapping[str, int] = field(default_factory=dict)
    free: frozenset[str] = frozenset()

    @cached_property
    def order(self) -> Order:
        """The guaranteed order. Raises CircleFound."""
        return order(len(self.steps), self.chains, [(link.first, link.second) for link in self.links])

    @cached_property
    def chains(self) -> Mapping[str, tuple[int, ...]]:
        """The steps of everybody who does one thing after another, in order."""
        return {person: flow for person, flow in self.flows.items() if person not in self.free}

    @cached_property
    def circle(self) -> tuple[PlannedStep, ...]:
        """The steps of a circle in the order, or nothing."""
        try:
            _ = self.order
        except CircleFound as found:
            return tuple(self.steps[index] for index in found.circle if isinstance(index, int))
        return ()

    @cached_property
    def home(self) -> str | None:
        """The place where everyone outside starts and ends."""
        return next((name for name, place in self.library.places.items() if place.home), None)

    @cached_property
    def outside(self) -> tuple[str, ...]:
        """The people outside who do anything, in the order of the flow."""
        people = self.library.people
        return tuple(name for name in self.flows if name in people and people[name].outside)

    @cached_property
    def ways_back(self) -> tuple[PlannedBack, ...]:
        """What is written to take steps of this plan back."""
        return tuple(_ways_back(self))

    @cached_property
    def all_steps(self) -> tuple[PlannedStep, ...]:
        """The plan's steps, and after them those of its ways back: each at its index."""
        return (*self.steps, *(step for way in self.ways_back for step in way.steps))

    def without(self, left_out: Collection[str]) -> Plan:
        """The plan without these tasks, its steps numbered anew. Linear."""
        kept = [step for step in self.steps if str(step.task.id) not in left_out]
        index = {step.index: number for number, step in enumerate(kept)}
        steps = tuple(one if one.index == number else replace(one, index=number) for number, one in enumerate(kept))
        rows = {person: tuple(index[one] for one in flow if one in index) for person, flow in self.flows.items()}
        links = tuple(
            Precedence(index[link.first], index[link.second], link.position)
            for link in self.links
            if link.first in index and link.second in index
        )
        flows, keys = {person: row for person, row in rows.items() if row}, {step.key: step.index for step in steps}
        return Plan(self.library, self.sortie, steps, flows, links, keys, self.free)

    def step(self, key: str) -> PlannedStep | None:
        """The step `task/step` (by id or number), if it is in this plan."""
        index = self._index.get(key)
        return None if index is None else self.steps[index]

    def next_for(self, person: str, step: PlannedStep) -> PlannedStep | None:
        """What that person does after the step; of somebody without a flow nobody knows."""
        if person in self.free:
            return None
        flow = self.flows[person]
        seat = self._seats[person][step.index] + 1
        return self.steps[flow[seat]] if seat < len(flow) else None

    def previous_for(self, person: str, step: PlannedStep) -> PlannedStep | None:
        """What that person does before the step; of somebody without a flow nobody knows."""
        if person in self.free:
            return None
        seat = self._seats[person][step.index] - 1
        return self.steps[self.flows[person][seat]] if seat >= 0 else None

    @cached_property
    def _seats(self) -> Mapping[str, Mapping[int, int]]:
        return {person: {step: seat for seat, step in enumerate(flow)} for person, flow in self.flows.items()}

    @cached_property
    def optional_tasks(self) -> tuple[str, ...]:
        """The tasks in the flow that may be left out, in the order in which they come up."""
        names = dict.fromkeys(str(step.task.id) for step in self.steps if step.task.optional)
        return tuple(names)


def chosen_items(equipment: Equipment | None, step: Step) -> tuple[tuple[str, ...], ...]:
    """The items for which a step with `each` is done; one nameless item otherwise."""
    if step.each is None or equipment is None:
        return ((),)
    return equipment.chosen(step.each.where)


def flow_keys(library: Library, sortie: Sortie, person: str) -> list[str]:
    """A person's steps as `task/step` keys, in the order of their flow; names that lead nowhere are left out."""
    entries = next((refs for name, refs in sortie.flow.items() if name == person), ())
    single = {key for entry in entries if entry.step for key in step_keys(library, entry.task, entry.step)}
    keys: list[str] = []
    for entry in entries:
        task = library.tasks.get(entry.task)
        if task is None:
            continue
        if entry.step:
            keys += step_keys(library, entry.task, entry.step, person)
        else:
            mine = (f"{task.id}/{step.key}" for step in task.steps if person in step.who)
            keys += [key for key in mine if key not in single]
    return keys


def step_key(library: Library, task: str, step: str) -> str | None:
    """The one key of a step that may be named by id or by number."""
    record = library.tasks.get(task)
    found = record.step(step) if record else None
    return f"{task}/{found.key}" if found else None


def step_keys(library: Library, task: str, name: str, person: str = "") -> list[str]:
    """Every step that a name means: one, or of a block those that the person does."""
    record = library.tasks.get(task)
    named = record.named(name) if record else ()
    return [f"{task}/{step.key}" for step in named if len(named) == 1 or not person or person in step.who]


def make_plan(library: Library, sortie: Sortie, loose: Loose | None = None) -> Plan:
    """The plan of a sortie. Linear in the number of steps.

    `loose` are the steps of people without a flow, if others than those that follow from the flows.
    """
    own = {str(person): flow_keys(library, sortie, person) for person in sortie.flow if person in library.people}
    if loose is None:
        loose = loose_keys(library, sortie)
    keys = {person: list(dict.fromkeys(row)) for person, row in (*own.items(), *loose.items())}
    index: dict[str, int] = {}
    steps: list[PlannedStep] = []
    for key in (key for flow in keys.values() for key in flow):
        if key not in index:
            index[key] = len(steps)
            steps.append(_planned(library, keys, key, len(steps)))
    flows = {person: tuple(index[key] for key in flow) for person, flow in keys.items() if flow}
    free = frozenset(loose_people(library, sortie))
    return Plan(library, sortie, tuple(steps), flows, _links(library, steps, index), index, free)


def _planned(library: Library, keys: Mapping[str, list[str]], key: str, index: int) -> PlannedStep:
    task_id, _, step_id = key.partition("/")
    task = library.tasks[task_id]
    step = task.step(step_id)
    assert step is not None  # flow_keys names only steps that exist
    people = tuple(str(name) for name in step.who if name in library.people and key in keys.get(str(name), ()))
    return planned_by(library, task, step, people, index)


def planned_by(library: Library, task: Task, step: Step, people: tuple[str, ...], index: int) -> PlannedStep:
    """A step as these people do it, at that number of a plan."""
    outside = tuple(name for name in people if library.people[name].outside)
    place = str(step.at or task.place) if outside and (step.at or task.place) else None
    equipment = library.equipment.get(step.each.equipment) if step.each else None
    items = chosen_items(equipment, step)
    lasts = step.takes.times(max(1, len(items)), together=step.rushed is not None)
    return PlannedStep(
        index, f"{task.id}/{step.key}", task, step, people, outside, place, items, lasts,
        hazards_of(library, task, step),
    )  # fmt: skip


def _ways_back(plan: Plan) -> Iterator[PlannedBack]:
    """The ways back of the steps that are flown, in the order of the plan's steps; without who is not outside then."""
    number, library = len(plan.steps), plan.library
    absent = {name for name, person in library.people.items() if person.outside} - set(plan.outside)
    for step in plan.steps:
        for way in step.task.undo:
            if way.of.step == step.step.key and not any(absent & {*map(str, one.who)} for one in way.steps):
                rows = enumerate(way.steps, start=number)
                done = tuple(
                    planned_by(library, step.task, one, tuple(map(str, filter(library.people.get, one.who))), index)
                    for index, one in rows
                )
                number += len(done)
                yield PlannedBack(step.index, done)


def _links(library: Library, steps: list[PlannedStep], index: Mapping[str, int]) -> tuple[Precedence, ...]:
    links = []
    for later in steps:
        for ref in later.step.after:
            key = step_key(library, ref.task, ref.step)
            if key is not None and key in index:
                links.append(Precedence(index[key], later.index, ref.position))
    return tuple(links)
