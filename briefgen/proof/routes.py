"""The ways between places that take the shortest time. Dijkstra's algorithm (networkx), one source at a time.

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


class Routes:
    """All routes of a library; answers are kept, so that asking again is free."""

    def __init__(self, library: Library) -> None:
        paces = library.programme.paces if library.programme else None
        self._pace = {False: float(paces.outside) if paces else 0.15, True: float(paces.loaded) if paces else 0.15}
        self._graphs: Mapping[bool, nx.DiGraph[str]] = {False: nx.DiGraph(), True: nx.DiGraph()}
        for route in library.routes.values():
            self._join(library, route)
        self._from = lru_cache(maxsize=None)(self._ways_from)

    def _join(self, library: Library, route: Route) -> None:
        first, second = map(str, route.between)
        if first not in library.places or second not in library.places:
            return
        for start, end in [(first, second)] if route.one_way else [(first, second), (second, first)]:
            # Of routes side by side, another one may be the fastest with a bag than without.
            for loaded, graph in self._graphs.items():
                seconds = route.time.likely if route.time else float(route.length) / self._pace[loaded]
                known = graph.get_edge_data(start, end)
                if known is None or seconds < known["seconds"]:
                    graph.add_edge(start, end, route=route, seconds=seconds)

    def touches(self, place: str) -> bool:
        """Whether any route leads to or from the place."""
        return place in self._graphs[False]

    def way(self, start: str, end: str, loaded: bool = False) -> Way | None:
        """The way that takes the shortest time, or None where there is none."""
        if start == end:
            return Way(0.0, 0.0, (start,), ())
        return self._from(start, loaded).get(end)

    def _ways_from(self, start: str, loaded: bool) -> dict[str, Way]:
        graph = self._graphs[loaded]
        if start not in graph:
            return {}
        times, paths = nx.single_source_dijkstra(graph, start, weight="seconds")
        return {end: self._way(graph, times[end], path) for end, path in paths.items()}

    def _way(self, graph: nx.DiGraph[str], seconds: float, path: list[str]) -> Way:
        routes = [graph.edges[pair]["route"] for pair in pairwise(path)]
        metres = sum(float(route.length) for route in routes)
        return Way(seconds, metres, tuple(path), tuple(str(route.id) for route in routes))
