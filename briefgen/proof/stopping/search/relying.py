"""What a step finds if only some of the steps still to come are done, and what could be done as well for it to hold.

Pure: the world at a moment and the turns chosen so far go in. A step relies on what it finds: states that must hold,
confirmations of controls, things at hand. What the step waits for in the plan beside these (`after`) is no need: else
the stop would finish the work that it breaks off. Where something does not stand there are *ways* to bring it about:
steps still to come, as the plan does it or sooner, and ways back that are written.
"""

from __future__ import annotations

import math
from collections.abc import Iterable, Iterator

from briefgen.proof.holding.custody import Act, Spot, reachable
from briefgen.proof.ordering.states import Item
from briefgen.proof.stopping.book import Back, Grasp, Matter, Rests, Value
from briefgen.proof.stopping.search.chosen import Chosen
from briefgen.proof.stopping.search.effort import Effort
from briefgen.proof.stopping.world import World

Reliance = Rests | Grasp
"""A state, or a thing."""
Way = tuple[int, ...]
"""Turns that are taken together: a step, or all of a way back with those that must be gone before it."""
BEFORE_ALL, AFTER_ALL = -math.inf, math.inf


class Prefix:
    """The world as a step finds it, if of the steps still to come only `chosen` (turns) are done before it."""

    def __init__(self, world: World, chosen: Chosen, effort: Effort) -> None:
        self.world, self.book, self.chosen, self._effort = world, world.book, chosen, effort

    def last(self, matter: Matter, turn: float) -> tuple[int, Value] | None:
        """The last chosen step before `turn` that changes a matter, with what it makes of it."""
        return self.chosen.last(matter, turn)

    def value(self, matter: Matter, turn: float) -> Value:
        """What the step of that turn finds."""
        found = self.last(matter, turn)
        if found:
            return found[1]
        return self.world.spots[matter] if isinstance(matter, str) else self.world.states[matter]

    def unsure(self, turn: int) -> Iterator[Reliance]:
        """What a step relies on and the plan has not brought about by now; all else is as in the plan.

        Where anything may be taken back, nothing is.
        """
        book = self.book
        for rest in book.rests[turn]:
            if book.backs or not (self._over(rest.source) and self._over(rest.look)):
                yield rest
        for grasp in book.grasps[turn]:
            if book.backs or not all(map(self._over, grasp.sources)):
                yield grasp

    def lacks(self, turn: int, one: Reliance) -> list[Way] | None:
        """The ways to bring about what a step relies on, the plan's own first; None where it stands already."""
        if isinstance(one, Rests):
            return self._state(turn, one)
        if self._at_hand(turn, one):
            return None
        planned = tuple(source for source in one.sources if self._ahead(source))
        return _once([*self._brought(turn, one), planned])

    def _over(self, turn: int | None) -> bool:
        return turn is None or self.world.begun[turn]

    def _ahead(self, turn: int | None) -> bool:
        """Whether a step is still to come and not chosen."""
        return turn is not None and turn not in self.chosen and not (turn >= 0 and self.world.begun[turn])

    def _state(self, turn: int, rest: Rests) -> list[Way] | None:
        need = rest.need
        found = self.last(need.item, turn)
        if (found[1] if found else self.world.states[need.item]) != need.state:
            return self._set_to(need.item, need.state, turn, rest.source)
        if rest.control and need.relies:
            setters = self._setters(need.item, found)
            if not (need.confirms and self.book.people[turn] - setters):
                return self._look(need.item, need.state, turn, found, rest)
        return None

    def passing(self, item: Item, state: str, turn: int) -> list[Way] | None:
        """The same for whoever passes a hazard ahead of that turn: its control must hold and be confirmed."""
        found = self.last(item, turn)
        if (found[1] if found else self.world.states[item]) != state:
            return self._set_to(item, state, turn, None)
        if self.book.plan.library.equipment[item[0]].control:
            return self._look(item, state, turn, found, None)
        return None

    def _set_to(self, item: Item, state: str, turn: float, planned: int | None) -> list[Way]:
        """The ways to have an item in a state by then: nothing that is chosen changes it after them."""
        found = self.last(item, turn)
        since = found[0] if found else BEFORE_ALL
        changers = self.book.changers.get(item, ())
        sets = [one for one, value in changers if since < one < turn and value == state and self._ahead(one)]
        best = [planned] if planned in sets else []
        return self.ways([*best, *reversed(sets)])

    def ways(self, turns: Iterable[int | None]) -> list[Way]:
        """Each turn as a way, with all that belongs to it; a way back that can't be gone is none."""
        found = (self.way(turn) for turn in turns if turn is not None)
        return _once([way for way in found if way])

    def way(self, turn: int) -> Way | None:
        """A step, or the way back to which it belongs, with the ways back of all that came after what it takes back."""
        back = self.book.backs.get(turn)
        if back is None:
            return (turn,)
        row = self._unwound(back)
        return None if row is None else tuple(one for one in row if one not in self.chosen)

    def _unwound(self, back: Back) -> Way | None:
        """A way back, after those of later steps that changed the same equipment; None where one of these has none."""
        world, book, need = self.world, self.book, {back.of}
        found: dict[int, Back] = {}
        while need:
            of = max(need)
            need.discard(of)
            own = book.back_of.get(of)
            if own is None or not world.begun[of]:
                return None
            found[of] = own
            for matter, _ in book.changes[of]:
                if not isinstance(matter, str):
                    later = (one for one, _ in book.changers[matter] if one > of and one < book.planned)
                    need |= {one for one in later if world.begun[one] and one not in found}
        return tuple(turn for of in sorted(found, reverse=True) for turn in found[of].turns)

    def _setters(self, item: Item, found: tuple[int, Value] | None) -> frozenset[str]:
        return self.book.people[found[0]] if found else self.world.unseen.get(item, frozenset())

    def _look(
        self, item: Item, state: str, turn: int, found: tuple[int, Value] | None, rest: Rests | None
    ) -> list[Way] | None:
        """A look at a control by somebody else than who set it, if there is none yet; else the plan's own source."""
        setters, since = self._setters(item, found), found[0] if found else BEFORE_ALL
        about = self.book.looks.get((item, state), ()) if setters else ()
        looks = [look for look in about if since < look < turn and self.book.people[look] - setters]
        if not setters or any(look in self.chosen for look in looks):
            return None
        planned = [one for one in (rest.look, rest.source) if one is not None] if rest else []
        ahead = [look for look in looks if self._ahead(look)]
        return self.ways([*(one for one in planned if one in ahead), *ahead, *filter(self._ahead, planned)])

    def _brought(self, turn: int, grasp: Grasp) -> Iterator[Way]:
        """Single ways after which the step has the thing at hand, those first that come first."""
        handling = grasp.handling
        names = [
            handling.thing,
            *(one.id for one in self._chain(turn, handling.thing, handling.act) if one.kind == "bags"),
        ]
        for name in names:
            found = self.last(name, turn)
            since = found[0] if found else BEFORE_ALL
            for one, _ in self.book.changers.get(name, ()):
                way = self.way(one) if since < one < turn and self._ahead(one) else None
                if way and self._would_be_at_hand(way, turn, grasp):
                    yield way

    def _would_be_at_hand(self, way: Way, turn: int, grasp: Grasp) -> bool:
        """Whether the thing is at hand if a way is taken as well."""
        self._effort.spend()
        mark = self.chosen.mark
        for one in way:
            self.chosen.add(one)
        found = self._at_hand(turn, grasp)
        self.chosen.back_to(mark)
        return found

    def _at_hand(self, turn: int, grasp: Grasp) -> bool:
        handling = grasp.handling
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


def _once(ways: list[Way]) -> list[Way]:
    return list(dict.fromkeys(way for way in ways if way))
