"""The critical path method against published networks, a second route, and what must be so."""

from __future__ import annotations

import doctest
import itertools
import random
import subprocess
import sys
from pathlib import Path
from typing import TypeAlias

import networkx as nx
import pytest
from hypothesis import given
from hypothesis import strategies as st

from briefgen.proof.schedule import network
from briefgen.proof.schedule.network import (
    CircleFound,
    NetworkSchedule,
    pert_mean,
    schedule_network,
    topological_order,
)

Durations: TypeAlias = dict[str, float]
Edges: TypeAlias = list[tuple[str, str, float]]


def on_nodes(table: str) -> tuple[Durations, Edges]:
    """A network written "A 6; B 2 A": a name, a duration, and the names that come before."""
    rows = [row.split() for row in table.split(";")]
    durations = {name: float(duration) for name, duration, *_ in rows}
    return durations, [(before, name, 0.0) for name, _, *befores in rows for before in befores]


def on_arrows(table: str) -> tuple[Durations, Edges]:
    """A network of arrows written "1-2 7; 2-4 6": an arrow becomes a node, ahead of those at its head."""
    durations = {row.split()[0]: float(row.split()[1]) for row in table.split(";")}
    pairs = itertools.permutations(durations, 2)
    return durations, [(a, b, 0.0) for a, b in pairs if a.split("-")[1] == b.split("-")[0]]


def dates(plan: NetworkSchedule[str]) -> dict[str, tuple[float, float, float, float]]:
    return {
        name: (at.earliest_start, at.earliest_finish, at.latest_start, at.latest_finish)
        for name, at in plan.times.items()
    }


def paths(durations: Durations, edges: Edges) -> list[tuple[str, ...]]:
    """Every path from a node without predecessor to one without successor, by plain enumeration."""
    after = {name: [b for a, b, _ in edges if a == name] for name in durations}
    complete: list[tuple[str, ...]] = []
    growing: list[tuple[str, ...]] = [(name,) for name in durations if all(b != name for _, b, _ in edges)]
    while growing:
        path = growing.pop()
        growing += [(*path, name) for name in after[path[-1]]]
        if not after[path[-1]]:
            complete.append(path)
    return complete


# Networks whose page prints dates. In every row: name: ES, EF, LS, LF.
N1 = on_nodes("A 6; B 2 A; C 2 A; D 3 B; F 2 C; E 4 D F; G 1 E")
N2 = on_nodes("A 4; B 3 A; C 5 A; D 2 A; E 5 B C; F 6 C D; G 4 E F; H 3 G")
N3 = on_nodes("A 4; B 6 A; C 3 A; D 6 B; E 14 D; F 5 C; G 2 E F; H 2 G; I 3 G; J 4 H I; K 2 J")
N4 = on_nodes("A 7; B 8; C 3 A; D 1 A; E 4 B; F 5 B; G 11 C E; H 7 D F")
N5 = on_arrows("1-2 7; 1-3 10; 2-4 6; 3-4 5; 3-5 4; 4-5 3; 5-6 2")
TABLE = "1-2 8; 1-3 10; 1-4 9; 2-5 6; 2-6 4; 3-5 5; 4-5 0; 4-7 7; 5-7 12; 5-8 15; 6-9 18; 7-8 4; 8-9 7"
N6 = on_arrows(TABLE)


def test_example_of_seven_activities_gets_its_published_dates() -> None:
    # Source: studylib document 8378728, Example 1, tables 1 and 2.
    plan = schedule_network(*N1)
    assert plan.finish == 16
    assert plan.chain == ("A", "B", "D", "E", "G")
    assert plan.critical == set("ABDEG")
    assert dates(plan) == {
        "A": (0, 6, 0, 6),
        "B": (6, 8, 6, 8),
        "C": (6, 8, 7, 9),
        "D": (8, 11, 8, 11),
        "E": (11, 15, 11, 15),
        "F": (8, 10, 9, 11),
        "G": (15, 16, 15, 16),
    }
    assert {name: at.total_slack for name, at in plan.times.items() if at.total_slack} == {"C": 1, "F": 1}


