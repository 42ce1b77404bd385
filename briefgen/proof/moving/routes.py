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
        self.way = lru_cache(maxsize=None)(self._way)

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

    def _way(self, start: str, end: str, loaded: bool = False) -> Way | None:
        """The way that takes the shortest time, or None where there is none."""
        if start == end:
            return Way(0.0, 0.0, (start,), ())
        before, times = self._from(start, loaded)
        if end not in times:
            return None
        places = [end]
        while places[-1] != start:
            places.append(before[places[-1]][0])
        places.reverse()
        graph = self._graphs[loaded]
        routes = [graph.edges[pair]["route"] for pair in pairwise(places)]
        metres = sum(float(route.length) for route in routes)
        return Way(times[end], metres, tuple(places), tuple(str(route.id) for route in routes))

    def _ways_from(self, start: str, loaded: bool) -> tuple[Mapping[str, list[str]], Mapping[str, float]]:
        """The place before each on the way there (whole ways would be long lists), and the seconds to each."""
        graph = self._graphs[loaded]
        return nx.dijkstra_predecessor_and_distance(graph, start, weight="seconds") if start in graph else ({}, {})
