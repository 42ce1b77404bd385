"""What of a plan is the same for every stop: who waits for whom, and which controls the ways rely on.

Pure: the book and everybody's seats go in.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from briefgen.proof.holding.custody import Spot
from briefgen.proof.moving.routes import Routes, Way
from briefgen.proof.ordering.states import Item
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.gates import Gates
from briefgen.proof.stopping.book import Book, Matter, Value, ever_around
from briefgen.proof.stopping.people import Seats


class Lanes:
    """By turn: `doing` says who does it, where, and where it leads (nothing if not outside); `on` its seats on chains.

    `away` names those who do it away from home, `bags` which bags it moves, `keeps` what it keeps free. `behind`
    counts, of all other chains, the steps over before it; `waits` names whose homecoming it awaits. `guards` are the
    controls of the routes' hazards, `gates` what waits for the clock.

    The plan has a step wait for somebody's homecoming if it is ordered after their first step at home for good. A way
    back waits for those who went out only when what it takes back was done. No plan orders ways back; `timing/queue.py`
    does, by what a step `concerns`: what it touches, and what of it it changes or confirms; and by its `names`. What it
    sets and confirms, it `holds`.
    """

    def __init__(self, book: Book, seats: Mapping[str, Seats], routes: Routes) -> None:
        self.book, self.seats, self.routes, self.home = book, seats, routes, book.plan.home or ""
        self.chains = tuple(book.plan.order.chains)
        self.seconds = tuple(step.duration.likely for step in book.steps)
        mine, first = range(book.planned), min(book.backs, default=0)
        every = (*range(len(book.steps) + min(first, 0)), *range(min(first, 0), 0))
        self.behind = tuple(tuple(self._behind(step)) if turn in mine else () for turn, step in enumerate(book.steps))
        homecomings = dict(self._homecomings())
        self.waits = tuple(tuple(self._waits(turn, homecomings)) for turn in every)
        seats_on = book.plan.order.seat
        self.on = tuple(tuple(seats_on[book.steps[turn].index].items()) if turn in mine else () for turn in every)
        self.doing = tuple(tuple(self._doing(turn)) for turn in every)
        self._bags = ever_around(book.plan, map(dict, book.changes)) if book.backs else {}
        self.concerns = tuple(map(self._concern, every)) if book.backs else ()
        self.names = tuple(map(_names, book.steps))
        self.holds = tuple(
            (*((matter, str(value)) for matter, value in row if not isinstance(matter, str)), *sees)
            for row, sees in zip(book.changes, book.sees, strict=True)
        )
        self.away = tuple(tuple(self._away(row)) for row in self.doing)
        self.bags = tuple(tuple(self._moved_bags(row)) for row in book.changes)
        self.guards = dict(_controls(book))
        kept = ((turn, step.step.keeps_out) for turn, step in zip(every, book.steps, strict=True))
        self.gates: Gates = {}
        self.keeps = {turn: frozenset(map(str, spots)) for turn, spots in kept if spots}

    def _behind(self, step: PlannedStep) -> Iterator[tuple[str, int]]:
        order = self.book.plan.order
        for chain in self.chains:
            seat = order.beside(step.index, chain)[0]
            if seat and chain not in order.seat[step.index]:
                yield chain, seat

    def _homecomings(self) -> Iterator[tuple[str, int]]:
        """Everybody's first step (by index) at home for good."""
        for person, row in self.seats.items():
            turn = _homecoming(row, self.home)
            if turn is not None:
                yield person, self.book.steps[turn].index

    def _waits(self, turn: int, homecomings: Mapping[str, int]) -> Iterator[str]:
        step, back = self.book.steps[turn], self.book.backs.get(turn)
        if back:
            yield from (one for one in back.waits if one not in step.outside)
            return
        for person, index in homecomings.items():
            if person not in step.people and self.book.plan.order.before(index, step.index):
                yield person

    def _concern(self, turn: int) -> tuple[frozenset[str], frozenset[str]]:
        """What a step touches, and what of it it changes or confirms: equipment, tools and bags, by id."""
        book = self.book
        changed = {matter if isinstance(matter, str) else matter[0] for matter, _ in book.changes[turn]}
        changed |= {item[0] for item, _ in book.sees[turn]} | {str(lot) for lot in book.steps[turn].step.spends}
        relied = {rest.need.item[0] for rest in book.rests[turn]} | {one.handling.thing for one in book.grasps[turn]}
        relied |= {bag for name in tuple(relied) for bag in self._bags.get(name, ())}
        return frozenset(changed | relied), frozenset(changed)

    def _away(self, row: Iterable[tuple[str, str, str]]) -> Iterator[str]:
        return (one for one, place, leads_to in row if place and {place, leads_to} != {self.home})

    def _moved_bags(self, row: Iterable[tuple[Matter, Value]]) -> Iterator[tuple[str, Spot]]:
        bags = self.book.plan.library.bags
        return ((str(name), spot) for name, spot in row if isinstance(spot, Spot) and name in bags)

    def _doing(self, turn: int) -> Iterator[tuple[str, str, str]]:
        for person in self.book.steps[turn].people:
            row = self.seats.get(person)
            if person not in self.book.plan.free:  # who has no flow keeps nobody waiting
                yield person, row.place[turn] if row else "", row.leads_to[turn] if row else ""

    def controls(self, way: Way | None) -> tuple[tuple[Item, str], ...]:
        """The states on which whoever takes a way relies, for the hazards along it."""
        if way is None or not self.guards:
            return ()
        return tuple(one for route in way.routes for one in self.guards.get(route, ()))


def _names(step: PlannedStep) -> tuple[str, tuple[str, ...]]:
    """A step's key, and the keys of the steps that it is written to come after."""
    return step.key, tuple(f"{ref.task}/{ref.step}" for ref in step.step.after)


def _homecoming(seats: Seats, home: str) -> int | None:
    """A person's first step after their last one that is done away from home, or leads away."""
    away = [number for number, turn in enumerate(seats.flow) if {seats.place[turn], seats.leads_to[turn]} != {home}]
    first = away[-1] + 1 if away else 0
    return seats.flow[first] if first < len(seats.flow) else None


def _controls(book: Book) -> Iterator[tuple[str, tuple[tuple[Item, str], ...]]]:
    library = book.plan.library
    for name, route in library.routes.items():
        stated = [one for hazard in route.hazards for one in library.hazards[hazard].controls.items()]
        found = (((str(name), item), str(state)) for name, state in stated for item in library.equipment[name].items)
        if stated:
            yield name, tuple(found)
