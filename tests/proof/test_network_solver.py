"""The critical path method against two reference libraries on the same random networks.

networkx gives longest paths; CP-SAT of OR-Tools, which knows nothing of the two passes, finds the earliest
and the latest starts by optimisation.
"""

from __future__ import annotations

import random
from typing import TypeAlias

import networkx as nx
import pytest
from ortools.sat.python import cp_model

from briefgen.proof.schedule.network import schedule_network

Durations: TypeAlias = dict[str, int]
Edges: TypeAlias = list[tuple[str, str, int]]
Starts: TypeAlias = dict[str, int]
SEEDS = range(240)


def random_network(seed: int) -> tuple[Durations, Edges, int]:
    """2 to 30 nodes, listed in no particular order, with lags, and a deadline that may already be missed."""
    rng = random.Random(seed)
    names = [f"n{i}" for i in range(rng.randint(2, 30))]
    listed = rng.sample(names, len(names))
    durations = {name: rng.choice([0, rng.randint(1, 90)]) for name in listed}
    pairs = [(a, b) for i, a in enumerate(names) for b in names[i + 1 :]]
    chosen = rng.choices(pairs, k=rng.randint(0, 2 * len(names)))
    edges = [(a, b, rng.choice([0, 0, rng.randint(1, 60)])) for a, b in chosen]
    return durations, edges, rng.randint(-50, 200)


@pytest.mark.parametrize("seed", SEEDS)
def test_every_time_and_slack_is_a_longest_path_of_networkx(seed: int) -> None:
    durations, edges, spare = random_network(seed)
    graph = nx.DiGraph()
    graph.add_nodes_from(durations)
    for a, b, lag in edges:
        if not graph.has_edge(a, b) or graph[a][b]["weight"] < durations[a] + lag:
            graph.add_edge(a, b, weight=durations[a] + lag)
    graph.add_edges_from((("start", name) for name in durations), weight=0)
    graph.add_edges_from((name, "end", {"weight": durations[name]}) for name in durations)
    finish = nx.dag_longest_path_length(graph)
    plan = schedule_network(durations, edges, deadline=finish + spare)
    assert plan.finish == finish
    for name, at in plan.times.items():
        ahead = nx.dag_longest_path_length(graph.subgraph(nx.ancestors(graph, name) | {name}))
        behind = nx.dag_longest_path_length(graph.subgraph(nx.descendants(graph, name) | {name}))
        assert at.earliest_start == ahead
        assert at.latest_start == finish + spare - behind
        assert at.total_slack == finish + spare - ahead - behind
        assert (name in plan.critical) == (ahead + behind == finish)


@pytest.mark.parametrize("seed", SEEDS)
def test_cp_sat_finds_the_same_earliest_and_latest_starts(seed: int) -> None:
    durations, edges, spare = random_network(seed)
    own = schedule_network(durations, edges)
    deadline = int(own.finish) + abs(spare)
    plan = schedule_network(durations, edges, deadline=deadline)
    earliest = optimal_starts(durations, edges, deadline, latest=False)
    latest = optimal_starts(durations, edges, deadline, latest=True)
    assert {name: at.earliest_start for name, at in plan.times.items()} == earliest
    assert {name: at.latest_start for name, at in plan.times.items()} == latest


@pytest.mark.parametrize("seed", range(20))
def test_cp_sat_can_not_finish_sooner(seed: int) -> None:
    durations, edges, _ = random_network(seed)
    finish = int(schedule_network(durations, edges).finish)
    assert optimal_starts(durations, edges, finish, latest=False) is not None
    assert finish == 0 or optimal_starts(durations, edges, finish - 1, latest=False) is None


def optimal_starts(durations: Durations, edges: Edges, deadline: int, *, latest: bool) -> Starts | None:
    """All starts, their sum as small (or large) as can be; None when no schedule keeps the deadline."""
    if any(duration > deadline for duration in durations.values()):
        return None
    model = cp_model.CpModel()
    starts = {name: model.new_int_var(0, deadline - durations[name], name) for name in durations}
    for a, b, lag in edges:
        model.add(starts[b] >= starts[a] + durations[a] + lag)
    total = sum(starts.values())
    if latest:
        model.maximize(total)
    else:
        model.minimize(total)
    solver = cp_model.CpSolver()
    solver.parameters.num_workers = 1
    solver.parameters.max_time_in_seconds = 30
    status = solver.solve(model)
    if status == cp_model.INFEASIBLE:
        return None
    assert status == cp_model.OPTIMAL
    return {name: solver.value(start) for name, start in starts.items()}
