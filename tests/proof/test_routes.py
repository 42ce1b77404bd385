"""Shortest ways in time, against networkx on graphs with routes side by side, one-way routes and islands."""

from __future__ import annotations

from typing import Any

import networkx as nx
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.proof.moving.routes import Routes, Way
from tests.travel_world import library, networks

PACES = {False: 0.1, True: 0.05}  # 6 m/min and 3 m/min
PROGRAMME = {"p": {"title": "P", "sorties": ["s"], "paces": {"outside": "6 m/min", "loaded": "3 m/min"}}}


def routes_of(**net: Any) -> Routes:
    return Routes(library({"programme": PROGRAMME, **net}))


def seconds_of(route: dict[str, Any], loaded: bool) -> float:
    """Its own time, or else its length over the pace."""
    if "time" in route:
        return float(route["time"].split()[0])
    return float(route["length"].split()[0]) / PACES[loaded]


def graph_of(net: dict[str, Any], loaded: bool) -> nx.MultiDiGraph[str]:
    """Every route as an edge of its own, in each direction in which it leads."""
    graph: nx.MultiDiGraph[str] = nx.MultiDiGraph()
    graph.add_nodes_from(net["places"])
    for name, route in net["routes"].items():
        ends = [route["between"]] if route.get("one_way") else [route["between"], route["between"][::-1]]
        graph.add_edges_from((*pair, {"weight": seconds_of(route, loaded), "name": name}) for pair in ends)
    return graph


@settings(max_examples=300, deadline=None)
@given(networks(), st.booleans())
def test_ways_take_the_time_that_networkx_finds(net: dict[str, Any], loaded: bool) -> None:
    routes, graph = routes_of(**net), graph_of(net, loaded)
    for start in net["places"]:
        expected = nx.single_source_dijkstra_path_length(graph, start)
        for end in net["places"]:
            way = routes.way(start, end, loaded)
            assert (way is not None) == (end in expected)
            assert way is None or way.seconds == pytest.approx(expected[end])


@settings(max_examples=300, deadline=None)
@given(networks(), st.booleans())
def test_a_way_is_a_chain_of_routes_that_lead_on_and_add_up(net: dict[str, Any], loaded: bool) -> None:
    routes = routes_of(**net)
    for start in net["places"]:
        for end in net["places"]:
            way = routes.way(start, end, loaded)
            if way is not None:
                check_chain(net, way, start, end, loaded)


def check_chain(net: dict[str, Any], way: Way, start: str, end: str, loaded: bool) -> None:
    taken = [net["routes"][name] for name in way.routes]
    assert (way.places[0], way.places[-1]) == (start, end)
    assert len(way.places) == len(taken) + 1
    for (one, other), route in zip(zip(way.places, way.places[1:], strict=False), taken, strict=True):
        assert [one, other] == route["between"] or ([other, one] == route["between"] and not route.get("one_way"))
    assert way.seconds == pytest.approx(sum(seconds_of(route, loaded) for route in taken))
    assert way.metres == pytest.approx(sum(float(route["length"].split()[0]) for route in taken))


def test_with_a_bag_another_route_may_be_the_fastest() -> None:
    places: dict[str, Any] = {"lock": {"home": True}, "k1": {}}
    routes = routes_of(places=places, routes={
        "rail": {"between": ["lock", "k1"], "length": "6 m"},
        "trolley": {"between": ["lock", "k1"], "length": "9 m", "time": "90 s"},
    })  # fmt: skip
    assert routes.way("lock", "k1") == Way(60, 6, ("lock", "k1"), ("rail",))
    assert routes.way("lock", "k1", loaded=True) == Way(90, 9, ("lock", "k1"), ("trolley",))


def test_a_place_without_routes_is_reached_from_nowhere_but_itself() -> None:
    routes = routes_of(places={"lock": {"home": True}, "tip": {}}, routes={})
    assert routes.way("lock", "tip") is None
    assert routes.way("tip", "lock") is None
    assert routes.way("tip", "tip") == Way(0, 0, ("tip",), ())
    assert not routes.touches("tip")


def test_a_route_to_a_place_that_does_not_exist_leads_nowhere() -> None:
    routes = routes_of(places={"lock": {"home": True}}, routes={"r": {"between": ["lock", "gone"], "length": "2 m"}})
    assert routes.way("lock", "gone") is None
    assert not routes.touches("lock")
