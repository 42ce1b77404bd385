"""Earliest and latest times of every step, the ways between them, and who waits for whom.

Pure: a plan goes in, a timeline comes out; reads no file. All times are seconds since the sortie's start, with the
likely durations. O(steps + links), and one shortest-path search a place.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from briefgen.proof.moving.loads import loaded_after
from briefgen.proof.moving.routes import Routes, Way
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.schedule.gates import Gates, gates_of
from briefgen.proof.schedule.network import ROUNDING, Edge, NetworkSchedule, schedule_network


@dataclass(frozen=True)
class StepTimes:
    """When a step runs. `slack` is how far it may slip before the sortie's usable length is passed."""

    step: PlannedStep
    start: float
    end: float
    latest_start: float
    latest_end: float
    slack: float
    critical: bool


@dataclass(frozen=True)
class Leg:
    """A person on the way to a step, from the moment their last step is over. `way` is None where none leads there."""

    person: str
    step: int
    start: float
    end: float
    origin: str
    goal: str
    way: Way | None
    loaded: bool


@dataclass(frozen=True)
class Wait:
    """A person who is there for `step` and waits; `cause` is the step waited for, `causes` its people.

    Who is waited for on their very first way has no step before: then `cause` is `step` itself. So it is where nobody
    is waited for but the clock: `until` says for what.
    """

    person: str
    step: int
    start: float
    end: float
    cause: int
    causes: tuple[str, ...]
    until: str = ""

    @property
    def seconds(self) -> float:
        """How long somebody waits."""
        return self.end - self.start

    @property
    def for_arrival(self) -> bool:
        """Whether somebody is waited for who is on their first way."""
        return self.cause == self.step and not self.until


@dataclass(frozen=True)
class Timeline:
    """The times of all steps (in the order of `plan.steps`), ways and waits.

    `tails` is how long the sortie lasts at least from the beginning of each step on, be all gates open.
    """

    plan: Plan
    times: tuple[StepTimes, ...]
    legs: tuple[Leg, ...]
    waits: tuple[Wait, ...]
    finish: float
    usable: float
    chain: tuple[int, ...]
    gates: Gates = field(default_factory=dict)
    tails: tuple[float, ...] = ()

    @property
    def margin(self) -> float:
        """Seconds between the earliest finish and the usable length; negative when the plan is too long."""
        return self.usable - self.finish

    def of(self, person: str) -> tuple[StepTimes, ...]:
        """A person's steps in order; of somebody without a flow, by when they begin."""
        steps = tuple(self.times[index] for index in self.plan.flows.get(person, ()))
        return tuple(sorted(steps, key=lambda one: one.start)) if person in self.plan.free else steps

    @cached_property
    def leg_to(self) -> Mapping[tuple[str, int], Leg]:
        """The way to a step, by person and step index."""
        return {(leg.person, leg.step): leg for leg in self.legs}

    @cached_property
    def wait_before(self) -> Mapping[tuple[str, int], Wait]:
        """The wait before a step, by person and step index."""
        return {(wait.person, wait.step): wait for wait in self.waits}

    def sums(self, person: str) -> Mapping[str, float]:
        """A person's seconds at work, on the way, waiting, and after their last step; together the finish.

        Who has no flow waits for nothing: what lies between the start and the end of their last step, but for the
        work, is between their steps.
        """
        steps = self.of(person)
        work = _covered(steps)
        way = sum(leg.end - leg.start for leg in self.legs if leg.person == person)
        waiting = sum(wait.seconds for wait in self.waits if wait.person == person)
        sums = {"work": work, "way": way, "waiting": waiting}
        if person in self.plan.free:
            sums["between"] = max((times.end for times in steps), default=0.0) - work - way
        return sums | {"after": self.finish - sum(sums.values())}


def _covered(steps: Iterable[StepTimes]) -> float:
    """Seconds in which at least one of the steps runs; they come by their start."""
    seconds = until = 0.0
    for times in steps:
        seconds += max(0.0, times.end - max(times.start, until))
        until = max(until, times.end)
    return seconds


