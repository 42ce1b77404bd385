"""Which steps are over before others: vector clocks against reachability in networkx, and circles named."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from briefgen.proof.ordering.happens_before import Order, order
from briefgen.proof.schedule.network import CircleFound

Chains = dict[str, list[int]]
Links = list[tuple[int, int]]


def random_steps(seed: int) -> tuple[int, Chains, Links]:
    """Up to 25 steps on up to 4 chains, some of them joint; links only forward, so that there is no circle."""
    rng = random.Random(seed)
    count, people = rng.randint(1, 25), [f"p{n}" for n in range(rng.randint(1, 4))]
    chains: Chains = {person: [] for person in people}
    for step in range(count):
        for person in rng.sample(people, rng.choice([1, 1, 1, len(people)])):
            chains[person].append(step)
    pairs = [(one, other) for one in range(count) for other in range(one + 1, count)]
    return count, chains, rng.sample(pairs, min(len(pairs), rng.randint(0, 8)))


def graph_of(count: int, chains: Chains, links: Links) -> nx.DiGraph[int]:
    graph: nx.DiGraph[int] = nx.DiGraph(links)
    graph.add_nodes_from(range(count))
    for chain in chains.values():
        nx.add_path(graph, chain)
    return graph


@pytest.mark.parametrize("seed", range(300))
def test_a_step_is_before_another_where_networkx_finds_a_path(seed: int) -> None:
    count, chains, links = random_steps(seed)
    graph, found = graph_of(count, chains, links), order(count, chains, links)
    for step in range(count):
        later = nx.descendants(graph, step)
        assert {other for other in range(count) if found.before(step, other)} == later
        assert not found.before(step, step)


@pytest.mark.parametrize("seed", range(300))
def test_what_may_run_beside_a_step_is_one_stretch_of_every_chain(seed: int) -> None:
    count, chains, links = random_steps(seed)
    graph, found = graph_of(count, chains, links), order(count, chains, links)
    for step in range(count):
        ordered = nx.ancestors(graph, step) | nx.descendants(graph, step)
        for person, chain in chains.items():
            low, high = found.beside(step, person)
            assert [one for one in chain[low:high] if one != step] == [
                one for one in chain if one not in ordered and one != step
            ]
            assert all(found.ordered(step, one) == (one in ordered) for one in chain if one != step)


@pytest.mark.parametrize("seed", range(50))
def test_the_sequence_keeps_every_order(seed: int) -> None:
    count, chains, links = random_steps(seed)
    found = order(count, chains, links)
    place = {step: number for number, step in enumerate(found.sequence)}
    assert sorted(found.sequence) == list(range(count))
    assert all(place[one] < place[other] for one, other in graph_of(count, chains, links).edges)


def circle_of(count: int, chains: Chains, links: Links) -> tuple[object, ...]:
    with pytest.raises(CircleFound) as caught:
        order(count, chains, links)
    return caught.value.circle


def test_a_link_back_along_a_flow_closes_a_circle() -> None:
    assert circle_of(3, {"ev1": [0, 1, 2]}, [(2, 0)]) == (0, 1, 2)


def test_two_joint_steps_in_contrary_order_close_a_circle() -> None:
    assert circle_of(2, {"ev1": [0, 1], "ev2": [1, 0]}, []) == (0, 1)


def test_a_step_that_waits_for_itself_is_a_circle() -> None:
    assert circle_of(1, {"ev1": [0]}, [(0, 0)]) == (0,)


def test_the_order_of_nothing_is_nothing() -> None:
    assert order(0, {}, []) == Order({}, (), (), (), (), {})
