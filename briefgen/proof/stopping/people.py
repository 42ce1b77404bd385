"""Where everybody is when a stop is called, and how soon they can be elsewhere.

Pure: stays, trails and routes go in, seconds come out. Who is in a step that changes something is where it leads, once
it is over; who is on a route goes on along it or turns back, whichever is faster.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from itertools import pairwise
from typing import NamedTuple

from briefgen.model.library import Library
from briefgen.proof.moving.homeward import Homeward, WaysHome
from briefgen.proof.moving.routes import Routes, Way
from briefgen.proof.moving.whereabouts import Doing, Stay, Visit
from briefgen.proof.stopping.book import Book


class Standing(NamedTuple):
    """A person free from `free` on (seconds after the call), who can be at each of `exits` (place, seconds) then.

    `back` are the seconds home where no route and no written ride leads there: the rides that came here, backwards.
    Before going anywhere else the person gets out of what holds them (`held`), which takes `letting_go` seconds.
    """

    free: float
    exits: tuple[tuple[str, float], ...] = ()
    back: float = math.inf
    letting_go: float = 0.0
    held: str = ""

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
        return Standing(0.0, _on_route(library, ways, visit, at - stay.start), _home_from(home, at - stay.start))
    if stay.doing is Doing.DONE or finishes or at >= stay.end:
        free = max(0.0, stay.end - at) if finishes else 0.0
        leaves = ways.letting_go(visit.place, visit.holds)
        return Standing(free, ((visit.leads_to, 0.0),), after, leaves, visit.holds)
    doing = stay.doing is Doing.STEP
    held = visit.held or (visit.holds if doing else "")
    back = max(home.at_place, home.in_step[0][1] if doing else 0.0)
    return Standing(0.0, ((visit.place, 0.0),), back, ways.letting_go(visit.place, held), held)


def _home_from(home: Homeward, gone: float) -> float:
    """The seconds home from a point of the way to a step, `gone` seconds after setting off."""
    before = [point for point in home.on_way if point[0] <= gone] or [(0.0, home.at_place)]
    after = [point for point in home.on_way if point[0] > gone] or [(gone, home.at_place)]
    (x0, home0), (x1, home1) = before[-1], after[0]
    if x1 <= x0 or math.isinf(home0) or math.isinf(home1):
        return max(home0, home1)
    return home0 + (home1 - home0) * (gone - x0) / (x1 - x0)


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
    """A person's steps by turn, those of ways back with them: where each is done, and where it leads.

    `flow` are the steps of the plan, `rides` those that move the person, `anchors` those that move their tether.
    `grips` are what holds them at a step, with the seconds to get into it and out of it; `out_of` are the seconds to
    get out of what holds them when it is over.
    """

    place: Mapping[int, str]
    leads_to: Mapping[int, str]
    flow: Sequence[int]
    rides: Sequence[int]
    anchors: Mapping[int, str]
    grips: Mapping[int, tuple[str, float, float]]
    out_of: Mapping[int, float]


def seats_of(book: Book, trail: Sequence[Visit], ways: WaysHome) -> Seats:
    """The seats of one person outside, whose trail in the plan this is."""
    rows = [(book.turns[visit.step.index], visit) for visit in trail]
    person = trail[0].person
    place = {turn: visit.place for turn, visit in rows}
    leads_to = {turn: visit.leads_to for turn, visit in rows}
    for turn in book.backs:
        step = book.steps[turn]
        if person in step.people:
            place[turn] = step.place or book.steps[book.backs[turn].of].place or book.plan.home or ""
            leads_to[turn] = step.leads_to or place[turn]
    steps = {turn: book.steps[turn].step for turn in place}
    return Seats(
        place,
        leads_to,
        [turn for turn, _ in rows],
        [turn for turn in sorted(place) if place[turn] != leads_to[turn]],
        {turn: str(step.anchors) for turn, step in steps.items() if step.anchors is not None},
        dict(_grips(book, place)),
        {turn: seconds for turn, visit in rows if (seconds := ways.letting_go(visit.place, visit.holds))},
    )


def _grips(book: Book, place: Mapping[int, str]) -> Iterator[tuple[int, tuple[str, float, float]]]:
    """What takes time to get into, by the steps that are done in it."""
    for turn, spot in place.items():
        step, record = book.steps[turn].step, book.plan.library.places.get(spot)
        word = step.restraint or step.exits
        grip = record.grip(word) if record and word and step.enters is None else None
        if word and grip:
            enter, leave = (one.likely if one else 0.0 for one in (grip.enter, grip.leave))
            yield turn, (str(word), enter, leave)


def rides_between(routes: Routes, seats: Seats, ahead: Sequence[int], spots: Sequence[str], goal: str) -> list[int]:
    """Of the rides `ahead`, the fewest that lead from one of `spots` to where routes lead on to `goal`, or nothing."""
    ways: dict[str, list[int]] = {spot: [] for spot in spots}
    for ride in ahead:
        start, end = seats.place[ride], seats.leads_to[ride]
        row = min((row for spot, row in ways.items() if routes.way(spot, start)), key=len, default=None)
        if row is not None and (end not in ways or len(row) + 1 < len(ways[end])):
            ways[end] = [*row, ride]
    return min((row for spot, row in ways.items() if row and routes.way(spot, goal)), key=len, default=[])
