"""Stopping: for every moment of a sortie, what is left open if everybody turns home, and how it is closed up.

Pure: a sortie's proofs go in. A moment is the end of a step; between two of them nothing changes but positions. This is
the orderly stop: what is open is closed by the steps already written, be they still to come or ways back, whichever is
sooner; then everybody goes home. An immediate return leaves everything as it is and takes the time home. Which of the
two is called is the responsible authority's to say (common practice, no source).

With n steps: O(n × closing steps × what each relies on), up to what `search/effort.py` allows.
Where only steps were done that were to close up anyway, the search of the moment before stands, without them.
"""

from __future__ import annotations

from collections.abc import Collection, Iterator, Mapping
from dataclasses import dataclass, replace
from itertools import groupby, takewhile

from briefgen.proof.moving.whereabouts import Doing
from briefgen.proof.schedule.network import ROUNDING
from briefgen.proof.stopping.book import Matter, Value, make_book
from briefgen.proof.stopping.given import Given
from briefgen.proof.stopping.lanes import Lanes
from briefgen.proof.stopping.people import Standing, seats_of, standing
from briefgen.proof.stopping.search.closing import Closing
from briefgen.proof.stopping.search.effort import Effort
from briefgen.proof.stopping.timing.schedule import Schedule
from briefgen.proof.stopping.way_out import Called, WayOut
from briefgen.proof.stopping.world import World

KEPT = 16
"""After so many steps each the world of a call is kept for the next one: most have much in common."""


@dataclass(frozen=True)
class Open:
    """A matter left open if a stop is called: how or where it is then, and the step (its index) that left it so.

    `left_by` is None for what was in somebody's hands as the sortie began, `closed_by` where no step closes it.
    """

    matter: Matter
    value: Value
    left_by: int | None
    closed_by: int | None


@dataclass(frozen=True)
class Stop:
    """A stop called at a moment, `at` seconds after the sortie's start, as the steps `ended` (by index) are over.

    `closing` are the steps (by index) that close what is `open`, as they begin, each with its beginning and end in
    seconds after the call; `homes` says when everybody is home by then, `seconds` when all is over. `bare` is the time
    home of the farthest, leaving everything. `clean`: nobody outside has anything left to do but at home. Where too
    much is open at once it is not `searched`: what closes up here may not be the quickest way.
    """

    at: float
    ended: tuple[int, ...]
    open: tuple[Open, ...]
    closing: tuple[tuple[int, float, float], ...]
    homes: Mapping[str, float]
    seconds: float
    bare: float
    clean: bool
    searched: bool = True

    @property
    def stuck(self) -> tuple[Open, ...]:
        """What no step still to come closes."""
        return tuple(one for one in self.open if one.closed_by is None)


