"""What is computed once for a sortie, so that any situation of it can be answered at once: in Python or in a browser.

Pure. Whatever may be advised to be left out is proved here: a set of tasks without which nothing fails that holds with
them has its variant, and nothing else is ever advised. Indices are those of the whole plan, in variants as well.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise

from briefgen.proof.deciding.latest import first_begins
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import Homeward
from briefgen.proof.plan import Plan
from briefgen.proof.resources.light import nights_until
from briefgen.proof.resources.orbit import Interval
from briefgen.proof.schedule.gates import Gates
from briefgen.proof.schedule.timeline import Timeline, network_of
from briefgen.proof.stopping.stops import Caller

MOST_UNITS = 8
"""So many of what can be left out are combined: each combination is a plan to prove."""
HORIZON = 24 * 3600.0
"""So far beyond the sortie's length day and night are told, in seconds."""


@dataclass(frozen=True)
class DayStep:
    """A step: how long it likely lasts, when it is planned, whom it takes, and what must be over before it.

    `watts` is the metabolic rate of who does it outside.
    """

    key: str
    task: str
    people: tuple[str, ...]
    seconds: float
    start: float
    end: float
    watts: float
    needs_light: bool
    earlier: tuple[int, ...]


@dataclass(frozen=True)
class ReducedPlan:
    """The plan without some tasks: each person's steps with the seconds of the way to each, and the links.

    `sequence` is an order in which each step comes after all that it waits for; `latest` the latest starts.
    """

    left_out: frozenset[str]
    sequence: tuple[int, ...]
    chains: Mapping[str, tuple[tuple[int, float], ...]]
    links: tuple[tuple[int, int], ...]
    latest: Mapping[int, float]


@dataclass(frozen=True)
class DaySupply:
    """A supply of a suit: its rates per second and per joule, what there is along the plan, and the mean rate.

    Amounts are in the supply's unit of computing; `factor` leads to the author's own unit.
    """

    person: str
    name: str
    unit: str
    factor: float
    keeps: float
    holds: float
    per_second: float
    per_joule: float
    mean_watts: float
    left: tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class Home:
    """Seconds home of somebody outside `after` a step of theirs, and the `longest` on the way to it and in it.

    `back` are the seconds from where it is done back to where the step before left the person; infinite where no way
    leads back.
    """

    after: float
    longest: float
    back: float


@dataclass(frozen=True)
class Day:
    """A sortie, ready for any situation. `units` are what can be left out, each with what needs it, in order.

    What only serves what is left out goes along, unless it is begun by then: see `leaving`.
    """

    proved: SortieEvidence
    flows: Mapping[str, tuple[int, ...]]
    free: frozenset[str]
    steps: tuple[DayStep, ...]
    begins: Mapping[str, float]
    units: tuple[tuple[str, ...], ...]
    variants: Mapping[frozenset[str], ReducedPlan]
    nights: tuple[Interval, ...]
    supplies: tuple[DaySupply, ...]
    way_watts: float
    rest_watts: float
    homes: Mapping[str, tuple[Home, ...]]
    quiet: tuple[bool, ...]
    caller: Caller
    gates: Gates
    finish: float
    usable: float
    length: float


def make_day(proved: SortieEvidence) -> Day:
    """The day of a sortie without a circle. Proves every set that may be advised to be left out."""
    timeline, length = proved.timeline, proved.sortie.limits.length.likely
    tasks = proved.library.tasks
    along = ((drop.task, *(one for one in drop.takes_along if not tasks[one].serves)) for drop in proved.dropping.drops)
    units = tuple(along)[:MOST_UNITS]
    programme = proved.library.programme
    efforts = programme.effort if programme else None
    caller = proved.caller
    return Day(
        proved=proved,
        flows=dict(_flows(timeline)),
        free=proved.plan.free & proved.plan.flows.keys(),
        steps=tuple(_steps(proved)),
        begins=first_begins(timeline),
        units=units,
        variants=_variants(proved, units),
        nights=nights_until(proved.sortie, max(length, timeline.finish) + HORIZON),
        supplies=tuple(_supplies(proved)),
        way_watts=float(efforts.moderate) if efforts else 0.0,
        rest_watts=float(efforts.rest) if efforts else 0.0,
        homes={person: tuple(_homes(proved, row)) for person, row in proved.travel.homewards.items()},
        quiet=tuple(caller.book.quiet[caller.book.turns[step.index]] for step in proved.plan.steps),
        caller=caller,
        gates=timeline.gates,
        finish=timeline.finish,
        usable=timeline.usable,
        length=length,
    )


