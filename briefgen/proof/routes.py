"""Shortest ways between places, by time and by length. Dijkstra's algorithm (networkx), one source at a time.

Times in seconds, lengths in metres.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from functools import lru_cache
from itertools import pairwise

import networkx as nx

from briefgen.model.library import Library
from briefgen.model.world import Route


@dataclass(frozen=True)
class Way:
    """A way between two places: seconds and metres, the places passed (both ends included), the routes taken."""

    seconds: float
    metres: float
    places: tuple[str, ...]
    routes: tuple[str, ...]


@dataclass(frozen=True)
class _Edge:
    route: Route
    metres: float
    seconds: Mapping[bool, float]


class Routes:
    """All routes of a library; answers are kept, so that asking again is free."""

    def __init__(self, library: Library) -> None:
        paces = library.programme.paces if library.programme else None
        self._pace = {False: float(paces.outside) if paces else 0.15, True: float(paces.loaded) if paces else 0.15}
        self._graph: nx.DiGraph[str] = nx.DiGraph()
        for route in library.routes.values():
            self._join(library, route)
        self._from = lru_cache(maxsize=None)(self._ways_from)
        self._by_length = lru_cache(maxsize=None)(self._lengths_from)

    def _join(self, library: Library, route: Route) -> None:
        first, second = map(str, route.between)
        if first not in library.places or second not in library.places:
            return
        metres = float(route.length)
        seconds = {loaded: route.time.likely if route.time else metres / pace for loaded, pace in self._pace.items()}
        for start, end in [(first, second)] if route.one_way else [(first, second), (second, first)]:
            known = self._graph.get_edge_data(start, end)
            if known is None or seconds[False] < known["edge"].seconds[False]:
                edge = _Edge(route, metres, seconds)
                self._graph.add_edge(start, end, edge=edge, metres=metres, free=seconds[False], loaded=seconds[True])

    def touches(self, place: str) -> bool:
        """Whether any route leads to or from the place."""
        return place in self._graph and bool(self._graph.degree(place))

    def way(self, start: str, end: str, loaded: bool = False) -> Way | None:
        """The way that takes the shortest time, or None where there is none."""
        if start == end:
            return Way(0.0, 0.0, (start,), ())
        return self._from(start, loaded).get(end)

    def metres(self, start: str, end: str) -> float | None:
        """The length of the shortest way by length, or None where there is none."""
        if start == end:
            return 0.0
        return self._by_length(start).get(end)

    def _ways_from(self, start: str, loaded: bool) -> dict[str, Way]:
        if start not in self._graph:
            return {}
        weight = "loaded" if loaded else "free"
        times, paths = nx.single_source_dijkstra(self._graph, start, weight=weight)
        return {end: self._way(times[end], path) for end, path in paths.items()}

    def _way(self, seconds: float, path: list[str]) -> Way:
        edges = [self._graph.edges[pair]["edge"] for pair in pairwise(path)]
        return Way(
            seconds, sum(edge.metres for edge in edges), tuple(path), tuple(str(edge.route.id) for edge in edges)
        )

    def _lengths_from(self, start: str) -> dict[str, float]:
        if start not in self._graph:
            return {}
        return dict(nx.single_source_dijkstra_path_length(self._graph, start, weight="metres"))