def test_example_of_eight_activities_gets_its_published_dates() -> None:
    # Source: slideplayer presentation 3283910, second network (its edges come from the four paths it lists).
    plan = schedule_network(*N2)
    assert plan.finish == 22
    assert plan.chain == ("A", "C", "F", "G", "H")
    assert dates(plan) == {
        "A": (0, 4, 0, 4),
        "B": (4, 7, 7, 10),
        "C": (4, 9, 4, 9),
        "D": (4, 6, 7, 9),
        "E": (9, 14, 10, 15),
        "F": (9, 15, 9, 15),
        "G": (15, 19, 15, 19),
        "H": (19, 22, 19, 22),
    }


def test_example_of_eleven_activities_gets_its_published_dates() -> None:
    # Source: slideplayer presentation 3283910, first network. Its edges were read back from its dates, so
    # this is a weaker check than the others.
    plan = schedule_network(*N3)
    assert plan.finish == 41
    published = {"C": (4, 7, 22, 25), "F": (7, 12, 25, 30), "H": (32, 34, 33, 35), "K": (39, 41, 39, 41)}
    assert {name: row for name, row in dates(plan).items() if name in published} == published
    assert (plan.times["F"].total_slack, plan.times["H"].total_slack) == (18, 1)


def test_textbook_exercise_gets_its_published_dates_but_for_one_misprint() -> None:
    # Source: a homework page on a textbook exercise (laser scanner), 23 weeks.
    durations, edges = N4
    plan = schedule_network(durations, edges)
    assert plan.finish == 23
    assert plan.chain == ("B", "E", "G")
    assert [at.earliest_finish for at in plan.times.values()] == [7, 8, 10, 8, 12, 13, 23, 20]
    # The page prints 16/20 for H. Nothing follows H, so by enumeration of what is left behind it:
    tail = max(sum(durations[n] for n in path[path.index("H") + 1 :]) for path in paths(*N4) if "H" in path)
    right = 23 - tail
    assert right != 20
    assert (plan.times["H"].latest_start, plan.times["H"].latest_finish) == (16, right)


@pytest.mark.parametrize(
    ("arrows", "finish", "slack", "chain"),
    [
        # Source: a management-science textbook, solutions to chapter 8, two neighbouring problems. The second
        # one's path follows from its zero slacks.
        (N5, 20, [2, 0, 2, 0, 4, 0, 0], ("1-3", "3-4", "4-5", "5-6")),
        (N6, 38, [1, 0, 6, 1, 8, 0, 6, 11, 0, 1, 8, 0, 0], ("1-3", "3-5", "5-7", "7-8", "8-9")),
    ],
)
def test_networks_on_arrows_get_their_published_slacks(
    arrows: tuple[Durations, Edges], finish: float, slack: list[float], chain: tuple[str, ...]
) -> None:
    plan = schedule_network(*arrows)
    assert plan.finish == finish
    assert [at.total_slack for at in plan.times.values()] == slack
    assert plan.chain == chain


@pytest.mark.parametrize("published", [N1, N2, N3, N4, N5, N6])
def test_published_networks_agree_with_path_enumeration(published: tuple[Durations, Edges]) -> None:
    durations, edges = published
    plan = schedule_network(durations, edges)
    lengths = {path: sum(durations[name] for name in path) for path in paths(durations, edges)}
    assert plan.finish == max(lengths.values())
    for name, at in plan.times.items():
        through = [length for path, length in lengths.items() if name in path]
        assert at.total_slack == plan.finish - max(through)


# Three-point estimates. Tolerance 0.002 on a probability: printed answers round Z to two places.
P1_POINTS = {
    "A": (5, 5, 7),
    "B": (1, 2, 5),
    "C": (5, 5, 5),
    "D": (4, 8, 13),
    "E": (1, 10, 17),
    "F": (1, 5, 7),
    "G": (2, 6, 9),
    "H": (4, 4, 6),
    "I": (2, 7, 10),
    "J": (2, 4, 7),
    "K": (6, 10, 13),
    "L": (2, 6, 6),
    "M": (2, 2, 3),
    "N": (7, 7, 12),
}
P1_BEFORE = {
    "C": "A",
    "D": "A",
    "E": "BC",
    "F": "D",
    "G": "D",
    "H": "EF",
    "I": "GH",
    "J": "I",
    "K": "I",
    "L": "J",
    "M": "K",
    "N": "LM",
}


