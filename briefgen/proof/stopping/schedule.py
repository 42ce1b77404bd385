"""How long the steps that close up take, the ways to them and home included, from where everybody is.

Pure: turns and standings go in, seconds after the call come out. Everybody does their own steps in the order of their
flow, and between people the order that the plan guarantees is kept. What the plan does once somebody is in for good
(shutting the hatch) waits for them here, too; and a control stays as it is until whoever passes its hazard is by.
"""

from __future__ import annotations

import math
from bisect import bisect_left
from collections.abc import Collection, Mapping
from dataclasses import dataclass

from briefgen.proof.holding.custody import Spot
from briefgen.proof.ordering.states import Item
from briefgen.proof.stopping.lanes import Lanes
from briefgen.proof.stopping.people import Standing


@dataclass(frozen=True)
class Schedule:
    """When each closing step begins and ends (by turn), and when everybody outside is home; seconds after the call.

    `passed` are the controls on which somebody relies who passes a hazard ahead of that turn.
    """

    times: Mapping[int, tuple[float, float]]
    homes: Mapping[str, float]
    passed: tuple[tuple[int, tuple[Item, str]], ...]

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
) -> Schedule:
    """The earliest times of the chosen turns; `running` are turns brought to their end, with the seconds left."""
    clock = _Clock(lanes, standings, running, spots)
    last_away = dict.fromkeys(lanes.seats, -1)
    order = sorted(chosen)
    for turn in order:
        last_away.update(dict.fromkeys(lanes.away[turn], turn))
    clock.come_home(-1, last_away)
    for turn in order:
        start = clock.start(turn)
        clock.end(turn, start, start + lanes.seconds[turn])
        if lanes.away[turn]:
            clock.come_home(turn, last_away)
    return Schedule(clock.times, clock.homes, tuple(clock.passed))


class _Clock:
    """Where everybody is, how far they are, and what they carry, as the closing steps go on."""

    def __init__(
        self, lanes: Lanes, standings: Mapping[str, Standing], running: Mapping[int, float], spots: Mapping[str, Spot]
    ) -> None:
        self.lanes, self.changes = lanes, lanes.book.changes
        self.standings = dict(standings)
        self.bags = {bag: spots[bag].id for bag in lanes.book.plan.library.bags if spots[bag].kind == "people"}
        self.over: dict[str, list[tuple[int, float]]] = {chain: [] for chain in lanes.chains}
        self.guarded: dict[tuple[Item, str], float] = {}
        self.held: dict[tuple[Item, str], float] = {}
        self.times: dict[int, tuple[float, float]] = {}
        self.homes: dict[str, float] = {}
        self.passed: list[tuple[int, tuple[Item, str]]] = []
        for turn, left in running.items():
            for chain, seat in lanes.on[turn]:
                self.over[chain].append((seat, left))
            self._hold(turn, left)

    def start(self, turn: int) -> float:
        """When a step can begin: all are there, and all that the plan has before it is over."""
        start = 0.0
        for person, place, _ in self.lanes.doing[turn]:
            start = max(start, self._go(person, place, turn))
        for chain, seat in self.lanes.behind[turn]:
            row = self.over[chain]
            if row and (number := bisect_left(row, (seat,))):
                start = max(start, row[number - 1][1])
        for person in self.lanes.waits[turn]:
            start = max(start, self.homes[person])
        return self._past(turn, start) if self.guarded else start

    def _past(self, turn: int, start: float) -> float:
        """Not before whoever relies on a control that the step changes has passed its hazard."""
        changed = dict(self.changes[turn])
        until = (end for (item, state), end in self.guarded.items() if changed.get(item, state) != state)
        return max((start, *until))

    def _go(self, person: str, place: str, turn: int) -> float:
        """When a person can be at a place; of somebody inside or on the ground, when they are free."""
        standing = self.standings.get(person)
        if not place or standing is None:
            return standing.free if standing else 0.0
        if standing.exits == ((place, 0.0),):
            return standing.free
        seconds, way = standing.reach(self.lanes.routes, place, person in self.bags.values())
        controls = self.lanes.controls(way)
        late = max((self.held.get(control, 0.0) - standing.free for control in controls), default=0.0)
        seconds += max(0.0, late)  # nobody sets off before the control holds and is confirmed
        for control in controls:
            self.guarded[control] = max(self.guarded.get(control, 0.0), seconds)
            self.passed.append((turn, control))
        return seconds

    def end(self, turn: int, start: float, end: float) -> None:
        """Everybody of a step is where it leads, with what it gave them."""
        self.times[turn] = (start, end)
        for chain, seat in self.lanes.on[turn]:
            self.over[chain].append((seat, end))
        for person, _, leads_to in self.lanes.doing[turn]:
            seats = self.lanes.seats.get(person)
            leaves = seats.letting_go.get(turn, 0.0) if seats else 0.0
            self.standings[person] = Standing(end, ((leads_to, 0.0),), letting_go=leaves)
        for bag, spot in self.lanes.bags[turn]:
            self.bags.pop(bag, None)
            if spot.kind == "people":
                self.bags[bag] = spot.id
        if self.lanes.guards:
            self._hold(turn, end)

    def _hold(self, turn: int, end: float) -> None:
        """From then on, what a step sets and confirms is so."""
        set_to = ((matter, str(value)) for matter, value in self.changes[turn] if not isinstance(matter, str))
        self.held.update(dict.fromkeys((*set_to, *self.lanes.book.sees[turn]), end))

    def come_home(self, turn: int, last_away: Mapping[str, int]) -> None:
        """Whoever has no more closing steps away from home goes home."""
        for person, last in last_away.items():
            if last == turn:
                seconds, standing = self._go(person, self.lanes.home, turn + 1), self.standings[person]
                self.homes[person] = seconds if math.isfinite(seconds) else standing.free + standing.back
