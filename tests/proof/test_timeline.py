"""The timeline of random plans, travel and joint steps included, against CP-SAT of OR-Tools and paths of networkx.

The plan is read by the tests' own reader (deeds.py), ways by networkx. CP-SAT knows nothing of the two passes: it finds
the least and the greatest starts by optimisation.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from typing import Any

import networkx as nx
import pytest
from ortools.sat.python import cp_model

from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.schedule.network import CircleFound
from briefgen.units import read_duration
from tests.proof.clocked import begins, moments
from tests.proof.deeds import Deed, Plan
from tests.proof.plans import library_of, random_content
from tests.travel_world import world

Steps = dict[str, list[dict[str, Any]]]
SEEDS = range(240)
PACE = {False: 0.1, True: 0.05}  # the random plans' 6 m/min and 3 m/min, in m/s


@dataclass(frozen=True)
class Model:
    """Durations in seconds by step; edges (a, b, lag); `first` is the way from home to a step, if it comes first.

    `gates` says from when on a step may begin, and at which moments its gate opens for those who are ready.
    """

    durations: dict[str, int]
    edges: list[tuple[str, str, int]]
    first: dict[str, int]
    limit: int
    gates: dict[str, tuple[int, list[int] | None]]

    @property
    def gated(self) -> bool:
        """Whether a step waits for the clock or the sun."""
        return any(least or openings is not None for least, openings in self.gates.values())


@cache
def sortie(seed: int) -> tuple[Model, SortieEvidence] | None:
    """A random sortie twice over; None where its steps wait for each other in a circle."""
    content = random_content(seed)
    raw = content["sorties"]["s"]
    plan = Plan(content, raw, frozenset())
    proved = Evidence(library_of(content)).sorties["s"]
    model = Model(
        {key: seconds(plan, deed) for key, deed in plan.steps.items()},
        [(one, key, 0) for key, ones in plan.waits.items() for one in ones],
        {},
        round(read_duration(raw["limits"]["length"]).likely),
        {key: moments(content, raw, key) for key in plan.steps},
    )
    for person in plan.flows:
        add_ways(model, plan, person, content)
    return None if not nx.is_directed_acyclic_graph(nx.DiGraph(edge[:2] for edge in model.edges)) else (model, proved)


def seconds(plan: Plan, deed: Deed) -> int:
    return round(read_duration(deed.raw["takes"]).likely) * max(1, deed.times)


def add_ways(model: Model, plan: Plan, person: str, content: dict[str, Any]) -> None:
    """The person's ways from step to step, at the pace of whoever carries a bag or not."""
    spot, before, carried = "lock", "", set[str]()
    for key in plan.flows[person]:
        deed = plan.steps[key]
        way = seconds_between(spot, deed.place, bool(carried)) if person in deed.outside and deed.place else 0
        if before:
            model.edges.append((before, key, way))
        else:
            model.first[key] = max(way, model.first.get(key, 0))
        spot, before = (deed.place or spot) if person in deed.outside else spot, key
        carried = carried_after(carried, deed, person, content)


def carried_after(carried: set[str], deed: Deed, person: str, content: dict[str, Any]) -> set[str]:
    taken = {thing for thing in deed.picks if thing in content["bags"] and deed.outside[:1] == (person,)}
    after = carried | taken
    if person in deed.outside:
        after -= {*deed.raw.get("hands", {}), *deed.raw.get("leaves", {})}
    return after | {
        thing for thing, to in deed.raw.get("hands", {}).items()
        if to == person and thing in content["bags"] and thing not in deed.raw.get("leaves", {})
    }  # fmt: skip


def seconds_between(one: str, other: str, loaded: bool) -> int:
    graph = nx.Graph()
    graph.add_edge("lock", "bay", metres=6)
    graph.add_edge("bay", "rack", metres=3)
    metres: float = nx.shortest_path_length(graph, one, other, weight="metres")
    return round(metres / PACE[loaded])


def circle_in(seed: int) -> bool:
    """Whether the project finds a circle, too."""
    return bool(Evidence(library_of(random_content(seed))).sorties["s"].plan.circle)


def sorties() -> Iterator[tuple[Model, SortieEvidence]]:
    return (found for seed in SEEDS if (found := sortie(seed)))


def test_most_of_the_random_sorties_have_a_timeline() -> None:
    assert len(list(sorties())) > 0.8 * len(SEEDS)


