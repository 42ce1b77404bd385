"""Which steps close what is open at a moment: steps still to come, and ways back; and what these rely on in their turn.

Pure: the world at a moment goes in, turns come out. One open matter is closed after the other, what was opened last
first; each with all that its steps rely on and with all that they open themselves, or not at all: then it is stuck.
What merely came before in the flow is left out. Nothing is begun whose only end is forwards (`_beyond`).
"""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterable, Iterator, Set
from enum import StrEnum

from briefgen.proof.holding.custody import Spot
from briefgen.proof.holding.endings import around, lies_well
from briefgen.proof.stopping.book import Matter, Value
from briefgen.proof.stopping.search.chosen import Chosen
from briefgen.proof.stopping.search.effort import Effort
from briefgen.proof.stopping.search.relying import AFTER_ALL, BEFORE_ALL, Prefix, Reliance, Way
from briefgen.proof.stopping.world import World

MOST = 400
"""How many ways are tried to close one matter, before it counts as stuck."""
AT_A_LOOK = 250
"""Open matters that are gone through in about the time that one way takes to be tried."""
Lacking = tuple[int, Reliance]


class Prefer(StrEnum):
    """What is tried first where both a way back and steps still to come would do."""

    BACK = "back"
    FORWARD = "forward"
    QUICK = "quick"


