"""The world at a moment of a sortie: how equipment is and where things are once all steps begun are over.

Whoever is in a step that changes something brings it to its end; a step that changes nothing is broken off.
"""

from __future__ import annotations

from collections.abc import Hashable, Iterator, Mapping, Sequence
from copy import copy
from typing import Any

from briefgen.proof.holding.custody import CustodyProof, Spot
from briefgen.proof.holding.endings import around, lies_well, may_end, may_lie
from briefgen.proof.ordering.states import Item, StateProof
from briefgen.proof.stopping.book import Book, Matter


class World:
    """Begins as the sortie does; `begin` takes it on, step by step.

    `states` and `spots` are those now, `unseen` the controls that nobody but who set them has looked at, with these
    people. A matter is `open` where it was changed and is neither as the sortie found it nor as a sortie may leave it.
    `tasks` are those in which something was changed, `told` are the steps begun (by turn) but for those that change,
    move and confirm nothing. `searches` are shared by all worlds of a sortie: the steps and stuck matters that
    `search/closing.py` has found, by what is told.
    """

    def __init__(self, book: Book, states: StateProof, custody: CustodyProof) -> None:
        self.book = book
        self.begun = [False] * len(book.steps)
        self.states: dict[Item, str] = {item: held.state for item, held in states.starts.items()}
        self.spots: dict[str, Spot] = dict(custody.starts)
        self.unseen: dict[Item, frozenset[str]] = {
            item: held.unseen_by_others for item, held in states.starts.items() if held.unseen_by_others
        }
        self.fine: Mapping[Matter, frozenset[str]] = dict((*_states(book, states), *_spots(book, custody)))
        self.things = tuple(matter for matter in self.fine if isinstance(matter, str))
        self.places = {thing: place for place, thing in enumerate(self.things)}
        self.open: dict[Matter, None] = {}
        self.tasks: set[str] = set()
        self.told: set[int] = set()
        self.searches: dict[Hashable, Any] = {}
        self._changed: dict[Matter, int] = {}
        self._left = dict(custody.stock)
        self._moved = tuple(map(self._moved_by, range(len(book.steps))))
        for thing in self.things:
            self._note(thing, self.strays(thing, self.spots))

    def _moved_by(self, turn: int) -> tuple[list[str], bool]:
        """What a step moves or spends, in order, and whether a bag is among it."""
        changed = (matter for matter, _ in self.book.changes[turn] if isinstance(matter, str))
        names = {*map(str, self.book.steps[turn].step.spends), *changed} & self.places.keys()
        return sorted(names, key=self.places.__getitem__), not names.isdisjoint(self.book.plan.library.bags)

    def copy(self) -> World:
        """Another world at the same moment, that goes on by itself."""
        other = copy(self)
        for name in ("begun", "states", "spots", "unseen", "open", "tasks", "told", "_changed", "_left"):
            setattr(other, name, copy(getattr(self, name)))
        return other

    def begin(self, turn: int) -> None:
        """A step is over, or begun and brought to its end."""
        self.begun[turn] = True
        if not self.book.quiet[turn] or self.book.sees[turn]:
            self.told.add(turn)
        if not self.book.quiet[turn]:
            self.tasks.add(str(self.book.steps[turn].task.id))
        people = frozenset(self.book.steps[turn].people)
        for item, state in self.book.sees[turn]:
            if self.states[item] == state and people - self.unseen.get(item, frozenset()):
                self.unseen.pop(item, None)
        for matter, value in self.book.changes[turn]:
            self._changed[matter] = max(turn, self._changed.get(matter, -1))
            if isinstance(value, Spot):
                self.spots[str(matter)] = value
            elif not isinstance(matter, str):
                self._set(matter, value, people)
        self._spend(turn)

    def _set(self, item: Item, state: str, people: frozenset[str]) -> None:
        self.states[item] = state
        if self.book.plan.library.equipment[item[0]].control:
            self.unseen[item] = people
        self._note(item, state not in self.fine[item])

    def _note(self, matter: Matter, is_open: bool) -> None:
        if is_open:
            self.open[matter] = None
        else:
            self.open.pop(matter, None)

    def _spend(self, turn: int) -> None:
        step = self.book.steps[turn]
        for lot, number in step.step.spends.items():
            if lot in self._left:
                self._left[str(lot)] -= number * step.times
        for thing in self.concerned(turn, self.spots):
            self._note(thing, self.strays(thing, self.spots))

    def concerned(self, turn: int, spots: Mapping[str, Spot]) -> Sequence[str]:
        """What may lie otherwise since a step was done or undone: what it moved or spent; with a bag, all in bags."""
        names, bag = self._moved[turn]
        return [one for one in self.things if spots[one].kind == "bags" or one in names] if bag else names

    def last(self, matter: Matter) -> int:
        """The last step begun (by turn) that changed a matter itself; -1 for none."""
        return self._changed.get(matter, -1)

    def since(self, matter: Matter) -> int:
        """The last step begun (by turn) that changed a matter, or a bag around it; -1 for none."""
        since = self._changed.get(matter, -1)
        if isinstance(matter, str) and self.spots[matter].kind == "bags":
            bags = (one.id for one in around(self.spots, matter, self.spots[matter]))
            since = max(since, *(self._changed.get(bag, -1) for bag in bags))
        return since

    def strays(self, thing: str, spots: Mapping[str, Spot]) -> bool:
        """Whether a thing lies, with these spots, where it may not stay; of a lot that is spent nothing is left."""
        spot, fine = spots[thing], self.fine[thing]
        if self._left.get(thing, 1) <= 0 or (spot.kind != "people" and spot.id in fine):
            return False
        return spot.kind != "bags" or not lies_well(around(spots, thing, spot), fine)


def _states(book: Book, states: StateProof) -> Iterator[tuple[Matter, frozenset[str]]]:
    for item in book.changers:
        if not isinstance(item, str):
            yield item, may_end(book.plan, item[0]) | {states.starts[item].state}


def _spots(book: Book, custody: CustodyProof) -> Iterator[tuple[Matter, frozenset[str]]]:
    """Where things may be; what nobody moves is where the sortie found it."""
    for thing in book.changers:
        if isinstance(thing, str):
            spot = custody.starts[thing]
            yield thing, may_lie(book.plan, thing) | ({spot.id} if spot.kind != "people" else frozenset())
