"""Lengths along routes, from an anchor to every place and to the farthest point of a way. In metres.

The farthest point of a route of length L between a and b, when the anchor is at distance d(a) and d(b) from its ends,
lies (d(a) + d(b) + L) / 2 away: the absolute one-centre of a graph rests on the same fact (S. L. Hakimi, "Optimum
locations of switching centers", Operations Research 12 (1964)). Dijkstra's algorithm (networkx), one source at a time.
"""

from __future__ import annotations

import math
from functools import lru_cache
from itertools import pairwise

import networkx as nx

from briefgen.model.library import Library
from briefgen.proof.moving.routes import Way


class Lengths:
    """Route lengths in metres, each route both ways: a tether lies along a one-way route as along any other.

    Answers are kept, so that asking again is free.
    """

    def __init__(self, library: Library) -> None:
        self._routes = library.routes
        self._graph: nx.Graph[str] = nx.Graph()
        for route in library.routes.values():
            first, second = map(str, route.between)
            known = self._graph.get_edge_data(first, second, {"metres": math.inf})["metres"]
            self._graph.add_edge(first, second, metres=min(known, float(route.length)))
        self._from = lru_cache(maxsize=None)(self._lengths_from)
        self.farthest = lru_cache(maxsize=None)(self._farthest)

    def metres(self, start: str, end: str) -> float | None:
        """The shortest length between two places, or None where no routes join them."""
        return 0.0 if start == end else self._from(start).get(end)

    def _farthest(self, anchor: str, way: Way) -> tuple[float | None, tuple[str, ...]]:
        """How far from the anchor the farthest point of a way is (None if unknown), and the place or two it is at."""
        best: tuple[float | None, tuple[str, ...]] = self.metres(anchor, way.places[-1]), way.places[-1:]
        for (start, end), route in zip(pairwise(way.places), way.routes, strict=True):
            ends = self.metres(anchor, start), self.metres(anchor, end)
            if ends[0] is None or ends[1] is None:
                return None, way.places[-1:]
            metres = (ends[0] + ends[1] + float(self._routes[route].length)) / 2
            if best[0] is not None and metres > best[0]:
                spot = tuple(place for place, there in zip((start, end), ends, strict=True) if there == metres)
                best = metres, spot[:1] or (start, end)
        return best

    def _lengths_from(self, start: str) -> dict[str, float]:
        if start not in self._graph:
            return {}
        return dict(nx.single_source_dijkstra_path_length(self._graph, start, weight="metres"))
