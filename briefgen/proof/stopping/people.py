"""Where everybody is when a stop is called, and how soon they can be elsewhere.

Pure: stays, trails and routes go in, seconds come out. Who is in a step that changes something is where it leads, once
it is over; who is on a route goes on along it or turns back, whichever is faster.
"""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from briefgen.model.library import Library
from briefgen.proof.moving.homeward import Homeward, WaysHome
from briefgen.proof.moving.routes import Routes, Way
from briefgen.proof.moving.whereabouts import Doing, Stay, Visit


class Standing(NamedTuple):
    """A person free from `free` on (seconds after the call), who can be at each of `exits` (place, seconds) then.

    `back` are the seconds home where no route and no written ride leads there: the rides that came here, backwards.
    Before going anywhere else the person gets out of what holds them, which takes `letting_go` seconds.
    """

    free: float
    exits: tuple[tuple[str, float], ...] = ()
    back: float = math.inf
    letting_go: float = 0.0

    def reach(self, routes: Routes, place: str, loaded: bool) -> tuple[float, Way | None]:
        """Seconds after the call until the person can be at a place, and the way; infinite where none leads there."""
        best: tuple[float, Way | None] = (math.inf, None)
        for spot, seconds in self.exits:
            way = routes.way(spot, place, loaded)
            leaves = self.letting_go if spot != place else 0.0
            if way and self.free + leaves + seconds + way.seconds < best[0]:
                best = (self.free + leaves + seconds + way.seconds, way)
        return best


def standing(library: Library, ways: WaysHome, stay: Stay, home: Homeward, at: float, finishes: bool) -> Standing:
    """Where the person of a stay stands at a moment in it; `finishes`: it is a step, and is brought to its end."""
    visit, after = stay.visit, home.in_step[-1][1]
    if stay.doing is Doing.WAY and visit.way:
        return Standing(0.0, _on_route(library, ways, visit, at - stay.start), home.at_place)
    if stay.doing is Doing.DONE or finishes or at >= stay.end:
        free = max(0.0, stay.end - at) if finishes else 0.0
        return Standing(free, ((visit.leads_to, 0.0),), after, ways.letting_go(visit.place, visit.holds))
    doing = stay.doing is Doing.STEP
    leaves = ways.letting_go(visit.place, visit.held or (visit.holds if doing else ""))
    return Standing(0.0, ((visit.place, 0.0),), max(home.at_place, home.in_step[0][1] if doing else 0.0), leaves)


def _on_route(library: Library, ways: WaysHome, visit: Visit, gone: float) -> tuple[tuple[str, float], ...]:
    """The ends of the route on which a person is, `gone` seconds after setting off, with the seconds to each."""
    assert visit.way is not None
    for (first, second), name in zip(pairwise(visit.way.places), visit.way.routes, strict=True):
        route = library.routes[name]
        lasts = ways.takes(route, visit.loaded)
        if gone <= lasts:
            back = () if route.one_way and gone > 0 else ((first, gone),)
            return (*back, (second, lasts - gone))
        gone -= lasts
    return ((visit.place, 0.0),)


@dataclass(frozen=True)
class Seats:
    """A person's steps by turn: where each is done, and where it leads; `rides` are those that move them.

    `letting_go` are the seconds to get out of what holds them when it is over.
    """

    place: Mapping[int, str]
    leads_to: Mapping[int, str]
    flow: Sequence[int]
    rides: Sequence[int]
    letting_go: Mapping[int, float]


def seats_of(trail: Sequence[Visit], turns: Mapping[int, int], ways: WaysHome) -> Seats:
    """The seats of one person outside."""
    rows = [(turns[visit.step.index], visit) for visit in trail]
    return Seats(
        {turn: visit.place for turn, visit in rows},
        {turn: visit.leads_to for turn, visit in rows},
        [turn for turn, _ in rows],
        [turn for turn, visit in rows if visit.moved],
        {turn: ways.letting_go(visit.place, visit.holds) for turn, visit in rows if visit.holds},
    )


def rides_between(routes: Routes, seats: Seats, ahead: Sequence[int], spots: Sequence[str], goal: str) -> list[int]:
    """Of the rides `ahead`, the fewest that lead from one of `spots` to where routes lead on to `goal`, or nothing."""
    ways: dict[str, list[int]] = {spot: [] for spot in spots}
    for ride in ahead:
        start, end = seats.place[ride], seats.leads_to[ride]
        row = min((row for spot, row in ways.items() if routes.way(spot, start)), key=len, default=None)
        if row is not None and (end not in ways or len(row) + 1 < len(ways[end])):
            ways[end] = [*row, ride]
    return min((row for spot, row in ways.items() if row and routes.way(spot, goal)), key=len, default=[])