def test_network_of_fourteen_three_point_estimates_gets_its_published_answers() -> None:
    # Source: published worked example of fourteen activities A to N; its page's title was not kept.
    durations = {name: pert_mean(*points) for name, points in P1_POINTS.items()}
    plan = schedule_network(durations, [(a, b, 0.0) for b, befores in P1_BEFORE.items() for a in befores])
    assert plan.finish == pytest.approx(50.83, abs=0.005)
    assert "".join(plan.chain) == "ACEHIKMN"
    assert plan.critical == set("ACEHIKMN")
    slack = {name: round(at.total_slack, 2) for name, at in plan.times.items() if at.total_slack}
    assert slack == {"B": 8.00, "D": 1.83, "F": 1.83, "G": 5.00, "J": 2.50, "L": 2.50}


def test_three_close_paths_get_their_published_means_and_chain() -> None:
    # Source: published worked example of four activities and three paths; its page's title was not kept.
    points = {"A": (4, 16, 24), "B": (8, 17, 21), "C": (7, 15, 17), "D": (12, 20, 29)}
    means = {name: pert_mean(*p) for name, p in points.items()}
    assert [round(mean, 4) for mean in means.values()] == [15.3333, 16.1667, 14, 20.1667]
    plan = schedule_network(means, [("A", "C", 0), ("B", "C", 0), ("B", "D", 0)])
    assert plan.chain == ("B", "D")


def test_points_that_do_not_rise_are_refused() -> None:
    with pytest.raises(ValueError, match="do not rise"):
        pert_mean(3, 2, 4)


# What must be so of every network.
@st.composite
def networks(draw: st.DrawFn) -> tuple[Durations, Edges]:
    size = draw(st.integers(1, 12))
    names = draw(st.permutations([f"n{i}" for i in range(size)]))
    amount = st.integers(0, 40).map(float)
    durations = {name: draw(amount) for name in sorted(names)}
    pairs = st.tuples(st.integers(0, size - 1), st.integers(0, size - 1)).filter(lambda p: p[0] < p[1])
    ends = draw(st.lists(pairs, max_size=25)) if size > 1 else []
    return durations, [(names[i], names[j], draw(st.sampled_from([0.0, 0.0, 5.0, 17.0]))) for i, j in ends]


@given(networks())
def test_every_lag_is_kept_and_every_start_but_the_first_is_bound(net: tuple[Durations, Edges]) -> None:
    durations, edges = net
    plan = schedule_network(durations, edges)
    for a, b, lag in edges:
        assert plan.times[b].earliest_start >= plan.times[a].earliest_finish + lag
        assert plan.times[a].latest_finish <= plan.times[b].latest_start - lag
    for name, at in plan.times.items():
        assert at.earliest_finish - at.earliest_start == durations[name]
        incoming = [edge for edge in edges if edge[1] == name]
        ready = [plan.times[a].earliest_finish + lag for a, _, lag in incoming]
        assert at.earliest_start == max(ready, default=0)
        assert at.binding == (incoming[ready.index(max(ready))] if ready else None)


@given(networks())
def test_the_chain_runs_unbroken_from_start_to_finish_over_critical_nodes(
    net: tuple[Durations, Edges],
) -> None:
    durations, edges = net
    plan = schedule_network(durations, edges)
    assert set(plan.chain) <= plan.critical
    assert plan.times[plan.chain[0]].earliest_start == 0
    assert all(b != plan.chain[0] for _, b, _ in edges)
    assert all(a != plan.chain[-1] for a, _, _ in edges)
    assert plan.times[plan.chain[-1]].earliest_finish == plan.finish
    for before, after in itertools.pairwise(plan.chain):
        lags = [lag for a, b, lag in edges if (a, b) == (before, after)]
        gap = plan.times[after].earliest_start - plan.times[before].earliest_finish
        assert gap == max(lags)


@given(networks(), st.data())
def test_slack_is_exactly_how_far_a_node_may_slip(net: tuple[Durations, Edges], data: st.DataObject) -> None:
    durations, edges = net
    plan = schedule_network(durations, edges)
    name = data.draw(st.sampled_from(sorted(durations)))
    slack, free = plan.times[name].total_slack, plan.times[name].free_slack
    assert 0 <= free <= slack

    def slipped(by: float) -> NetworkSchedule[str]:
        return schedule_network({**durations, name: durations[name] + by}, edges)

    assert slipped(slack).finish == plan.finish
    assert slipped(slack + 7).finish == plan.finish + 7
    others = [other for other in durations if other != name]
    kept = slipped(free)
    assert [kept.times[o].earliest_start for o in others] == [plan.times[o].earliest_start for o in others]
    late = slipped(free + 1)
    moved = [late.times[o].earliest_start > plan.times[o].earliest_start for o in others]
    assert any(moved) or late.finish > plan.finish