def _flows(timeline: Timeline) -> Iterator[tuple[str, tuple[int, ...]]]:
    plan = timeline.plan
    for person, flow in plan.flows.items():
        by_end = sorted(flow, key=lambda index: (timeline.times[index].end, index))
        yield person, tuple(by_end if person in plan.free else flow)


def _steps(proved: SortieEvidence) -> Iterator[DayStep]:
    plan, efforts = proved.plan, proved.library.programme.effort if proved.library.programme else None
    earlier: dict[int, list[int]] = {step.index: [] for step in plan.steps}
    for link in plan.links:
        earlier[link.second].append(link.first)
    for step, times in zip(plan.steps, proved.timeline.times, strict=True):
        watts = max(0.0, getattr(efforts, step.step.effort)) if efforts else 0.0
        yield DayStep(
            step.key, str(step.task.id), step.people, step.duration.likely, times.start, times.end, watts,
            bool(step.step.needs_light), tuple(earlier[step.index]),
        )  # fmt: skip


def _homes(proved: SortieEvidence, row: tuple[Homeward, ...]) -> Iterator[Home]:
    for home in row:
        visit = home.visit
        way = proved.evidence.routes.way(visit.place, visit.origin, visit.loaded)
        held = proved.evidence.ways_home.letting_go(visit.place, visit.held or visit.holds)
        back = way.seconds + held if way and not visit.moved else math.inf
        yield Home(home.in_step[-1][1], home.longest, back)


def _variants(proved: SortieEvidence, units: tuple[tuple[str, ...], ...]) -> Mapping[frozenset[str], ReducedPlan]:
    """The whole plan, and it without whatever may be advised: every run of what can be left out, in its order."""
    ends = range(1, len(units) + 1)
    runs = [frozenset(one for unit in units[first:end] for one in unit) for end in ends for first in range(end)]
    leaving = [one for run in runs for one in _with_what_serves(proved, run)]
    asked = dict.fromkeys([frozenset[str](), *leaving, *(one.left_out for one in proved.latest)])
    sound = (one for one in asked if not one or proved.holds_without(one, proved.tasks - one))
    return {left_out: _variant(proved, left_out) for left_out in sound}


def _with_what_serves(proved: SortieEvidence, run: frozenset[str]) -> Iterator[frozenset[str]]:
    """Some tasks with what only serves them: all of it, or less and less where it begins before and is done by then."""
    begins = first_begins(proved.timeline)
    begun = frozenset[str]()
    for task in ("", *sorted(proved.leaving(run) - run, key=lambda one: (begins.get(one, 0.0), one))):
        begun |= {task}
        yield proved.leaving(run, begun)


def _variant(proved: SortieEvidence, left_out: frozenset[str]) -> ReducedPlan:
    timeline = proved.timeline_without(left_out, proved.tasks - left_out)
    plan = timeline.plan
    whole = {step.key: step.index for step in proved.plan.steps}
    index = [whole[step.key] for step in plan.steps]
    chains = {
        person: tuple((index[step], seconds) for step, seconds in row) for person, row in _chains(proved, plan).items()
    }
    links = tuple((index[link.first], index[link.second]) for link in plan.links)
    latest = {index[times.step.index]: times.latest_start for times in timeline.times}
    return ReducedPlan(left_out, tuple(index[one] for one in plan.order.sequence), chains, links, latest)


def _chains(proved: SortieEvidence, plan: Plan) -> Mapping[str, list[tuple[int, float]]]:
    """Each person's steps with the seconds of the way to each, read off the schedule's own network."""
    edges = iter(network_of(plan, proved.evidence.routes)[1])
    chains: dict[str, list[tuple[int, float]]] = {person: [] for person in plan.chains}
    for person, flow in plan.chains.items():
        for _ in pairwise(flow):
            _, step, seconds = next(edges)
            chains[person].append((step, seconds))
    for person in plan.chains:
        _, step, seconds = next(edges)
        chains[person].insert(0, (step, seconds))
    return chains


def _supplies(proved: SortieEvidence) -> Iterator[DaySupply]:
    for person, runs in proved.supplies.runs.items():
        stays = proved.supplies.exertions[person]
        seconds = sum(one.stay.seconds for one in stays)
        mean = proved.supplies.work(person) / seconds if seconds else 0.0
        for run in runs:
            its = run.supply
            yield DaySupply(
                person, run.name, run.unit, run.factor, float(its.keeps), float(its.holds),
                float(its.per_hour or 0) / 3600, float(its.per_megajoule or 0) / 1e6, mean, run.run.left,
            )  # fmt: skip
