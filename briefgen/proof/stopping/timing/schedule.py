"""How long the steps that close up take, the ways to them and home included, from where everybody is.

Pure: turns and standings go in, seconds after the call come out. Everybody does their own steps in the order of their
flow, and between people the order that the plan guarantees is kept. What the plan does once somebody is in for good
(shutting the hatch) waits for them here, too; and a control stays as it is until whoever passes its hazard is by. Who
is not yet in what holds them at their work gets into it first. Nobody is where a step keeps others away.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Collection, Iterator, Mapping, Sequence
from dataclasses import dataclass

from briefgen.proof.holding.custody import Spot
from briefgen.proof.moving.routes import Way
from briefgen.proof.ordering.states import Item
from briefgen.proof.stopping.lanes import Lanes
from briefgen.proof.stopping.people import Standing
from briefgen.proof.stopping.timing.queue import Queue


@dataclass(frozen=True)
class Schedule:
    """When each closing step begins and ends (by turn), and when everybody outside is home; seconds after the call.

    `passed` are the controls on which somebody relies who passes a hazard ahead of that turn; `intruded` the turns that
    keep a place free at which somebody else has to be.
    """

    times: Mapping[int, tuple[float, float]]
    homes: Mapping[str, float]
    passed: tuple[tuple[int, tuple[Item, str]], ...]
    intruded: tuple[int, ...] = ()

    @property
    def seconds(self) -> float:
        """Until all is closed and everybody is home."""
        return max((*(end for _, end in self.times.values()), *self.homes.values()), default=0.0)


def schedule(
    lanes: Lanes,
    chosen: Collection[int],
    standings: Mapping[str, Standing],
    running: Mapping[int, float],
    spots: Mapping[str, Spot],
    called: float = 0.0,
) -> Schedule:
    """The earliest times of the chosen turns; `running` are turns brought to their end, with the seconds left.

    The stop is called `called` seconds after the sortie's start: some steps wait for the clock.
    """
    order = sorted(chosen)
    clock = _Clock(lanes, standings, running, spots, order)
    last_away: dict[str, int | None] = dict.fromkeys(lanes.seats)
    for turn in order:
        last_away.update(dict.fromkeys(lanes.away[turn], turn))
    clock.come_home(None, last_away)
    for turn in order:
        start = clock.start(turn)
        if turn in lanes.gates:
            start = max(start, lanes.gates[turn].opens(called + start) - called)
        clock.end(turn, start, start + lanes.seconds[turn])
        if lanes.away[turn]:
            clock.come_home(turn, last_away)
    return Schedule(clock.times, clock.homes, tuple(clock.passed), tuple(clock.intruded))


class _Clock:
    """Where everybody is, how far they are, and what they carry, as the closing steps go on."""

    def __init__(
        self,
        lanes: Lanes,
        standings: Mapping[str, Standing],
        running: Mapping[int, float],
        spots: Mapping[str, Spot],
        order: Sequence[int],
    ) -> None:
        self.lanes, self.changes, self.order = lanes, lanes.book.changes, order
        self.standings = dict(standings)
        self.bags = {bag: spots[bag].id for bag in lanes.book.plan.library.bags if spots[bag].kind == "people"}
        self.over: dict[str, list[tuple[int, float]]] = {chain: [] for chain in lanes.chains}
        self.guarded: dict[tuple[Item, str], float] = {}
        self.held: dict[tuple[Item, str], float] = {}
        self.ends = dict(running)
        self.times: dict[int, tuple[float, float]] = {}
        self.homes: dict[str, float] = {}
        self.passed: list[tuple[int, tuple[Item, str]]] = []
        self.intruded: list[int] = []
        self.queue = Queue(lanes) if lanes.book.backs else None
        for turn, left in running.items():
            if self.queue:
                self.queue.put(turn, left)
            for chain, seat in lanes.on[turn]:
                self.over[chain].append((seat, left))
            self._hold(turn, left)

    def start(self, turn: int) -> float:
        """When a step can begin: all are there, and all that the plan has before it is over."""
        start = 0.0
        for person, place, _ in self.lanes.doing[turn]:
            start = max(start, self._go(person, place, turn) + self._getting_in(person, place, turn))
        for chain, seat in self.lanes.behind[turn]:
            row = self.over[chain]
            if row and (number := bisect_left(row, (seat,))):
                start = max(start, row[number - 1][1])
        if self.queue:
            start = max(start, self.queue.free_for(turn))
        for person in self.lanes.waits[turn]:
            start = max(start, self.homes.get(person, 0.0))
        if turn in self.lanes.keeps:
            start = max((start, *self._left_free(turn)))
        return self._past(turn, start) if self.guarded else start

    def _past(self, turn: int, start: float) -> float:
        """Not before whoever relies on a control that the step changes has passed its hazard."""
        changed = dict(self.changes[turn])
        until = (end for (item, state), end in self.guarded.items() if changed.get(item, state) != state)
        return max((start, *until))

    def _left_free(self, turn: int) -> Iterator[float]:
        """When everybody else has left what a step keeps free; who has to stay there is in its way."""
        kept = self.lanes.keeps[turn]
        for person in self.lanes.seats.keys() - self.lanes.book.people[turn]:
            standing = self.standings.get(person)
            if standing and person not in self.homes and any(spot in kept for spot, _ in standing.exits):
                places = (
                    place
                    for one in self.order
                    if one > turn
                    for who, place, _ in self.lanes.doing[one]
                    if who == person
                )
                goal = next(places, self.lanes.home)
                if goal in kept:
                    self.intruded.append(turn)
                yield standing.reach(self.lanes.routes, goal, person in self.bags.values())[0]

    def _go(self, person: str, place: str, turn: int) -> float:
        """When a person can be at a place; of somebody inside or on the ground, when they are free."""
        standing = self.standings.get(person)
        if not place or standing is None:
            return standing.free if standing else 0.0
        if standing.exits == ((place, 0.0),):
            return standing.free
        seconds, way = standing.reach(self.lanes.routes, place, person in self.bags.values())
        seconds += self._held_back(person, way, standing.free)
        controls = self.lanes.controls(way)
        late = max((self.held.get(control, 0.0) - standing.free for control in controls), default=0.0)
        seconds += max(0.0, late)  # nobody sets off before the control holds and is confirmed
        for control in controls:
            self.guarded[control] = max(self.guarded.get(control, 0.0), seconds)
            self.passed.append((turn, control))
        return seconds

    def _held_back(self, person: str, way: Way | None, free: float) -> float:
        """How long a person waits because a step keeps a place or route on the way free."""
        if way is None or not self.lanes.keeps:
            return 0.0
        passed = {*way.places, *way.routes}
        keepers = ((turn, spots) for turn, spots in self.lanes.keeps.items() if turn in self.ends)
        ends = (
            self.ends[turn] for turn, spots in keepers if spots & passed and person not in self.lanes.book.people[turn]
        )
        return max((0.0, *(end - free for end in ends)))

    def _getting_in(self, person: str, place: str, turn: int) -> float:
        """How long a person takes to get into what holds them at a step, if they are not in it."""
        seats, standing = self.lanes.seats.get(person), self.standings.get(person)
        grip = seats.grips.get(turn) if seats else None
        if grip is None or standing is None:
            return 0.0
        here = standing.exits == ((place, 0.0),)
        if here and standing.held == grip[0]:
            return 0.0
        return grip[1] + (standing.letting_go if here else 0.0)

    def end(self, turn: int, start: float, end: float) -> None:
        """Everybody of a step is where it leads, with what it gave them."""
        self.times[turn], self.ends[turn] = (start, end), end
        if self.queue:
            self.queue.put(turn, end)
        for chain, seat in self.lanes.on[turn]:
            self.over[chain].append((seat, end))
        for person, place, leads_to in self.lanes.doing[turn]:
            held, leaves = self._holds(person, place, leads_to, turn)
            self.standings[person] = Standing(end, ((leads_to, 0.0),), letting_go=leaves, held=held)
        for bag, spot in self.lanes.bags[turn]:
            self.bags.pop(bag, None)
            if spot.kind == "people":
                self.bags[bag] = spot.id
        if self.lanes.guards:
            self._hold(turn, end)

    def _holds(self, person: str, place: str, leads_to: str, turn: int) -> tuple[str, float]:
        """What holds a person when a step is over, and how long they need to get out of it."""
        step, seats, standing = (
            self.lanes.book.steps[turn].step,
            self.lanes.seats.get(person),
            self.standings.get(person),
        )
        if seats is None or step.exits is not None or place != leads_to:
            return "", 0.0
        if step.enters is not None:
            return str(step.enters), seats.out_of.get(turn, 0.0)
        if turn in seats.grips:
            return seats.grips[turn][0], seats.grips[turn][2]
        here = standing is not None and standing.exits == ((place, 0.0),)
        return (standing.held, standing.letting_go) if here and standing else ("", 0.0)

    def _hold(self, turn: int, end: float) -> None:
        """From then on, what a step sets and confirms is so."""
        self.held.update(dict.fromkeys(self.lanes.holds[turn], end))

    def come_home(self, turn: int | None, last_away: Mapping[str, int | None]) -> None:
        """Whoever has no more closing steps away from home goes home."""
        ahead = turn + 1 if turn is not None else min(self.order, default=0)
        for person, last in last_away.items():
            if last == turn:
                seconds, standing = self._go(person, self.lanes.home, ahead), self.standings[person]
                self.homes[person] = seconds if math.isfinite(seconds) else standing.free + standing.back