@given(networks(), st.integers(-500, 500))
def test_a_deadline_moves_all_latest_times_alike(net: tuple[Durations, Edges], spare: int) -> None:
    plan = schedule_network(*net)
    against = schedule_network(*net, deadline=plan.finish + spare)
    assert (against.finish, against.chain, against.critical) == (plan.finish, plan.chain, plan.critical)
    for name, at in plan.times.items():
        moved = against.times[name]
        assert moved.earliest_start == at.earliest_start
        assert moved.free_slack == at.free_slack
        assert moved.latest_start == at.latest_start + spare
        assert moved.total_slack == at.total_slack + spare


@given(networks(), st.randoms(use_true_random=False))
def test_times_do_not_depend_on_the_listing(net: tuple[Durations, Edges], rng: random.Random) -> None:
    durations, edges = net
    names, shuffled = list(durations), list(edges)
    rng.shuffle(names)
    rng.shuffle(shuffled)
    assert dates(schedule_network({n: durations[n] for n in names}, shuffled)) == dates(
        schedule_network(durations, edges)
    )


@given(networks())
def test_the_order_puts_every_node_after_what_it_waits_for(net: tuple[Durations, Edges]) -> None:
    durations, edges = net
    order = topological_order(durations, [(a, b) for a, b, _ in edges])
    assert sorted(order) == sorted(durations)
    assert all(order.index(a) < order.index(b) for a, b, _ in edges)


@given(
    st.lists(
        st.tuples(st.integers(0, 300), st.integers(0, 300), st.integers(0, 300)).map(sorted),
        min_size=1,
        max_size=30,
    )
)
def test_the_rounding_of_uneven_means_leaves_no_slack_on_the_chain(points: list[list[int]]) -> None:
    durations = {i: pert_mean(*p) for i, p in enumerate(points)}
    forward = [(i, i + 1, 1 / 3) for i in range(len(points) - 1)]
    plan = schedule_network(durations, forward)
    assert plan.critical == set(durations)
    assert {at.total_slack for at in plan.times.values()} == {0.0}


def test_of_two_edges_that_bind_alike_the_first_listed_is_named() -> None:
    durations = {"own": 5.0, "other": 5.0, "meet": 1.0}
    own_first = schedule_network(durations, [("own", "meet", 0), ("other", "meet", 0)])
    other_first = schedule_network(durations, [("other", "meet", 0), ("own", "meet", 0)])
    assert own_first.times["meet"].binding == ("own", "meet", 0)
    assert other_first.times["meet"].binding == ("other", "meet", 0)


def test_the_chain_includes_what_takes_no_time_at_its_ends() -> None:
    plan = schedule_network({"work": 5, "end": 0, "begin": 0}, [("begin", "work", 0), ("work", "end", 0)])
    assert plan.chain == ("begin", "work", "end")


def test_whoever_is_free_first_comes_first_and_ties_keep_the_given_order() -> None:
    assert topological_order("dbac", []) == ("d", "b", "a", "c")
    assert topological_order("dbac", [("d", "c")]) == ("d", "b", "a", "c")
    assert topological_order("dbac", [("c", "d")]) == ("b", "a", "c", "d")


def test_a_missed_deadline_shows_as_negative_slack() -> None:
    plan = schedule_network({"a": 60, "b": 30}, [("a", "b", 10)], deadline=90)
    assert [at.total_slack for at in plan.times.values()] == [-10, -10]
    assert plan.critical == {"a", "b"}


def test_an_empty_network_is_finished_at_once() -> None:
    nothing: Durations = {}
    plan = schedule_network(nothing, [])
    assert (plan.finish, plan.chain, plan.critical, dict(plan.times)) == (0, (), frozenset(), {})


@pytest.mark.parametrize(
    ("durations", "edges", "deadline", "says"),
    [
        ({"a": -1}, [], None, "'a' has the time -1"),
        ({"a": float("nan")}, [], None, "'a' has the time nan"),
        ({"a": float("inf")}, [], None, "'a' has the time inf"),
        ({"a": 1, "b": 1}, [("a", "b", -0.5)], None, "has the time -0.5"),
        ({"a": 1}, [("a", "z", 0)], None, "'z', which has no duration"),
        ({"a": 1}, [("y", "a", 0)], None, "'y', which has no duration"),
        ({"a": 1}, [], float("nan"), "deadline nan is not a time"),
    ],
)
def test_a_network_that_makes_no_sense_is_refused(
    durations: Durations, edges: Edges, deadline: float | None, says: str
) -> None:
    with pytest.raises(ValueError, match=says):
        schedule_network(durations, edges, deadline)


