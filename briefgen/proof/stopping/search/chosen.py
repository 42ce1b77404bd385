"""The steps chosen to close up, and what is open once they are done: kept up to date as steps are taken and left again.

Pure: the world at a moment goes in. Taking a step costs what it changes, however many are chosen.
"""

from __future__ import annotations

from bisect import bisect_left, insort
from collections.abc import Iterable, Iterator
from copy import copy
from typing import TypeVar

from briefgen.proof.holding.custody import Spot
from briefgen.proof.ordering.states import Item
from briefgen.proof.stopping.book import Matter, Value
from briefgen.proof.stopping.world import World

One = TypeVar("One")


class Chosen:
    """A collection of turns. `ajar` is what is left open after them all, `restless` what was at rest and is not again.

    `spots` says where everything is in the end.
    """

    def __init__(self, world: World, turns: Iterable[int] = ()) -> None:
        self.world, self.book = world, world.book
        self._turns: set[int] = set()
        self._trail: list[int] = []
        self._rows: dict[Matter, list[int]] = {}
        self.spots: dict[str, Spot] = dict(world.spots)
        self.ajar: set[Matter] = set(world.open)
        self.restless: set[Item] = set()
        for turn in turns:
            self.add(turn)

    def copy(self, world: World) -> Chosen:
        """The same turns in a world in which as much is told, to go on with."""
        other = copy(self)
        other.world = world
        other._turns, other._trail, other.spots = set(self._turns), list(self._trail), dict(self.spots)
        other._rows = {matter: list(row) for matter, row in self._rows.items()}
        other.ajar, other.restless = set(self.ajar), set(self.restless)
        return other

    def __contains__(self, turn: object) -> bool:
        return turn in self._turns

    def __iter__(self) -> Iterator[int]:
        return iter(self._trail)

    def __len__(self) -> int:
        return len(self._turns)

    def add(self, turn: int) -> None:
        """Takes a step that is not chosen yet."""
        self._turns.add(turn)
        self._trail.append(turn)
        for matter, _ in self.book.changes[turn]:
            insort(self._rows.setdefault(matter, []), turn)
        self._weigh(turn)

    @property
    def mark(self) -> int:
        """How many are chosen: `back_to` goes back to that."""
        return len(self._trail)

    def back_to(self, mark: int) -> None:
        """Leaves all that were taken since, the last first."""
        while len(self._trail) > mark:
            turn = self._trail.pop()
            self._turns.discard(turn)
            for matter, _ in self.book.changes[turn]:
                self._rows[matter].remove(turn)
            self._weigh(turn)

    def last(self, matter: Matter, before: float) -> tuple[int, Value] | None:
        """The last of them before a turn that changes a matter, with what it makes of it."""
        row = self._rows.get(matter)
        place = bisect_left(row, before) if row else 0
        if not row or not place:
            return None
        turn = row[place - 1]
        return turn, self.book.made[matter][turn]

    def changing(self, matter: Matter) -> list[int]:
        """Those that change a matter, in order."""
        return self._rows.get(matter, [])

    def _weigh(self, turn: int) -> None:
        """Looks anew at what a step changes, now that it is taken or left."""
        world = self.world
        for matter, _ in self.book.changes[turn]:
            row = self._rows[matter]
            if isinstance(matter, str):
                spot = self.book.made[matter][row[-1]] if row else world.spots[matter]
                assert isinstance(spot, Spot)
                self.spots[matter] = spot
            else:
                value = self.book.made[matter][row[-1]] if row else world.states[matter]
                _put(self.ajar, matter, value not in world.fine[matter])
                _put(self.restless, matter, not self._rests(matter, value))
        for thing in world.concerned(turn, self.spots):
            _put(self.ajar, thing, world.strays(thing, self.spots))

    def _rests(self, item: Item, value: Value) -> bool:
        """Whether equipment that is at rest now is so again in the end, or as a step of a begun task may leave it."""
        world, book, row = self.world, self.book, self._rows[item]
        if not row or item in world.open or book.plan.library.equipment[item[0]].control or value == world.states[item]:
            return True
        made, fine = book.made[item], world.fine[item]
        return all(str(book.steps[turn].task.id) in world.tasks and made[turn] in fine for turn in row)


def _put(row: set[One], one: One, there: bool) -> None:
    """Has a matter in a set, or not."""
    if there:
        row.add(one)
    else:
        row.discard(one)
