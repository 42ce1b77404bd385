"""Which of the steps still to come close what is open at a moment, and what these rely on in their turn.

Pure: the world at a moment goes in, turns come out. Steps are only ever added, and with all that is still to come the
plan itself is carried out, so the search ends; where the plan is sound, what it finds holds. A matter is closed by the
next step that brings it where it may stay. What merely came before in the flow is left out.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Iterator

from briefgen.proof.holding.custody import Spot
from briefgen.proof.holding.endings import around, lies_well
from briefgen.proof.ordering.states import Item
from briefgen.proof.stopping.book import Matter, Value
from briefgen.proof.stopping.relying import Prefix, Reliance
from briefgen.proof.stopping.world import World


class Closing:
    """The steps that close up from a moment. `chosen` are their turns; `stuck` are matters that no step closes.

    `_finals` are the last chosen changes, `_spots` where everything is after them; `_watched` are the reliances to look
    at again when a matter is changed.
    """

    def __init__(self, world: World) -> None:
        self.world, self.book = world, world.book
        self.chosen: set[int] = set()
        self.stuck: dict[Matter, None] = {}
        self._settled = False
        self._prefix = Prefix(world, self.chosen)
        self._finals: dict[Matter, tuple[int, Value]] = {}
        self._spots: dict[str, Spot] = world.spots
        self._checks: dict[tuple[int, Reliance], None] = {}
        self._watched: dict[Matter, dict[tuple[int, Reliance], None]] = {}

    def add(self, turn: int) -> bool:
        """Takes a step that is still to come; whether it is a new one."""
        if turn in self.chosen or self.world.begun[turn]:
            return False
        self.chosen.add(turn)
        self._settled = False
        for matter, value in self.book.changes[turn]:
            if matter not in self._finals or self._finals[matter][0] < turn:
                self._end(matter, turn, value)
            if matter in self._watched:
                self._checks.update(self._watched[matter])
        for one in self._prefix.unsure(turn):
            self._checks[turn, one] = None
        return True

    def _end(self, matter: Matter, turn: int, value: Value) -> None:
        self._finals[matter] = (turn, value)
        if isinstance(value, Spot):
            if self._spots is self.world.spots:
                self._spots = dict(self.world.spots)
            self._spots[str(matter)] = value

    def add_all(self, turns: Iterable[int]) -> bool:
        """Takes them all; whether any is a new one."""
        return sum([self.add(turn) for turn in tuple(turns)]) > 0

    def settle(self) -> None:
        """Adds until every chosen step finds what it relies on, and nothing is left open that could be closed."""
        if self._settled:
            return
        self._rely()
        while lacking := [matter for matter in self._left_open() if matter not in self.stuck]:
            for matter in lacking:
                self._close(matter)
            self._rely()
        self.stuck = dict.fromkeys(self._left_open())
        self._settled = True

    def goes_on(self, turns: Collection[int]) -> bool:
        """Whether the same steps, but for those of these that are done now, still close up what is open.

        So it is where each was chosen, or does nothing on which another step could rely; a lot that is spent may need
        no closing any more.
        """
        book = self.book
        if not all(turn in self.chosen or (book.quiet[turn] and not book.sees[turn]) for turn in turns):
            return False
        if any(book.steps[turn].step.spends for turn in turns):
            return False
        self.chosen.difference_update(turns)
        return True

    def needs_passing(self, turn: int, control: tuple[Item, str]) -> Iterator[int]:
        """What must be done as well for somebody to pass a hazard ahead of that turn."""
        return self._prefix.passing(*control, turn)

    def closes(self, matter: Matter) -> int | None:
        """The last chosen step that changes a matter, or a bag around it."""
        names = (matter, *self._bags(matter)) if isinstance(matter, str) else (matter,)
        return max((self._finals[name][0] for name in names if name in self._finals), default=None)

    def _rely(self) -> None:
        while self._checks:
            turn, one = self._checks.popitem()[0]
            if not self._prefix.as_planned(one):
                for matter in self._prefix.about(turn, one):
                    self._watched.setdefault(matter, {})[turn, one] = None
                for missing in tuple(self._prefix.lacks(turn, one)):
                    self.add(missing)  # which looks at what is watched again

    def _left_open(self) -> Iterator[Matter]:
        fine, world, finals = self.world.fine, self.world, self._finals
        for matter, (_, value) in finals.items():
            if not isinstance(matter, str) and value not in fine[matter]:
                yield matter
        yield from (matter for matter in world.open if matter not in finals and not isinstance(matter, str))
        if self._spots is world.spots:
            yield from (matter for matter in world.open if isinstance(matter, str))
        else:
            yield from (thing for thing in world.things if world.strays(thing, self._spots))

    def _bags(self, thing: str) -> tuple[str, ...]:
        """The bags around a thing in the end, from the innermost out."""
        return tuple(one.id for one in around(self._spots, thing, self._spots[thing]) if one.kind == "bags")

    def _close(self, matter: Matter) -> None:
        closes = self._closes_thing(matter) if isinstance(matter, str) else self._closes_item(matter)
        turn = next(closes, None)
        if turn is None or not self.add(turn):
            self.stuck[matter] = None

    def _closes_item(self, item: Item) -> Iterator[int]:
        """The steps still to come that bring an item into a state in which it may end, the next first."""
        fine = self.world.fine[item]
        return (turn for turn, value in self._ahead(item) if value in fine)

    def _closes_thing(self, thing: str) -> Iterator[int]:
        """The steps that bring a thing where it may stay, itself or in a bag; else the last that moves it at all."""
        names = (thing, *self._bags(thing))
        for name in names:
            for turn, spot in self._ahead(name):
                if isinstance(spot, Spot) and lies_well(around(self._spots, name, spot), self.world.fine[thing]):
                    yield turn
        yield from (turn for name in names for turn, _ in list(self._ahead(name))[-1:])

    def _ahead(self, matter: Matter) -> Iterator[tuple[int, Value]]:
        """The changes of a matter still to come after those that are chosen."""
        last = self._finals[matter][0] if matter in self._finals else -1
        for turn, value in self.book.changers.get(matter, ()):
            if turn > last and not self.world.begun[turn]:
                yield turn, value