def make_timeline(plan: Plan, routes: Routes) -> Timeline:
    """The timeline of a plan without circles. Raises CircleFound otherwise."""
    moves = {(move.person, move.step): move for move in _moves(plan, routes)}
    durations, edges = _network(plan, moves)
    usable = plan.sortie.limits.usable
    gates = gates_of(plan)
    schedule = schedule_network(durations, edges, usable, gates)
    bare = schedule_network(durations, edges, usable) if gates else schedule
    return Timeline(
        plan,
        tuple(_times(step, schedule) for step in plan.steps),
        tuple(_legs(plan, moves, schedule)),
        tuple(_waits(plan, moves, schedule, gates)),
        schedule.finish,
        usable,
        tuple(index for index in schedule.chain if index < _START),
        gates,
        tuple(usable - bare.times[step.index].latest_start for step in plan.steps),
    )


def network_of(plan: Plan, routes: Routes) -> tuple[dict[int, float], list[Edge[int]]]:
    """The plan as a network: likely seconds of each node, and the orders between them with the seconds of the ways.

    Nodes are the steps by their index, then one of no length for each person at the start.
    """
    return _network(plan, {(move.person, move.step): move for move in _moves(plan, routes)})


def _network(plan: Plan, moves: Mapping[tuple[str, int], _Move]) -> tuple[dict[int, float], list[Edge[int]]]:
    edges = [(move.before, move.step, move.seconds) for move in moves.values() if move.before is not None]
    edges += [(_START + person_number, step, seconds) for person_number, step, seconds in _first_moves(plan, moves)]
    edges += [(link.first, link.second, 0.0) for link in plan.links]
    durations = {step.index: step.duration.likely for step in plan.steps}
    return durations | {_START + number: 0.0 for number in range(len(plan.chains))}, edges


# Nodes from here on stand for people at the start, so that a first way has something to follow.
_START = 1_000_000_000


@dataclass(frozen=True)
class _Move:
    """What a person does between two steps of theirs; `before` is None ahead of the first."""

    person: str
    before: int | None
    step: int
    origin: str | None
    goal: str | None
    way: Way | None
    loaded: bool

    @property
    def seconds(self) -> float:
        return self.way.seconds if self.way else 0.0


def _moves(plan: Plan, routes: Routes) -> Iterator[_Move]:
    loaded = loaded_after(plan)
    for person, flow in plan.chains.items():
        spot = plan.home if person in plan.outside else None
        before: int | None = None
        for index in flow:
            step = plan.steps[index]
            goal = step.place if person in step.outside else None
            burden = before is not None and loaded[person, before]
            way = routes.way(spot, goal, burden) if spot and goal and spot != goal else None
            yield _Move(person, before, index, spot, goal, way, burden)
            if person in step.outside:
                spot = step.leads_to or spot
            before = index


def _first_moves(plan: Plan, moves: Mapping[tuple[str, int], _Move]) -> Iterator[tuple[int, int, float]]:
    for number, (person, flow) in enumerate(plan.chains.items()):
        yield number, flow[0], moves[person, flow[0]].seconds


def _times(step: PlannedStep, schedule: NetworkSchedule[int]) -> StepTimes:
    its = schedule.times[step.index]
    return StepTimes(
        step, its.earliest_start, its.earliest_finish, its.latest_start, its.latest_finish, its.total_slack,
        step.index in schedule.critical,
    )  # fmt: skip


def _set_off(move: _Move, schedule: NetworkSchedule[int]) -> float:
    return 0.0 if move.before is None else schedule.times[move.before].earliest_finish


def _legs(plan: Plan, moves: Mapping[tuple[str, int], _Move], schedule: NetworkSchedule[int]) -> Iterator[Leg]:
    for move in moves.values():
        if move.origin and move.goal and move.origin != move.goal:
            start = _set_off(move, schedule)
            yield Leg(
                move.person, move.step, start, start + move.seconds, move.origin, move.goal, move.way, move.loaded
            )


def _waits(
    plan: Plan, moves: Mapping[tuple[str, int], _Move], schedule: NetworkSchedule[int], gates: Gates
) -> Iterator[Wait]:
    for move in moves.values():
        there = _set_off(move, schedule) + move.seconds
        its = schedule.times[move.step]
        if its.earliest_start - there <= ROUNDING or (its.binding is None and not its.gated):
            continue
        if its.binding is None:
            yield Wait(move.person, move.step, there, its.earliest_start, move.step, (), gates[move.step].words)
            continue
        cause = its.binding[0]
        if cause < _START:
            yield Wait(move.person, move.step, there, its.earliest_start, cause, plan.steps[cause].people)
        else:
            comes = tuple(plan.chains)[cause - _START]
            yield Wait(move.person, move.step, there, its.earliest_start, move.step, (comes,))
