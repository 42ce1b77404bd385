"""How far each person's safety tether must reach, whatever the times turn out to be.

Pure: a trail goes in, metres come out. A tether lies along the routes, so what counts is the shortest route length
from the anchor in use to the farthest point of the way and of the stay. Lengths are metres.
"""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from enum import StrEnum

from briefgen.model.library import Library
from briefgen.proof.moving.lengths import Lengths
from briefgen.proof.moving.routes import Routes
from briefgen.proof.moving.whereabouts import Trail, Visit


class Tie(StrEnum):
    """How the length between a person and the anchor in use is known, or why it isn't."""

    FIXED = "fixed"  # along the routes
    RIDING = "riding"  # the anchor moves with the person
    TORN = "torn"  # the person rides off, the anchor stays where it is
    LEFT = "left"  # the person walks off, the anchor stays on what moves
    LOST = "lost"  # no route leads to where the person should be


@dataclass(frozen=True)
class Reach:
    """How far the tether on `anchor` must reach in one visit; `metres` is None where nothing tells.

    The farthest point is the place `spot[0]`, or lies on the way between the two places of `spot`.
    """

    visit: Visit
    anchor: str
    tie: Tie
    metres: float | None
    spot: tuple[str, ...]

    def beyond(self, limit: float | None) -> bool:
        """Whether that is more than the tether's length, or can't be told at all."""
        if self.tie in (Tie.TORN, Tie.LEFT):
            return True
        return limit is not None and self.metres is not None and self.metres > limit + _ROUNDING


_ROUNDING = 1e-9


def moves_with_rider(anchor: str, routes: Routes, home: str) -> bool:
    """Whether an anchor is a moving one: at a place that no route touches (home apart)."""
    return anchor != home and not routes.touches(anchor)


def reaches(library: Library, routes: Routes, lengths: Lengths, home: str, trail: Trail) -> tuple[Reach, ...]:
    """One reach for every visit, and a second one where a step moves the person and the tether."""
    return tuple(_Follower(library, routes, lengths, home).follow(trail))


class _Follower:
    """Follows one person. `ground` is the place on the routes from which a fixed anchor's distance is counted.

    It is None while the person rides: nothing measures how far the ride takes them from a fixed anchor. `left` says
    that the person has walked off from a moving anchor on which the tether still hangs.
    """

    def __init__(self, library: Library, routes: Routes, lengths: Lengths, home: str) -> None:
        self.library, self.routes, self.lengths, self.home = library, routes, lengths, home
        self.ground: str | None = home
        self.stray = self.left = False

    def follow(self, trail: Trail) -> Iterator[Reach]:
        for visit in trail:
            self.arrive(visit)
            yield self.on_the_way(visit)
            if visit.step.step.anchors:
                self.left = False
            if visit.moved:
                held = visit.anchor if visit.hangs_at_start else visit.hung
                self.ride(visit)
                if held != visit.hung or not self.is_moving(held):
                    yield self.standing(visit, held, visit.leads_to)

    def arrive(self, visit: Visit) -> None:
        cut_off = self.lengths.metres(self.home, visit.place) is None
        self.stray = visit.way is None or (self.stray and cut_off)
        if self.on_ground(visit.place):
            self.ground = visit.place
        self.left = self.is_moving(visit.hung) and (self.left or bool(visit.way and visit.way.routes))

    def ride(self, visit: Visit) -> None:
        """Stepping over to a moving anchor still counts from where the person stepped off."""
        if self.on_ground(visit.leads_to):
            self.ground = visit.leads_to
        elif not (self.on_ground(visit.place) and self.library.places[visit.leads_to].anchor):
            self.ground = None

    def on_ground(self, place: str) -> bool:
        return not moves_with_rider(place, self.routes, self.home)

    def is_moving(self, anchor: str) -> bool:
        return moves_with_rider(anchor, self.routes, self.home)

    def on_the_way(self, visit: Visit) -> Reach:
        if self.stray or visit.way is None:
            return Reach(visit, visit.hung, Tie.LOST, None, (visit.place,))
        if self.is_moving(visit.hung):
            return self.standing(visit, visit.hung, visit.place)
        if not visit.way.routes:
            return self.standing(visit, visit.hung, visit.place)
        metres, spot = self.lengths.farthest(visit.hung, visit.way)
        return Reach(visit, visit.hung, Tie.TORN if metres is None else Tie.FIXED, metres, spot)

    def standing(self, visit: Visit, anchor: str, place: str) -> Reach:
        if self.is_moving(anchor):
            if self.left:
                return Reach(visit, anchor, Tie.LEFT, None, (place,))
            return Reach(visit, anchor, Tie.RIDING, 0.0, (place,))
        metres = self.lengths.metres(anchor, self.ground) if self.ground else None
        return Reach(visit, anchor, Tie.TORN if metres is None else Tie.FIXED, metres, (place,))


def _longest(stretches: Sequence[Reach]) -> Reach:
    """The farthest of them; one that nothing measures counts as the farthest, the first of equals wins."""
    return max(stretches, key=lambda one: math.inf if one.metres is None else one.metres)


@dataclass(frozen=True)
class Overreach:
    """Visits of one person in a row, under one anchor, that the tether does not allow; `worst` is the farthest."""

    reaches: tuple[Reach, ...]

    @property
    def first(self) -> Reach:
        """The reach at its first visit."""
        return self.reaches[0]

    @property
    def worst(self) -> Reach:
        """The longest reach of the run."""
        return _longest(self.reaches)


def overreaches(row: Sequence[Reach], limit: float | None) -> Iterator[Overreach]:
    """The runs of visits that go beyond the tether's length, each run under one anchor and for one reason."""
    run: list[Reach] = []
    for reach in row:
        beyond = reach.beyond(limit)
        if run and not (beyond and reach.anchor == run[0].anchor and reach.tie == run[0].tie):
            yield Overreach(tuple(run))
            run = []
        if beyond:
            run.append(reach)
    if run:
        yield Overreach(tuple(run))


def better_anchor(library: Library, lengths: Lengths, over: Overreach, limit: float) -> str | None:
    """A fixed anchor that the tether reaches now, and from which it reaches the whole run; the nearest to the first.

    None where no single anchor would do.
    """
    start, needed = over.first.visit, {place for reach in over.reaches for place in reach.spot}
    names = (name for name, place in library.places.items() if place.anchor and name != over.first.anchor)
    fitting = [
        name for name in names
        if _within(lengths, over.first.anchor, name, limit) and all(_within(lengths, name, p, limit) for p in needed)
    ]  # fmt: skip
    return min(fitting, key=lambda name: (_detour(lengths, start, name), name), default=None)


def _within(lengths: Lengths, start: str, end: str, limit: float) -> bool:
    metres = lengths.metres(start, end)
    return metres is not None and metres <= limit + _ROUNDING


def _detour(lengths: Lengths, visit: Visit, anchor: str) -> float:
    there, on = lengths.metres(visit.origin, anchor), lengths.metres(anchor, visit.place)
    return math.inf if there is None or on is None else there + on