class Caller:
    """Goes through a sortie and calls a stop at every moment, or off the planned line once certain steps are over.

    For a plan without circles. What one call has searched serves those after it.
    """

    def __init__(self, given: Given) -> None:
        self.given = given
        self.book = make_book(given.timeline, given.states, given.custody)
        self._begins = World(self.book, given.states, given.custody)
        self._kept, self._gone = {0: self._begins}, list[int]()
        self.world = self._begins.copy()
        trails = {person: trail for person, trail in given.travel.trails.items() if trail}
        seats = {person: seats_of(self.book, trail, given.ways) for person, trail in trails.items()}
        self.lanes = Lanes(self.book, seats, given.routes)
        self.lanes.gates = {self.book.turns[index]: gate for index, gate in given.timeline.gates.items()}
        planned = self.book.steps[: self.book.planned]
        self.times = [given.timeline.times[step.index] for step in planned]
        self.running: dict[int, float] = {}
        self.closing = Closing(self.world, Effort(1))

    def _counts_from(self, turn: int) -> tuple[float, float]:
        """From when on a step counts: its beginning, or its end if it can be broken off."""
        its = self.times[turn]
        return (its.end if self.book.quiet[turn] else its.start, its.end)

    def call(self) -> Iterator[Stop]:
        """A stop at every moment, in order."""
        self.world, self.running = self._begins.copy(), {}
        effort = Effort(len({round(its.end, 6) for its in self.times}))
        self.closing = Closing(self.world, effort)
        ahead = sorted(range(len(self.times)), key=self._counts_from, reverse=True)
        for at, ended in self._moments():
            begun = list(self._begun(ahead, at))
            for turn in begun:
                self.world.begin(turn)
            ends = {turn: self.times[turn].end - at for turn in (*self.running, *begun)}
            self.running = {turn: left for turn, left in ends.items() if left > ROUNDING}
            standings = dict(self._standings(at))
            anchors = {who: stay.anchor for who in self.lanes.seats if (stay := self.given.places.at(who, at))}
            called = Called(at, standings, anchors, self.running, at)
            out = WayOut(self.given, self.lanes, self.world, called, effort)
            kept = self.closing if self.closing.goes_on(begun) else None
            self.closing, plan = out.quickest(kept)
            yield self._stop(at, ended, plan)

    def after(self, done: Collection[int], now: float | None = None, effort: Effort | None = None) -> Stop:
        """A stop called as these steps (by index, with all that is ordered before them) are over and none is running.

        Everybody stands where their last step left them; `at` is when the last of these steps ends as planned. What
        waits for the clock waits from `now` on, or else from then. Several calls may share the `effort` of searching.
        """
        over = sorted(self.book.turns[index] for index in done)
        self.world, self.running = self._world(over), {}
        called = {person: self.stood(person, done) for person in self.lanes.seats}
        anchors = {person: anchor for person, (_, anchor) in called.items()}
        last = over[-1:]
        at = self.times[last[0]].end if last else 0.0
        clock = at if now is None else now
        where = Called(None, {person: one for person, (one, _) in called.items()}, anchors, {}, clock)
        self.closing, plan = WayOut(self.given, self.lanes, self.world, where, effort or Effort(1)).quickest(None)
        bare = max((one.back for one in where.standings.values()), default=0.0)
        return replace(self._stop(at, tuple(self.book.steps[turn].index for turn in last), plan), bare=bare)

    def _world(self, over: list[int]) -> World:
        """The world once these turns are over; as far as they are those of the last call, from what is kept of it."""
        pairs = zip(over, self._gone, strict=False)
        alike = sum(1 for _ in takewhile(lambda pair: pair[0] == pair[1], pairs))
        self._kept = {place: world for place, world in self._kept.items() if place <= alike}
        start = max(self._kept)
        world, self._gone = self._kept[start].copy(), over
        for place, turn in enumerate(over[start:], start + 1):
            world.begin(turn)
            if place % KEPT == 0:
                self._kept[place] = world.copy()
        return world

    def stood(self, person: str, done: Collection[int]) -> tuple[Standing, str]:
        """Where somebody outside stands after the last of their steps that is over, and where their tether hangs."""
        row = [visit for visit in self.given.travel.trails[person] if visit.step.index in done]
        if not row:
            return Standing(0.0, ((self.lanes.home, 0.0),), 0.0), self.lanes.home
        last = row[-1]
        back = self.given.travel.homewards[person][last.seat].in_step[-1][1]
        leaves = self.given.ways.letting_go(last.place, last.holds)
        return Standing(0.0, ((last.leads_to, 0.0),), back, leaves, last.holds), last.anchor

    def _moments(self) -> Iterator[tuple[float, tuple[int, ...]]]:
        """When steps end, and which."""
        for _, row in groupby(self.times, key=lambda one: round(one.end, 6)):
            ended = tuple(row)
            yield ended[-1].end, tuple(one.step.index for one in ended)

    def _begun(self, ahead: list[int], at: float) -> Iterator[int]:
        """What is newly over, or begun and brought to its end; taken from what is ahead."""
        while ahead:
            its, quiet = self.times[ahead[-1]], self.book.quiet[ahead[-1]]
            if its.end > at + ROUNDING and (quiet or its.start > at - ROUNDING):
                return
            yield ahead.pop()

    def _stop(self, at: float, ended: tuple[int, ...], plan: Schedule) -> Stop:
        closing = self.closing
        starts = sorted(plan.times.items(), key=lambda one: (one[1], one[0]))
        return Stop(
            at,
            ended,
            tuple(self._open(closing)),
            tuple((self.book.steps[turn].index, start, end) for turn, (start, end) in starts),
            plan.homes,
            max(plan.seconds, *self.running.values(), 0.0),
            max((line.until(at) for line in self.given.time_home.values()), default=0.0),
            self._clean(closing),
            closing.searched,
        )

    def _standings(self, at: float) -> Iterator[tuple[str, Standing]]:
        for turn, left in self.running.items():
            yield from ((person, Standing(left)) for person in self.book.steps[turn].people)
        for person, homes in self.given.travel.homewards.items():
            stay = self.given.places.at(person, at)
            if stay is None:
                yield person, Standing(0.0, ((self.lanes.home, 0.0),))
                continue
            finishes = stay.doing is Doing.STEP and self.book.turns[stay.visit.step.index] in self.running
            home = homes[stay.visit.seat]
            yield person, standing(self.book.plan.library, self.given.ways, stay, home, at, finishes)

    def _open(self, closing: Closing) -> Iterator[Open]:
        """What is open now, in the order in which it was left so."""
        index = [step.index for step in self.book.steps]
        world = self.world
        for since, _, matter in sorted((world.since(one), place, one) for place, one in enumerate(world.open)):
            turn = None if matter in closing.stuck else closing.closes(matter)
            value = world.spots[matter] if isinstance(matter, str) else world.states[matter]
            yield Open(matter, value, index[since] if since >= 0 else None, None if turn is None else index[turn])
        for matter in closing.stuck:
            if matter not in world.open:  # the plan gone to its end would open it
                turn, value = closing.left_by(matter)
                yield Open(matter, value, index[turn], None)

    def _clean(self, closing: Closing) -> bool:
        """Whether nobody is in the middle of a change, or has anything left to do away from home."""
        if closing.stuck or any(self.book.changes[turn] for turn in self.running):
            return False
        return not any(self.lanes.away[turn] for turn in closing.chosen if not self._only_hooks(turn))

    def _only_hooks(self, turn: int) -> bool:
        """Whether somebody only moves their tether on the way home."""
        step = self.book.steps[turn]
        return step.step.anchors is not None and not self.book.changes[turn] and step.leads_to == step.place