# Circles.
def circle_of(edges: list[tuple[str, str]], nodes: str) -> tuple[object, ...]:
    with pytest.raises(CircleFound) as caught:
        topological_order(nodes, edges)
    return caught.value.circle


def test_a_circle_is_told_in_order_from_its_first_given_node() -> None:
    edges = [("c", "a"), ("a", "b"), ("b", "c"), ("c", "d")]
    assert circle_of(edges, "abcd") == ("a", "b", "c")
    assert circle_of(edges, "dcba") == ("c", "a", "b")


def test_a_node_ahead_of_itself_is_a_circle_of_one() -> None:
    assert circle_of([("a", "b"), ("b", "b")], "ab") == ("b",)


def test_what_lies_before_and_behind_a_circle_is_no_part_of_it() -> None:
    assert circle_of([("a", "b"), ("b", "c"), ("c", "b"), ("c", "d"), ("d", "e")], "edcba") == ("c", "b")


def test_the_shorter_way_round_is_told() -> None:
    edges = [("a", "b"), ("b", "c"), ("c", "d"), ("d", "e"), ("e", "a"), ("b", "e")]
    assert circle_of(edges, "abcde") == ("a", "b", "e")
    assert circle_of(edges[::-1], "abcde") == ("a", "b", "e")
    edges = [("a", "b"), ("b", "c"), ("c", "a"), ("a", "x"), ("x", "a")]
    assert circle_of(edges, "abcx") == ("a", "x")
    assert circle_of(edges[::-1], "abcx") == ("a", "x")


def test_the_message_closes_the_circle() -> None:
    with pytest.raises(CircleFound, match=r"^circle: a -> b -> a$"):
        schedule_network({"a": 1, "b": 1}, [("a", "b", 0), ("b", "a", 0)])


@given(
    st.integers(1, 9).flatmap(
        lambda n: st.tuples(
            st.just([f"n{i}" for i in range(n)]),
            st.lists(st.tuples(st.integers(0, n - 1), st.integers(0, n - 1)), max_size=20),
        )
    )
)
def test_a_circle_is_found_exactly_when_there_is_one(graph: tuple[list[str], list[tuple[int, int]]]) -> None:
    names, pairs = graph
    edges = [(names[i], names[j]) for i, j in pairs]
    judge = nx.DiGraph(edges)
    found: list[str] | None = None
    try:
        topological_order(names, edges)
    except CircleFound as circle_found:
        found = [str(node) for node in circle_found.circle]
    assert (found is None) == nx.is_directed_acyclic_graph(judge)
    if found is not None:
        assert len(set(found)) == len(found)
        assert all(judge.has_edge(a, b) for a, b in itertools.pairwise([*found, found[0]]))
        assert found[0] == min(found, key=names.index)


def test_results_do_not_depend_on_the_seed_of_string_hashes() -> None:
    script = (
        "import random; from briefgen.proof.schedule.network import *\n"
        "r = random.Random(4); names = [f'step-{i}' for i in range(60)]\n"
        "ends = [sorted(r.sample(range(60), 2)) for _ in range(90)]\n"
        "plan = schedule_network({n: 5 for n in names}, [(names[a], names[b], 0) for a, b in ends])\n"
        "print(plan.chain, [at.binding for at in plan.times.values()])\n"
        "try: topological_order(names, [tuple(r.sample(names, 2)) for _ in range(200)])\n"
        "except CircleFound as found: print(found.circle)\n"
    )
    root = Path(__file__).parents[2]
    told = {
        subprocess.run(
            [sys.executable, "-c", script],
            env={"PYTHONHASHSEED": seed},
            cwd=root,
            capture_output=True,
            text=True,
            check=True,
        ).stdout
        for seed in ("1", "2", "3")
    }
    assert len(told) == 1
    assert told.pop().count("\n") == 2


def test_the_examples_in_the_docstrings_hold() -> None:
    result = doctest.testmod(network)
    assert result.attempted > 0
    assert result.failed == 0
