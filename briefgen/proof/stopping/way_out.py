"""The quickest way found to close up and come home from one moment: what is closed how, and by which ways and tethers.

Pure: the world and where everybody is go in. What is done to close up is tried with ways back first, with steps still
to come first, and with whatever is shorter first; of these the one counts that leaves the least open, then the soonest.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass

from briefgen.proof.stopping.given import Given
from briefgen.proof.stopping.lanes import Lanes
from briefgen.proof.stopping.people import Seats, Standing, rides_between
from briefgen.proof.stopping.search.closing import Closing, Prefer
from briefgen.proof.stopping.search.effort import Effort, TooMuchOpenError
from briefgen.proof.stopping.timing.as_planned import as_planned
from briefgen.proof.stopping.timing.schedule import Schedule, schedule
from briefgen.proof.stopping.world import World


@dataclass(frozen=True)
class Called:
    """Where everybody is as a stop is called, where the tethers hang, and which steps are brought to their end.

    `at` is when: seconds after the sortie's start, or None where they are off the planned line; `clock` is what the
    clock shows.
    """

    at: float | None
    standings: Mapping[str, Standing]
    anchors: Mapping[str, str]
    running: Mapping[int, float]
    clock: float


@dataclass(frozen=True)
class _Short:
    """A tether that hangs at `anchor` does not reach to `goal`, where the step of a turn is done (or home)."""

    seats: Seats
    turn: int
    goal: str
    anchor: str


class WayOut:
    """Looks for the way out from one moment."""

    def __init__(self, given: Given, lanes: Lanes, world: World, called: Called, effort: Effort) -> None:
        self.given, self.lanes, self.world, self.called, self.effort = given, lanes, world, called, effort
        self.book = lanes.book
        self._schedules: dict[frozenset[int], Schedule] = {}

    def quickest(self, kept: Closing | None) -> tuple[Closing, Schedule]:
        """The steps that close up, with their times; `kept` is the search of the moment before, if it still stands.

        Where that is too much to search it is what was found by then, or else the plan gone to its end.
        """
        tried: list[tuple[Closing, Schedule]] = []
        back = any(self.world.begun[of] for of in self.book.back_of)
        self.effort.next_moment()
        try:
            for prefer in Prefer if back and kept is None else [Prefer.FORWARD]:
                if not all(prefer in closing.otherwise for closing, _ in tried):
                    continue  # it would find the same
                closing = kept or Closing(self.world, self.effort, prefer)
                tried.append(self._close(closing, prefer))
        except TooMuchOpenError:
            if not tried:
                return self._to_the_end()
            for closing, _ in tried:
                closing.searched = False
        return min(tried, key=lambda one: (len(one[0].stuck), one[1].seconds))

    def _to_the_end(self) -> tuple[Closing, Schedule]:
        """The plan gone to its end: at its own times, or from where people are if they are off the planned line."""
        closing, at = Closing.to_the_end(self.world, self.effort), self.called.at
        if at is None:
            return closing, self._schedule(closing)
        return closing, as_planned(self.given, self.book, self.lanes.seats, closing.chosen, at)

    def _close(self, closing: Closing, prefer: Prefer) -> tuple[Closing, Schedule]:
        """The times of the steps that close up, with those that bring people there and home."""
        barred: set[int] = set()
        while True:
            closing.settle()
            self.effort.spend(1 + len(closing.chosen))
            short = [(one, self._helping(one)) for one in self._short(closing)]
            unreached = {one.turn for one, helping in short if not helping and one.turn < len(self.book.steps)}
            if closing.take((*self._rides(closing), *(turn for _, helping in short for turn in helping))):
                continue
            plan = self._schedule(closing)
            passing = [(one, closing.needs_passing(*one)) for one in plan.passed]
            if any(done for _, done in passing):
                continue
            unsafe = [self._undone(closing, *one) for one, done in passing if done is False]
            new = {turn for turn in (*unreached, *plan.intruded, *unsafe) if turn is not None} - barred
            if not new:
                return closing, plan
            barred |= new
            otherwise = closing.otherwise
            closing = Closing(self.world, self.effort, prefer, barred)
            closing.otherwise |= otherwise

    def _schedule(self, closing: Closing) -> Schedule:
        its, turns = self.called, frozenset(closing.chosen)
        if turns not in self._schedules:
            self._schedules[turns] = schedule(
                self.lanes, turns, its.standings, its.running, self.world.spots, its.clock
            )
        return self._schedules[turns]

    def _undone(self, closing: Closing, turn: int, control: tuple[tuple[str, tuple[str, ...]], str]) -> int | None:
        """The step of a way back that lets go of a control ahead of a turn."""
        changers = (one for one, _ in self.book.changers.get(control[0], ()) if one < turn and one in closing.chosen)
        last = max(changers, default=None)
        return last if last in self.book.backs else None

    def _rides(self, closing: Closing) -> Iterator[int]:
        """The written rides that bring people on to their closing steps, and home, where no route leads there."""
        routes, last = self.given.routes, len(self.book.steps)
        for person, seats in self.lanes.seats.items():
            if not seats.rides:
                continue
            spots, since = [spot for spot, _ in self.called.standings[person].exits], -len(self.book.steps)
            for turn in (*(turn for turn in sorted(closing.chosen) if turn in seats.place), last):
                goal = seats.place[turn] if turn < last else self.lanes.home
                if not any(routes.way(spot, goal) for spot in spots):
                    yield from rides_between(routes, seats, self._ahead(seats.rides, since, turn), spots, goal)
                spots, since = [seats.leads_to.get(turn, "")], turn

    def _ahead(self, turns: Iterable[int], since: int, until: int) -> list[int]:
        """Of these turns of the plan, those still to come between two others."""
        backs, begun = self.book.backs, self.world.begun
        return [one for one in turns if since < one < until and one not in backs and not begun[one]]

    def _helping(self, short: _Short) -> list[int]:
        """The fewest written moves of the tether still to come, each to an anchor in its reach, until it reaches the
        goal; nothing where none helps.
        """
        spots = short.seats.anchors
        ways: dict[str, list[int]] = {short.anchor: []}
        for one in self._ahead(sorted(spots), -1, short.turn):
            row = min((row for anchor, row in ways.items() if self._holds(anchor, spots[one])), key=len, default=None)
            if row is not None and (spots[one] not in ways or len(row) + 1 < len(ways[spots[one]])):
                ways[spots[one]] = [*row, one]
        return min((row for anchor, row in ways.items() if self._holds(anchor, short.goal)), key=len, default=[])

    def _short(self, closing: Closing) -> Iterator[_Short]:
        last, turns = len(self.book.steps), sorted(closing.chosen)
        for person, seats in self.lanes.seats.items() if self.given.travel.tether is not None else ():
            anchor = self.called.anchors.get(person, self.lanes.home)
            for turn in (*(one for one in turns if one in seats.place), last):
                goal = seats.place[turn] if turn < last else self.lanes.home
                if not self._holds(anchor, goal):
                    yield _Short(seats, turn, goal, anchor)
                anchor = seats.anchors.get(turn, anchor)

    def _holds(self, anchor: str, place: str) -> bool:
        """Whether the tether reaches from an anchor to a place; where nothing tells, the plan's own proof does."""
        metres, limit = self.given.lengths.metres(anchor, place), self.given.travel.tether
        return metres is None or limit is None or metres <= limit + 1e-9