@pytest.mark.parametrize("seed", SEEDS)
def test_cp_sat_finds_the_same_earliest_and_latest_starts(seed: int) -> None:
    found = sortie(seed)
    if found is None:
        with pytest.raises(CircleFound):
            _ = Evidence(library_of(random_content(seed))).sorties["s"].timeline
        return
    model, proved = found
    times = {one.step.key: one for one in proved.timeline.times}
    assert {key: one.start for key, one in times.items()} == best_starts(model, latest=False)
    assert {key: one.latest_start for key, one in times.items()} == best_starts(model, latest=True)
    assert all(one.end - one.start == model.durations[key] for key, one in times.items())
    assert all(one.slack == one.latest_start - one.start for one in times.values())


def best_starts(model: Model, *, latest: bool) -> dict[str, int]:
    """All starts, their sum as small (or, within the limit, as great) as can be."""
    solver_model = cp_model.CpModel()
    starts = {
        key: solver_model.new_int_var(model.first.get(key, 0), model.limit - lasts, key)
        for key, lasts in model.durations.items()
    }
    ready = {key: solver_model.new_int_var(model.first.get(key, 0), model.limit, f"{key} ready") for key in starts}
    for key, (least, openings) in model.gates.items():
        solver_model.add(starts[key] >= ready[key])
        solver_model.add(starts[key] >= least)
        if openings is not None:  # all else is ready by one of the openings, and the step begins then or later
            solver_model.add(ready[key] >= least)
            last = [model.limit] if not latest else []
            at = solver_model.new_int_var_from_domain(cp_model.Domain.from_values([*openings, *last]), f"{key} opens")
            solver_model.add(at >= ready[key])
            solver_model.add(starts[key] >= at)
    for one, other, lag in model.edges:
        solver_model.add(ready[other] >= starts[one] + model.durations[one] + lag)
    total = sum(starts.values())
    _ = solver_model.maximize(total) if latest else solver_model.minimize(total)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    assert solver.solve(solver_model) == cp_model.OPTIMAL
    return {key: solver.value(start) for key, start in starts.items()}


@pytest.mark.parametrize("seed", SEEDS)
def test_finish_and_critical_steps_are_longest_paths_of_networkx(seed: int) -> None:
    found = sortie(seed)
    if found is None:
        assert circle_in(seed)
        return
    model, proved = found
    if model.gated:
        return  # see below
    graph = nx.DiGraph()
    graph.add_edges_from(("begin", key, {"weight": model.first.get(key, 0)}) for key in model.durations)
    for first, second, lag in model.edges:
        known = graph.get_edge_data(first, second, {"weight": 0})["weight"]
        graph.add_edge(first, second, weight=max(known, model.durations[first] + lag))
    graph.add_edges_from((key, "end", {"weight": lasts}) for key, lasts in model.durations.items())
    longest = nx.dag_longest_path_length(graph)
    timeline = proved.timeline
    assert timeline.finish == longest
    assert timeline.margin == model.limit - longest
    for one in timeline.times:
        before = nx.dag_longest_path_length(graph.subgraph({*nx.ancestors(graph, one.step.key), one.step.key}))
        after = nx.dag_longest_path_length(graph.subgraph({*nx.descendants(graph, one.step.key), one.step.key}))
        assert one.critical == (before + after == longest)
    ends = [timeline.times[index] for index in timeline.chain]
    assert all(one.critical for one in ends)
    assert ends[-1].end == longest


@pytest.mark.parametrize("seed", SEEDS)
def test_of_what_waits_for_the_clock_that_is_critical_whose_slip_moves_the_finish(seed: int) -> None:
    found = sortie(seed)
    if found is None or not found[0].gated:
        return
    model, proved = found
    finish = finish_with(model, "")
    assert proved.timeline.finish == finish
    for one in proved.timeline.times:
        assert one.critical == (finish_with(model, one.step.key) > finish), one.step.key


def test_many_random_sorties_wait_for_the_clock_and_for_the_sun() -> None:
    waits = [wait for _, proved in sorties() for wait in proved.timeline.waits if wait.until]
    assert len([wait for wait in waits if "sun" in wait.until]) > 10
    assert len([wait for wait in waits if "sun" not in wait.until]) > 10


def finish_with(model: Model, late: str) -> float:
    """When all is over if one step begins a second later than it could."""
    ends: dict[str, float] = {}

    def end(key: str) -> float:
        if key not in ends:
            least, openings = model.gates[key]
            ready = max(
                [model.first.get(key, 0), least, *(end(one) + lag for one, to, lag in model.edges if to == key)]
            )
            start = ready if openings is None else min(one for one in [*openings, 10**9] if one >= ready)
            ends[key] = start + (key == late) + model.durations[key]
        return ends[key]

    return max(end(key) for key in model.durations)


