"""What a step finds: the last change before it, what races with it, and rivals for being the last."""

from __future__ import annotations

import random

import networkx as nx
import pytest

from briefgen.proof.ordering.happens_before import order
from briefgen.proof.ordering.reliance import Found, Reliance

CHAINS = {"ev1": [0, 1, 2], "ev2": [3, 4, 5]}


def reliance(changes: dict[int, str], links: list[tuple[int, int]]) -> Reliance[str, str]:
    return Reliance(order(6, CHAINS, links), {"door": "shut"}, {"door": changes})


def test_without_a_change_the_start_holds() -> None:
    assert reliance({}, []).at("door", 4) == Found("shut", None)


def test_the_last_change_of_the_same_person_is_found() -> None:
    found = reliance({0: "open", 1: "shut"}, []).at("door", 2)
    assert found == Found("shut", 1)
    assert found.certain


def test_a_steps_own_change_comes_after_what_it_finds() -> None:
    assert reliance({1: "open"}, []).at("door", 1) == Found("shut", None)


def test_a_change_of_somebody_else_races_unless_it_is_ordered() -> None:
    assert reliance({1: "open"}, []).at("door", 4) == Found("shut", None, racing=(1,))
    assert reliance({1: "open"}, [(1, 4)]).at("door", 4) == Found("open", 1)
    assert reliance({1: "open"}, [(4, 1)]).at("door", 4) == Found("shut", None)


def test_an_order_through_a_third_step_counts() -> None:
    assert reliance({0: "open"}, [(1, 3)]).at("door", 5) == Found("open", 0)


def test_unordered_changes_before_a_step_are_rivals_even_if_they_agree() -> None:
    found = reliance({0: "open", 3: "open"}, [(0, 5)]).at("door", 5)
    assert found == Found("open", 0, rivals=(0, 3))
    assert not found.certain


def test_of_ordered_changes_before_a_step_the_later_one_counts() -> None:
    assert reliance({0: "open", 3: "ajar"}, [(0, 3)]).at("door", 5) == Found("ajar", 3)


def test_the_end_comes_after_everything() -> None:
    assert reliance({0: "open", 3: "ajar"}, [(3, 0)]).finally_("door") == Found("open", 0)
    assert reliance({0: "open", 3: "ajar"}, []).finally_("door").rivals == (0, 3)


@pytest.mark.parametrize("seed", range(300))
def test_answers_are_those_of_a_search_through_the_whole_graph(seed: int) -> None:
    rng = random.Random(seed)
    count = rng.randint(2, 20)
    chains = {name: sorted(rng.sample(range(count), rng.randint(1, count))) for name in ("ev1", "ev2", "iv")}
    idle = set(range(count)) - {step for chain in chains.values() for step in chain}
    chains["ground"] = sorted(idle) or [0]
    pairs = [(one, other) for one in range(count) for other in range(one + 1, count)]
    links = rng.sample(pairs, min(len(pairs), rng.randint(0, 5)))
    graph = nx.DiGraph(links)
    graph.add_nodes_from(range(count))
    for chain in chains.values():
        nx.add_path(graph, chain)
    changes = {step: f"by {step}" for step in rng.sample(range(count), rng.randint(1, min(5, count)))}
    known = Reliance(order(count, chains, links), {"door": "shut"}, {"door": changes})
    for step in range(count):
        before = [one for one in changes if one in nx.ancestors(graph, step)]
        last = [one for one in before if not nx.descendants(graph, one) & set(before)]
        beside = [one for one in changes if one not in nx.descendants(graph, step) | set(before) | {step}]
        found = known.at("door", step)
        assert found.racing == tuple(sorted(beside))
        assert found.rivals == (tuple(sorted(last)) if len(last) > 1 else ())
        assert found.source == (min(last) if last else None)
        assert found.value == (changes[min(last)] if last else "shut")
