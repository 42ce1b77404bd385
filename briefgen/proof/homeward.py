"""How long each person outside would need to get home, from wherever they are.

Pure: a trail goes in, seconds come out. The way home is the fastest one at the unloaded pace; from the middle of a
route it leads on or back, whichever is faster. A place from which no route leads home is left as it was reached: the
steps that moved the person there, backwards, and from there the way home. O(routes) a visit.
"""

from __future__ import annotations

import math
from bisect import bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property
from itertools import groupby

from briefgen.model.library import Library
from briefgen.model.world import Route
from briefgen.proof.routes import Routes
from briefgen.proof.whereabouts import Doing, Stay, Trail, Visit, Whereabouts

Line = tuple[tuple[float, float], ...]
"""Points (x, seconds home), straight in between; two points with the same x are a jump. Infinite: no way home."""


@dataclass(frozen=True)
class Homeward:
    """The seconds home during one visit: on the way to it (x in seconds), at the place, in the step (x from 0 to 1)."""

    visit: Visit
    on_way: Line
    at_place: float
    in_step: Line

    @property
    def longest(self) -> float:
        """The most there is, in seconds."""
        return max(self.at_place, *(seconds for _, seconds in (*self.on_way, *self.in_step)))


def homewards(library: Library, routes: Routes, home: str, trail: Trail) -> tuple[Homeward, ...]:
    """The seconds home in every visit of a trail."""
    return tuple(_Follower(library, routes, home).follow(trail))


class _Follower:
    """Follows one person; `refuges` are the seconds home from where a ride took them, as far as known by then."""

    def __init__(self, library: Library, routes: Routes, home: str) -> None:
        self.routes, self.home, self.records = routes, home, library.routes
        paces = library.programme.paces if library.programme else None
        self.pace = {False: float(paces.outside), True: float(paces.loaded)} if paces else {}
        self.refuges: dict[str, float] = {}

    def follow(self, trail: Trail) -> Iterator[Homeward]:
        for visit in trail:
            on_way, here = tuple(self.walk(visit)), self.seconds(visit.place)
            yield Homeward(visit, on_way, here, self.work(visit, here))

    def seconds(self, place: str) -> float:
        """The seconds home from a place: by routes, or else back to where a ride set the person down and on."""
        way = self.routes.way(place, self.home)
        if way:
            return way.seconds
        back = ((self.routes.way(place, refuge), seconds) for refuge, seconds in self.refuges.items())
        return min((way.seconds + seconds for way, seconds in back if way), default=math.inf)

    def walk(self, visit: Visit) -> Iterator[tuple[float, float]]:
        if visit.way is None:
            return
        start = 0.0
        for first, second, name in zip(visit.way.places, visit.way.places[1:], visit.way.routes, strict=False):
            route = self.records[name]
            lasts, back = self.takes(route, visit.loaded), self.takes(route, False)
            ends = self.seconds(first), self.seconds(second)
            for share, seconds in between(*ends, back, both_ways=not route.one_way):
                yield start + share * lasts, seconds
            start += lasts

    def takes(self, route: Route, loaded: bool) -> float:
        return route.time.likely if route.time else float(route.length) / self.pace[loaded]

    def work(self, visit: Visit, here: float) -> Line:
        if not visit.moved:
            return ((0.0, here), (1.0, here))
        lasts = visit.step.duration.likely
        if self.routes.way(visit.leads_to, self.home) is None:
            known = self.refuges.get(visit.leads_to, math.inf)
            self.refuges[visit.leads_to] = min(known, here + lasts)
        return between(here, self.seconds(visit.leads_to), lasts, both_ways=True)


def between(at_first: float, at_second: float, lasts: float, *, both_ways: bool) -> Line:
    """The seconds home along a passage that takes `lasts` seconds, as (share of it, seconds).

    From every point one may go on, and back where it leads both ways.

    >>> between(60, 60, 30, both_ways=True)
    ((0.0, 60), (0.5, 75.0), (1.0, 60))
    >>> between(60, 20, 30, both_ways=False)
    ((0.0, 60), (0.0, 50), (1.0, 20))
    """
    if not both_ways:
        return (0.0, at_first), (0.0, lasts + at_second), (1.0, at_second)
    if lasts > 0 and math.isfinite(at_first) and math.isfinite(at_second):
        turn = (lasts + at_second - at_first) / (2 * lasts)
        if 0 < turn < 1:
            return (0.0, at_first), (turn, at_first + turn * lasts), (1.0, at_second)
    return (0.0, at_first), (1.0, at_second)


@dataclass(frozen=True)
class HomeLine:
    """A person's seconds home over elapsed seconds, for the whole sortie."""

    person: str
    points: Line

    @cached_property
    def _times(self) -> Sequence[float]:
        return [time for time, _ in self.points]

    def at(self, seconds: float) -> float:
        """The seconds home at a moment within the sortie (at a jump, those after it). O(log n)."""
        right = bisect_right(self._times, seconds)
        if right in (0, len(self.points)):
            return self.points[max(0, right - 1)][1]
        (t0, home0), (t1, home1) = self.points[right - 1], self.points[right]
        if math.isinf(home0) or math.isinf(home1):
            return max(home0, home1) if seconds > t0 else home0
        return home0 + (home1 - home0) * (seconds - t0) / (t1 - t0)

    @property
    def worst(self) -> tuple[float, float]:
        """The first moment with the longest way home, and how long that is; both in seconds."""
        return max(self.points, key=lambda point: point[1])


def home_lines(places: Whereabouts, homes: Mapping[str, Sequence[Homeward]]) -> Mapping[str, HomeLine]:
    """Each person's line over the whole sortie."""
    lines = {person: _line(stays, homes[person]) for person, stays in places.stays.items()}
    return {person: HomeLine(person, tuple(point for point, _ in groupby(line))) for person, line in lines.items()}


def _line(stays: Sequence[Stay], homes: Sequence[Homeward]) -> Iterator[tuple[float, float]]:
    for stay in stays:
        home = homes[stay.visit.seat]
        if stay.doing is Doing.WAY:
            yield from ((stay.start + offset, seconds) for offset, seconds in home.on_way)
        elif stay.doing is Doing.WAIT:
            yield from ((stay.start, home.at_place), (stay.end, home.at_place))
        elif stay.doing is Doing.STEP:
            yield from ((stay.start + share * stay.seconds, seconds) for share, seconds in home.in_step)
        else:
            yield from ((stay.start, home.in_step[-1][1]), (stay.end, home.in_step[-1][1]))
