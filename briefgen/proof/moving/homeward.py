"""How long each person outside would need to get home, from wherever they are.

Pure: a trail goes in, seconds come out. The way home is the fastest one at the unloaded pace; from the middle of a
route it leads on or back, whichever is faster. A place from which no route leads home is left as it was reached: the
steps that moved the person there, backwards, and from there the way home. Who is in a restraint that takes time to
leave gets out of it first. O(routes) a visit.
"""

from __future__ import annotations

import math
from bisect import bisect_left, bisect_right
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from itertools import groupby, pairwise

from briefgen.model.library import Library
from briefgen.model.world import Route
from briefgen.proof.moving.routes import Routes, Way
from briefgen.proof.moving.whereabouts import Doing, Stay, Trail, Visit, Whereabouts
from briefgen.units import show_duration

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


Refuges = frozenset[tuple[str, float]]
"""The seconds home from where rides took a person, as far as known by then."""


class WaysHome:
    """The seconds home from every place and along every way of a library. Answers are kept."""

    def __init__(self, library: Library, routes: Routes) -> None:
        self._routes, self._records, self._places = routes, library.routes, library.places
        self._home = next((name for name, place in library.places.items() if place.home), "")
        paces = library.programme.paces if library.programme else None
        self._pace = {False: float(paces.outside), True: float(paces.loaded)} if paces else {}
        self.seconds = lru_cache(maxsize=None)(self._seconds)
        self.along = lru_cache(maxsize=None)(self._along)

    def letting_go(self, place: str, held: str) -> float:
        """The seconds until a restraint has let a person go."""
        grip = self._places[place].grip(held) if held else None
        return grip.leave.likely if grip and grip.leave else 0.0

    def by_routes(self, place: str) -> bool:
        """Whether routes lead home from a place."""
        return self._routes.way(place, self._home) is not None

    def _seconds(self, place: str, refuges: Refuges) -> float:
        """The seconds home from a place: by routes, or else back to where a ride set the person down and on."""
        way = self._routes.way(place, self._home)
        if way:
            return way.seconds
        back = ((self._routes.way(place, refuge), seconds) for refuge, seconds in refuges)
        return min((way.seconds + seconds for way, seconds in back if way), default=math.inf)

    def _along(self, way: Way, loaded: bool, refuges: Refuges) -> Line:
        """The seconds home along a way, over the seconds since the person set off."""
        points: list[tuple[float, float]] = []
        start = 0.0
        for (first, second), name in zip(pairwise(way.places), way.routes, strict=True):
            route = self._records[name]
            lasts, back = self.takes(route, loaded), self.takes(route, False)
            ends = self.seconds(first, refuges), self.seconds(second, refuges)
            line = between(*ends, back, both_ways=not route.one_way)
            points += ((start + share * lasts, seconds) for share, seconds in line)
            start += lasts
        return tuple(points)

    def takes(self, route: Route, loaded: bool) -> float:
        """The seconds along a route."""
        return route.time.likely if route.time else float(route.length) / self._pace[loaded]


def homewards(ways: WaysHome, trail: Trail) -> tuple[Homeward, ...]:
    """The seconds home in every visit of a trail."""
    return tuple(_homewards(ways, trail))


def _homewards(ways: WaysHome, trail: Trail) -> Iterator[Homeward]:
    refuges: Refuges = frozenset()
    for visit in trail:
        on_way = ways.along(visit.way, visit.loaded, refuges) if visit.way else ()
        here = ways.seconds(visit.place, refuges)
        in_step: Line = ((0.0, here), (1.0, here))
        if visit.moved:
            lasts = visit.step.duration.likely
            refuges = _with_refuge(ways, refuges, visit.leads_to, here + lasts)
            in_step = between(here, ways.seconds(visit.leads_to, refuges), lasts, both_ways=True)
        letting_go = ways.letting_go(visit.place, visit.held)
        yield Homeward(visit, on_way, here + letting_go, _held(ways, visit, in_step))


def _held(ways: WaysHome, visit: Visit, line: Line) -> Line:
    """The same with the time until what holds the person has let go; who gets into it counts as in it at once."""
    end = ways.letting_go(visit.place, visit.holds)
    start = max(ways.letting_go(visit.place, visit.held), end)
    return tuple((share, seconds + start + (end - start) * share) for share, seconds in line) if start else line


def _with_refuge(ways: WaysHome, refuges: Refuges, place: str, seconds: float) -> Refuges:
    if ways.by_routes(place) or seconds >= dict(refuges).get(place, math.inf):
        return refuges
    return frozenset((dict(refuges) | {place: seconds}).items())


def between(at_first: float, at_second: float, lasts: float, *, both_ways: bool) -> Line:
    """The seconds home along a passage that takes `lasts` seconds, as (share of it, seconds).

    From every point one may go on, and back where it leads both ways.

    >>> between(60, 60, 30, both_ways=True)
    ((0.0, 60), (0.5, 75.0), (1.0, 60))
    >>> between(60, 20, 30, both_ways=False)
    ((0.0, 60), (0.0, 50), (1.0, 20))
    >>> between(60, 200, 30, both_ways=True)
    ((0.0, 60), (1.0, 90), (1.0, 200))
    """
    on, back = lasts + at_second, at_first + lasts
    if not both_ways or at_first > on:
        return (0.0, at_first), (0.0, on), (1.0, at_second)
    if at_second > back:
        return (0.0, at_first), (1.0, back), (1.0, at_second)
    turn = (on - at_first) / (2 * lasts) if 0 < lasts < math.inf and on < math.inf else 0.0
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

    def until(self, seconds: float) -> float:
        """The same, but at a jump, those before it: whoever is about to set off can still stay."""
        left = bisect_left(self._times, seconds)
        return self.points[left][1] if self._times[left : left + 1] == [seconds] else self.at(seconds)

    @property
    def worst(self) -> tuple[float, float]:
        """The first moment with the longest way home, and how long that is; both in seconds."""
        return max(self.points, key=lambda point: point[1])

    @property
    def longest(self) -> str:
        """How long the longest way home is, in words."""
        return until_home(self.worst[1])


def until_home(seconds: float) -> str:
    """How long somebody needs to get home, in words, or that there is no way."""
    return show_duration(seconds) if math.isfinite(seconds) else "no way home"


def home_lines(places: Whereabouts, homes: Mapping[str, Sequence[Homeward]]) -> Mapping[str, HomeLine]:
    """Each person's line over the whole sortie; a person whose sortie takes no time has none."""
    lines = {person: list(_line(stays, homes[person])) for person, stays in places.stays.items()}
    return {
        person: HomeLine(person, tuple(point for point, _ in groupby(line))) for person, line in lines.items() if line
    }


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