@pytest.mark.parametrize("seed", SEEDS)
def test_everybodys_time_is_work_ways_and_waits_and_every_wait_ends_with_its_cause(seed: int) -> None:
    found = sortie(seed)
    if found is None:
        assert circle_in(seed)
        return
    timeline = found[1].timeline
    for person in timeline.plan.flows:
        sums = timeline.sums(person)
        assert sum(sums.values()) == timeline.finish
        assert min(sums.values()) >= 0
        if person not in timeline.plan.free:  # no moment before the last step is unaccounted for
            assert sums["after"] == pytest.approx(timeline.finish - timeline.of(person)[-1].end)
    for wait in timeline.waits:
        assert wait.seconds > 0
        assert wait.end == timeline.times[wait.step].start
        if wait.until:
            assert wait.end == begins(random_content(seed), random_content(seed)["sorties"]["s"],
                                      timeline.plan.steps[wait.step].key, wait.end)  # fmt: skip
            assert wait.causes == ()
        elif wait.for_arrival:
            [comes] = wait.causes
            assert timeline.leg_to[comes, wait.step].end == wait.end
            assert timeline.plan.flows[comes][0] == wait.step
        else:
            assert timeline.times[wait.cause].end <= wait.end
            assert wait.causes == timeline.plan.steps[wait.cause].people
    for leg in timeline.legs:
        assert leg.end <= timeline.times[leg.step].start


# By hand --------------------------------------------------------------------------------------------------------


def test_all_begin_a_joint_step_when_the_last_is_there() -> None:
    """EV1 needs 90 s to K2 (9 m at 6 m/min), EV2 stays 10 min at the lock and needs 90 s as well."""
    steps: Steps = {
        "wait": [{"who": "ev2", "at": "lock", "takes": "10 min"}],
        "meet": [{"who": ["ev1", "ev2"], "at": "k2", "takes": "5 min"}],
    }
    timeline = world(steps).timeline
    start = {one.step.key: one.start for one in timeline.times}
    assert start == {"wait/1": 0, "meet/1": 690}
    (wait,) = timeline.waits
    assert (wait.person, wait.start, wait.end, wait.causes) == ("ev1", 90, 690, ("ev2",))
    assert timeline.finish == 990


def test_whoever_is_there_first_waits_for_the_others_very_first_way() -> None:
    steps = [{"who": ["ev1", "ev2"], "at": "k1", "takes": "2 min"}, {"who": "ev2", "at": "lock", "takes": "1 min"}]
    proved = world({"a": [{"who": "ev1", "at": "lock", "takes": "0 min", "to": "k1"}, *steps]})
    [wait] = proved.timeline.waits
    # EV1 is there at once; EV2 comes from the lock: 6 m at 6 m/min.
    assert (wait.person, wait.seconds, wait.causes, wait.for_arrival) == ("ev1", 60, ("ev2",), True)
    assert proved.timeline.sums("ev1") == {"work": 120, "way": 0, "waiting": 60, "after": 120}


def test_who_carries_a_bag_goes_at_the_slower_pace_until_it_is_left_or_handed_over() -> None:
    """9 m to K2: 90 s with free hands, 180 s with a bag."""
    steps: Steps = {"t": [
        {"who": "ev1", "at": "lock", "picks": ["bag"]},
        {"who": ["ev1", "ev2"], "at": "k2", "hands": {"bag": "ev2"}},
        {"who": "ev1", "at": "lock"},
        {"who": "ev2", "at": "lock", "leaves": {"bag": "lock"}},
    ]}  # fmt: skip
    legs = {(leg.person, timeline.plan.steps[leg.step].key): leg.end - leg.start
            for timeline in [world(steps).timeline] for leg in timeline.legs}  # fmt: skip
    assert legs == {("ev1", "t/2"): 180, ("ev2", "t/2"): 90, ("ev1", "t/3"): 90, ("ev2", "t/4"): 180}


def test_a_ride_is_the_step_itself_and_no_way() -> None:
    steps: Steps = {"t": [{"who": "ev1", "at": "k2", "to": "tip", "takes": "3 min"}, {"who": "ev1", "at": "tip"}]}
    timeline = world(steps).timeline
    assert [timeline.plan.steps[leg.step].key for leg in timeline.legs] == ["t/1"]
    assert timeline.finish == 90 + 180 + 60


def test_where_no_route_leads_the_way_takes_no_time_and_is_told_by_a_rule() -> None:
    timeline = world({"t": [{"who": "ev1", "at": "tip"}]}).timeline
    (leg,) = timeline.legs
    assert leg.way is None
    assert timeline.finish == 60


def test_slack_is_counted_up_to_the_length_less_the_reserve() -> None:
    limits = {"length": "1 h", "reserve": "10 min"}
    timeline = world({"t": [{"who": "ev1", "at": "lock", "takes": "20 min"}]}, limits=limits).timeline
    assert timeline.usable == 3000
    assert timeline.times[0].slack == 1800
    assert timeline.margin == 1800