class Closing:
    """The steps that close up from a moment. `chosen` are their turns; `stuck` are matters that nothing closes.

    `_checks` are the reliances of chosen steps still to look at. `barred` are ways that may not be gone. Where the
    search was given up early there may be a quicker way, and it is not `searched`. Only what is preferred `otherwise`
    could have led to others.
    """

    def __init__(
        self, world: World, effort: Effort, prefer: Prefer = Prefer.FORWARD, barred: Collection[int] = ()
    ) -> None:
        self.world, self.book, self._prefer, self._barred = world, world.book, prefer, frozenset(barred)
        self.stuck: dict[Matter, None] = {}
        self.searched = True
        self._settled, self._effort = False, effort
        self.otherwise: set[Prefer] = set()
        self._choose(Chosen(world))
        self._checks: dict[Lacking, None] = {}

    @classmethod
    def to_the_end(cls, world: World, effort: Effort) -> Closing:
        """The plan gone to its end, unsearched: what the plan closes is closed, and the rest is stuck."""
        closing = cls(world, effort)
        closing._choose(Chosen(world, (turn for turn in range(world.book.planned) if not world.begun[turn])))
        closing.stuck = dict.fromkeys(closing._left_open())
        closing._settled, closing.searched = True, False
        return closing

    def _choose(self, chosen: Chosen) -> None:
        self.chosen = chosen
        self._prefix = Prefix(self.world, self.chosen, self._effort)
        self._start = {matter: place for place, matter in enumerate(self.world.open)}

    def settle(self) -> None:
        """Closes whatever can be closed; raises TooMuchOpenError where that is too much to search."""
        if self._settled:
            return
        key = (frozenset(self.world.told), self._prefer, self._barred)
        if key in self.world.searches:
            self._repeat(*self.world.searches[key])
        else:
            self._search()
            self.world.searches[key] = self.chosen.copy(self.world), tuple(self.stuck), frozenset(self.otherwise)
        self._settled = True

    def _repeat(self, chosen: Chosen, stuck: Iterable[Matter], otherwise: Iterable[Prefer]) -> None:
        """What was found from another moment at which the same was done."""
        self._choose(chosen.copy(self.world))
        self.stuck = dict.fromkeys(stuck)
        self.otherwise |= {*otherwise}

    def _search(self) -> None:
        waiting = dict.fromkeys(sorted(self.world.open, key=self.world.since, reverse=True))
        for matter in tuple(waiting):
            del waiting[matter]
            self.stuck.pop(matter, None)
            if matter not in self.chosen.ajar:
                continue
            if not self._bring(self._closers(matter), {*waiting, *self.stuck}):
                self.stuck[matter] = None

    def take(self, turns: Iterable[int]) -> bool:
        """Takes steps as well, with all that they rely on; whether any is new and that can be done."""
        way = tuple(turn for turn in turns if turn not in self.chosen and not self._over(turn))
        return bool(way) and self._bring([way], {*self.stuck})

    def goes_on(self, turns: Collection[int]) -> bool:
        """Whether the same steps, but for those of these that are done now, still close up what is open.

        So it is where each was chosen, or does nothing on which another step could rely; a lot that is spent may need
        no closing any more. What is done now may be taken back, or let what was stuck be closed.
        """
        book = self.book
        if self.stuck or book.backs or not self.searched or not all(map(self._no_news, turns)):
            return False
        if any(book.steps[turn].step.spends for turn in turns):
            return False
        self._choose(Chosen(self.world, [turn for turn in self.chosen if turn not in turns]))
        return True

    def _no_news(self, turn: int) -> bool:
        return turn in self.chosen or (self.book.quiet[turn] and not self.book.sees[turn])

    def needs_passing(self, turn: int, control: tuple[tuple[str, tuple[str, ...]], str]) -> bool | None:
        """Lets a control hold for somebody who passes a hazard ahead of that turn.

        None where it does already, or nothing can be done; else whether anything was.
        """
        ways = self._prefix.passing(*control, turn)
        return None if ways is None else self._bring(ways, {*self.stuck})

    def closes(self, matter: Matter) -> int | None:
        """The last chosen step that changes a matter, or a bag around it."""
        names = (matter, *self._bags(matter)) if isinstance(matter, str) else (matter,)
        found = (self._prefix.last(name, AFTER_ALL) for name in names)
        return max((one[0] for one in found if one), default=None)

    def left_by(self, matter: Matter) -> tuple[int, Value]:
        """The chosen step that leaves a matter as it is in the end, and how that is."""
        turn = self.closes(matter)
        assert turn is not None  # asked of what chosen steps have changed
        return turn, self._prefix.value(matter, AFTER_ALL)

    # The search: depth first, each frame the ways to mend what lacks next.

    def _bring(self, ways: list[Way], allowed: Set[Matter]) -> bool:
        """Takes one of the ways with all that it needs, so that nothing but what is `allowed` is left open."""
        start, left = self._saved(), MOST
        frames = [(start, iter(self._sorted(ways)))]
        while frames and left:
            base, options = frames[-1]
            way = next(options, None)
            if way is None:
                frames.pop()
                continue
            left -= 1
            self._effort.spend(1 + len(self.chosen.ajar) // AT_A_LOOK)
            self._restore(base)
            if self._take(way):
                lack = self._lack(allowed)
                if lack is None:
                    return True
                frames.append((self._saved(), iter(self._sorted(lack))))
        self._restore(start)
        return False

    def _saved(self) -> tuple[int, dict[Lacking, None]]:
        return self.chosen.mark, dict(self._checks)

    def _restore(self, saved: tuple[int, dict[Lacking, None]]) -> None:
        self.chosen.back_to(saved[0])
        self._checks = dict(saved[1])

    def _sorted(self, ways: list[Way]) -> list[Way]:
        """The ways, those first that are preferred; what would be preferred otherwise is `otherwise`."""
        backs, steps = self.book.backs, self.book.steps
        if not backs or len(ways) < 2:
            return ways
        keys: dict[Prefer, Callable[[Way], float]] = {
            Prefer.BACK: lambda way: way[0] not in backs,
            Prefer.FORWARD: lambda way: way[0] in backs,
            Prefer.QUICK: lambda way: sum(steps[turn].duration.likely for turn in way),
        }
        orders = {prefer: sorted(ways, key=key) for prefer, key in keys.items()}
        self.otherwise |= {prefer for prefer, order in orders.items() if order != orders[self._prefer]}
        return orders[self._prefer]

    def _take(self, way: Way) -> bool:
        """Takes the steps of a way; whether any is new and all may be done."""
        new = [turn for turn in way if turn not in self.chosen]
        if not new or any(turn in self._barred or self._beyond(turn) for turn in new):
            return False
        for turn in new:
            self.chosen.add(turn)
            self._checks.update(dict.fromkeys(self._touched(turn)))
            self._checks.update(((turn, one), None) for one in self._prefix.unsure(turn))
        return True

    def _touched(self, turn: int) -> list[Lacking]:
        """What chosen steps after a turn rely on that may be another now."""
        relying = (self.book.relying.get(matter, ()) for matter, _ in self.book.changes[turn])
        found = [one for row in relying for one in row if one[0] > turn and one[0] in self.chosen]
        return sorted(found, key=lambda one: one[0]) if len(found) > 1 else found

    def _beyond(self, turn: int) -> bool:
        """Whether a step begins what only ends forwards: it changes equipment that is at rest, and nothing turns back.

        In a task that is begun, a step may do at one stroke what is a fine end as well. Controls may be set.
        """
        world, book = self.world, self.book
        begun = turn in book.backs or str(book.steps[turn].task.id) in world.tasks
        for item, value in book.changes[turn]:
            if isinstance(item, str) or item in world.open or book.plan.library.equipment[item[0]].control:
                continue
            if value != world.states[item] and not (begun and value in world.fine[item]):
                later = (one for one, back in book.changers[item] if one > turn and back == world.states[item])
                if not any(not self._over(one) for one in later):
                    return True
        return False

    def _lack(self, allowed: Set[Matter]) -> list[Way] | None:
        """The ways to mend the next thing that is wanting; None where nothing is."""
        while self._checks:
            about = next(reversed(self._checks))
            ways = self._prefix.lacks(*about)
            if ways is not None:
                return ways
            del self._checks[about]
        for matter in self._left_open(allowed):
            return self._closers(matter)
        return [] if self.chosen.restless else None

    # What is left open, and what closes it

    def _left_open(self, allowed: Set[Matter] = frozenset()) -> list[Matter]:
        """What is open once the chosen steps are done, but for what is allowed to be: first equipment, then things."""
        found = self.chosen.ajar - allowed
        return sorted(found, key=self._place) if len(found) > 1 else list(found)

    def _place(self, matter: Matter) -> tuple[bool, bool, int]:
        """What was open already before what is opened on the way, and that in the order of the steps."""
        if isinstance(matter, str):
            return True, False, self.world.places[matter]
        new = matter not in self.world.open
        return False, new, self.chosen.changing(matter)[0] if new else self._start[matter]

    def _bags(self, thing: str) -> tuple[str, ...]:
        """The bags around a thing in the end, from the innermost out."""
        spots = self.chosen.spots
        return tuple(one.id for one in around(spots, thing, spots[thing]) if one.kind == "bags")

    def _closers(self, matter: Matter) -> list[Way]:
        turns = self._closes_thing(matter) if isinstance(matter, str) else self._closes_item(matter)
        return self._prefix.ways(turns)

    def _closes_item(self, item: tuple[str, tuple[str, ...]]) -> list[int]:
        """The steps that bring an item into a state in which it may end, the next first."""
        fine = self.world.fine[item]
        return [turn for turn, value in self._ahead(item) if value in fine]

    def _closes_thing(self, thing: str) -> list[int]:
        """The steps that bring a thing where it may stay, itself or in a bag; else the last that moves it at all."""
        names, spots, fine = (thing, *self._bags(thing)), self.chosen.spots, self.world.fine[thing]
        ahead = [(name, turn, spot) for name in names for turn, spot in self._ahead(name) if isinstance(spot, Spot)]
        lies = [turn for name, turn, spot in ahead if lies_well(around(spots, name, spot), fine)]
        moves = [(name, turn) for name, turn, _ in ahead if turn not in self.book.backs]
        return list(dict.fromkeys([*lies, *dict(moves).values()]))

    def _ahead(self, matter: Matter) -> Iterator[tuple[int, Value]]:
        """The changes of a matter still to come after those that are chosen."""
        found = self._prefix.last(matter, AFTER_ALL)
        last = found[0] if found else BEFORE_ALL
        for turn, value in self.book.changers.get(matter, ()):
            if turn > last and not self._over(turn):
                yield turn, value

    def _over(self, turn: int) -> bool:
        return 0 <= turn < self.book.planned and self.world.begun[turn]
