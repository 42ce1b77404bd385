"""What a step finds if only some of the steps still to come are done, and what must be done as well for it to hold.

Pure: the world at a moment and the turns chosen so far go in. A step relies on what it finds: states that must hold,
confirmations of controls, things at hand. Where that does not stand, it is brought about as the plan does it. What the
step waits for in the plan beside these (`after`) is no need: else the stop would finish the work that it breaks off.
"""

from __future__ import annotations

from collections.abc import Iterator, Set
from typing import TypeGuard

from briefgen.proof.holding.custody import Act, Spot, reachable
from briefgen.proof.ordering.states import Item
from briefgen.proof.stopping.book import Grasp, Matter, Rests, Value
from briefgen.proof.stopping.world import World

Reliance = Rests | Grasp
"""A state, or a thing."""


class Prefix:
    """The world as a step finds it, if of the steps still to come only `chosen` (turns) are done before it."""

    def __init__(self, world: World, chosen: Set[int]) -> None:
        self.world, self.book, self.chosen = world, world.book, chosen

    def last(self, matter: Matter, turn: int) -> tuple[int, Value] | None:
        """The last chosen step before `turn` that changes a matter, with what it makes of it."""
        for earlier, value in reversed(self.book.changers.get(matter, ())):
            if earlier < turn and earlier in self.chosen:
                return earlier, value
        return None

    def value(self, matter: Matter, turn: int) -> Value:
        """What the step of that turn finds."""
        found = self.last(matter, turn)
        if found:
            return found[1]
        return self.world.spots[matter] if isinstance(matter, str) else self.world.states[matter]

    def unsure(self, turn: int) -> Iterator[Reliance]:
        """What a step relies on and the plan has not brought about by now; all else is as in the plan."""
        book = self.book
        for rest in book.rests[turn]:
            if not (self._over(rest.source) and self._over(rest.look)):
                yield rest
        for grasp in book.grasps[turn]:
            if not all(map(self._over, grasp.sources)):
                yield grasp

    def lacks(self, turn: int, one: Reliance) -> Iterator[int]:
        """The steps still to come that the plan does so that the step can rely on it; none where it can."""
        if isinstance(one, Rests):
            yield from self._state(turn, one)
        elif not self._at_hand(turn, one):
            yield from (source for source in one.sources if self._missing(source))

    def as_planned(self, one: Reliance) -> bool:
        """Whether all that the plan does for it is done or chosen, so that it is found as in the plan."""
        needed = one.sources if isinstance(one, Grasp) else (one.source, one.look)
        return not any(map(self._missing, needed))

    def about(self, turn: int, one: Reliance) -> Iterator[Matter]:
        """The matters on which it hangs as long as it is not as planned."""
        if isinstance(one, Rests):
            yield one.met.need.item
        else:
            handling = one.handled.handling
            yield handling.thing
            yield from (spot.id for spot in self._chain(turn, handling.thing, handling.act) if spot.kind == "bags")

    def _over(self, turn: int | None) -> bool:
        return turn is None or self.world.begun[turn]

    def _missing(self, turn: int | None) -> TypeGuard[int]:
        return turn is not None and turn not in self.chosen and not self.world.begun[turn]

    def _state(self, turn: int, rest: Rests) -> Iterator[int]:
        need = rest.met.need
        found = self.last(need.item, turn)
        if (found[1] if found else self.world.states[need.item]) != need.state:
            yield from filter(self._missing, (rest.source,))
        elif rest.met.control and need.relies:
            setters = self._setters(need.item, found)
            if not (need.confirms and self.book.people[turn] - setters):
                yield from self._look(need.item, need.state, turn, found, rest)

    def passing(self, item: Item, state: str, turn: int) -> Iterator[int]:
        """The same for whoever passes a hazard ahead of that turn: its control must hold and be confirmed."""
        found = self.last(item, turn)
        if (found[1] if found else self.world.states[item]) != state:
            sets = (one for one, value in self.book.changers.get(item, ()) if one < turn and value == state)
            yield from list(filter(self._missing, sets))[-1:]
        elif self.book.plan.library.equipment[item[0]].control:
            yield from self._look(item, state, turn, found, None)

    def _setters(self, item: Item, found: tuple[int, Value] | None) -> frozenset[str]:
        return self.book.people[found[0]] if found else self.world.unseen.get(item, frozenset())

    def _look(
        self, item: Item, state: str, turn: int, found: tuple[int, Value] | None, rest: Rests | None
    ) -> Iterator[int]:
        """A look at a control by somebody else than who set it, if there is none yet; else the plan's own source."""
        setters, since = self._setters(item, found), found[0] if found else -1
        about = self.book.looks.get((item, state), ()) if setters else ()
        looks = [look for look in about if since < look < turn and self.book.people[look] - setters]
        if setters and not any(look in self.chosen for look in looks):
            ahead = [look for look in looks if self._missing(look)]
            planned = (rest.look, rest.source) if rest else (None, None)
            best = planned[0] if planned[0] in ahead else next(iter(ahead), planned[1])
            yield from filter(self._missing, (best,))

    def _at_hand(self, turn: int, grasp: Grasp) -> bool:
        handling = grasp.handled.handling
        chain = tuple(self._chain(turn, handling.thing, handling.act))
        return reachable(self.book.plan, self.book.steps[turn], handling, chain)

    def _chain(self, turn: int, thing: str, act: Act) -> Iterator[Spot]:
        step, seen = self.book.steps[turn], set[str]()
        while thing not in seen:
            picked = bool(step.outside) and thing in step.step.picks and (bool(seen) or act is not Act.PICKS)
            seen.add(thing)
            spot = Spot("people", step.outside[0]) if picked else self.value(thing, turn)
            assert isinstance(spot, Spot)
            yield spot
            if spot.kind != "bags":
                return
            thing = spot.id
