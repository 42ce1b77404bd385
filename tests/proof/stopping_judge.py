"""An independent judge of stops in small plans: tries every set of the steps still to come, and plays each out.

Works on plain data like judge.py, whose player it uses: it knows no book, no turns and no search backwards. A set of
steps closes up if, in every execution of it in the order that the whole plan guarantees, each step finds what it relies
on (states, confirmed controls, things at hand) and all is left as it may be left. All places lie on one line, so that
ways are differences of metres.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import copy
from dataclasses import dataclass
from functools import cached_property
from itertools import combinations

from tests.proof.backs_judge import Back, backs_of, gone_back, in_order, rank
from tests.proof.clocked import begins
from tests.proof.deeds import Content, Deed, Plan, World, first_world
from tests.proof.judge import FINE, _allowed_states, _custody_mark, _may_stay, _state_mark
from tests.proof.play import Moment, Player

METRES = {"lock": 0.0, "bay": 6.0, "rack": 9.0}
PACE = {False: 6.0 / 60, True: 3.0 / 60}
Times = Mapping[str, tuple[float, float]]


@dataclass(frozen=True)
class Called:
    """A stop is called at a moment: the plan, when its steps begin and end, and what is begun by then."""

    plan: Plan
    times: Times
    at: float
    begun: frozenset[str]
    world: World
    first: World

    @property
    def ahead(self) -> list[str]:
        """The steps still to come, in the planned order of their ends."""
        return sorted(set(self.plan.steps) - self.begun, key=lambda key: self.times[key][1])

    @cached_property
    def before(self) -> dict[str, set[str]]:
        return guaranteed(self.plan)

    @cached_property
    def backs(self) -> list[Back]:
        return backs_of(self.plan, self.before)

    @cached_property
    def deeds(self) -> dict[str, Deed]:
        """Every step, those of ways back with them."""
        return {**self.plan.steps, **{deed.key: deed for back in self.backs for deed in back.deeds}}

    @cached_property
    def ends(self) -> dict[str, float]:
        return {key: end for key, (_, end) in self.times.items()}

    def in_turn(self, chosen: frozenset[str]) -> list[str]:
        """Steps in the order in which a stop does them."""
        ranks = rank(self.plan, self.backs, self.ends)
        return sorted(chosen, key=ranks.__getitem__)

    def waits(self, chosen: frozenset[str]) -> dict[str, set[str]]:
        """For each step, all of the chosen ones that must be over before it."""
        steps, row = self.plan.steps, self.in_turn(chosen)
        found: dict[str, set[str]] = {}
        for number, key in enumerate(row):
            own = {
                one for one in row[:number]
                if (one not in steps or key not in steps)
                and in_order(self.plan.content, self.deeds[one], self.deeds[key])
            }  # fmt: skip
            found[key] = own | (self.before.get(key, set()) & chosen)
        return found


def called(content: Content, name: str, times: Times, at: float) -> Called:
    """The stop of a content's first sortie at a moment."""
    plan, first = Plan(content, content["sorties"][name], frozenset()), first_world(content)
    begun = frozenset(
        key for key, (start, end) in times.items() if end <= at or (start < at and changes(plan.steps[key]))
    )
    player = Player(plan, first)
    moment = _started(first)
    for key in sorted(begun, key=lambda key: times[key][1]):
        moment = player._end(player._begin(moment, plan.steps[key]), plan.steps[key])
    stock = dict(first.stock)
    for key in begun:
        for lot, number in plan.steps[key].lots.items():
            stock[lot] -= number
    spots, states = dict(moment.spots), dict(moment.states)
    world = World(
        {thing: spot for thing, (spot, _) in spots.items()}, {item: state for item, (state, _) in states.items()},
        stock, dict(moment.unseen),
    )  # fmt: skip
    return Called(plan, times, at, begun, world, first)


def _started(world: World) -> Moment:
    return Moment(
        frozenset(), (),
        tuple(sorted((name, (spot, None)) for name, spot in world.spots.items())),
        tuple(sorted((item, (state, None)) for item, state in world.states.items())),
        tuple(sorted(world.open_controls.items())),
    )  # fmt: skip


def changes(deed: Deed) -> bool:
    """Whether a step changes anything, so that it is brought to its end."""
    return bool(deed.sets or deed.moves or deed.lots)


def guaranteed(plan: Plan) -> dict[str, set[str]]:
    """For every step, all that is over before it begins, whatever the durations."""
    before: dict[str, set[str]] = {}

    def over(key: str) -> set[str]:
        if key not in before:
            before[key] = set().union(*({one, *over(one)} for one in plan.waits[key]))
        return before[key]

    for key in plan.steps:
        over(key)
    return before


def closes_up(stop: Called, chosen: frozenset[str]) -> bool:
    """Whether these steps, and no others, close up in every execution."""
    reduced = copy(stop.plan)
    reduced.steps = {key: deed for key, deed in stop.deeds.items() if key in chosen}
    reduced.waits = stop.waits(chosen)
    player = Player(reduced, stop.world)
    player.play()
    marks = [_custody_mark(about, one, player.notes) for about, one in player.notes.found.items()]
    marks += [_state_mark(need, one, player.notes) for need, one in player.notes.met.items()]
    return set(marks) <= {FINE} and _ends_well(stop, player) and not begins_anew(stop, chosen)


def begins_anew(stop: Called, chosen: frozenset[str]) -> bool:
    """Whether equipment that is at rest, and no control, is another in the end: work begun that only ends forwards.

    A task in which something was changed already may do so at one stroke: from rest to rest.
    """
    at_work = {key.split("/")[0] for key in stop.begun if changes(stop.plan.steps[key]) or _moves(stop.plan.steps[key])}
    for item, now in stop.world.states.items():
        fine = {stop.first.states[item], *_allowed_states(stop.plan, item[0])}
        control = stop.plan.content["equipment"][item[0]].get("control") == "true"
        row = [key for key in stop.in_turn(chosen) if item in stop.deeds[key].sets]
        if now not in fine or control or not row or stop.deeds[row[-1]].sets[item] == now:
            continue
        if not all(key.split("/")[0] in at_work and stop.deeds[key].sets[item] in fine for key in row):
            return True
    return False


def _moves(deed: Deed) -> bool:
    return bool(deed.raw.get("anchors") or deed.raw.get("to"))


def _ends_well(stop: Called, player: Player) -> bool:
    """Whether all is left as it may end, or as the sortie found it."""
    stock = dict(stop.world.stock)
    for deed in player.plan.steps.values():
        for lot, number in deed.lots.items():
            stock[lot] -= number
    for end in player.notes.ends:
        for item, (state, _) in end.states:
            if state != stop.first.states[item] and state not in _allowed_states(stop.plan, item[0]):
                return False
        spots = dict(end.spots)
        for thing, (spot, _) in spots.items():
            as_found = spot == stop.first.spots[thing]
            if stock.get(thing, 1) > 0 and not as_found and not _lies_well(stop, player, thing, spots):
                return False
    return True


def _lies_well(stop: Called, player: Player, thing: str, spots: dict[str, tuple[tuple[str, str], str | None]]) -> bool:
    _, where = player.chain_of(thing, spots)
    found = stop.first.spots[thing]
    return _may_stay(player, thing, spots) or (where[0][0] != "with" and found in where)


# How long it takes ------------------------------------------------------------------------------------------------


def seconds(stop: Called, chosen: frozenset[str]) -> float:
    """Until the chosen steps are done and everybody is home, from the moment on."""
    plan, before = stop.plan, stop.before
    ends: dict[str, float] = {}
    order, waits = stop.in_turn(chosen), stop.waits(chosen)
    people = {person: _Person(stop, person, order) for person in plan.flows}
    for key in order:
        deed = stop.deeds[key]
        start = max(people[one].there(deed) for one in deed.people if one in people)
        start = max([start, *(ends[one] for one in waits[key]), *_running_before(stop, key)])
        for person in people.values():
            if person.outside and person.name not in deed.people and _comes_in_first(stop, person.name, key, before):
                start = max(start, person.home)
        start = begins(plan.content, plan.sortie, key, stop.at + start) - stop.at if key in plan.steps else start
        ends[key] = start + _lasts(stop, key)
        for one in set(deed.people) & set(people):
            people[one].go_on(deed, ends[key])
    homes = [person.home for person in people.values() if person.outside]
    running = [stop.times[key][1] - stop.at for key in stop.begun]
    return max([0.0, *homes, *ends.values(), *running])


def _running_before(stop: Called, key: str) -> Iterator[float]:
    """When steps that are brought to their end are over, for which a step waits."""
    for one in stop.begun:
        if one in stop.before.get(key, ()) or (
            key not in stop.plan.steps and in_order(stop.plan.content, stop.plan.steps[one], stop.deeds[key])
        ):
            yield stop.times[one][1] - stop.at


def _lasts(stop: Called, key: str) -> float:
    if key in stop.times:
        return stop.times[key][1] - stop.times[key][0]
    deed = stop.deeds[key]
    return float(deed.raw["takes"].split()[0]) * 60 * deed.times


class _Person:
    """Where somebody is and from when on they are free, which bags they carry, and when they are home for good."""

    def __init__(self, stop: Called, name: str, order: list[str]) -> None:
        self.stop, self.name = stop, name
        self.outside = stop.plan.content["people"][name]["post"] == "outside"
        self.away = [key for key in order if name in stop.deeds[key].outside and _away(stop.deeds[key])]
        self.bags = {bag for bag in stop.plan.content["bags"] if stop.world.spots[bag] == ("with", name)}
        self.free = self.metre = 0.0
        self._stand()
        self.home = self._way(0.0)

    def _stand(self) -> None:
        """At the place of the last step begun, or on the way from there to the next."""
        stop, flow = self.stop, self.stop.plan.flows[self.name]
        since = 0.0
        for deed in (stop.plan.steps[key] for key in flow if key in stop.begun):
            since = stop.times[deed.key][1]
            self.metre = METRES[deed.place] if self.outside and deed.place else self.metre
        self.free = max(0.0, since - stop.at)
        following = next((stop.plan.steps[key] for key in flow if key not in stop.begun), None)
        if self.outside and following and following.place and not self.free:
            way, gone = METRES[following.place] - self.metre, (stop.at - since) * PACE[bool(self.bags)]
            self.metre += max(-gone, min(gone, way))

    def _way(self, metre: float) -> float:
        return self.free + abs(metre - self.metre) / PACE[bool(self.bags)]

    def there(self, deed: Deed) -> float:
        """From when on they can begin a step."""
        return self._way(METRES[deed.place]) if self.name in deed.outside and deed.place else self.free

    def go_on(self, deed: Deed, end: float) -> None:
        self.free = end
        if self.name in deed.outside and deed.place:
            self.metre = METRES[deed.place]
        for thing, spot in deed.moves.items():
            if thing in self.stop.plan.content["bags"]:
                (self.bags.add if spot == ("with", self.name) else self.bags.discard)(thing)
        if deed.key in self.away:
            self.home = self._way(0.0)


def _away(deed: Deed) -> bool:
    return deed.place not in (None, "lock")


def _comes_in_first(stop: Called, person: str, key: str, before: Mapping[str, set[str]]) -> bool:
    """Whether the plan has the step wait for a person's first step at home for good; or a way back waits for them."""
    if key not in stop.plan.steps:
        back = next(back for back in stop.backs if key in {deed.key for deed in back.deeds})
        return person in back.waits and person not in stop.deeds[key].outside
    flow = stop.plan.flows[person]
    away = [number for number, one in enumerate(flow) if _away(stop.plan.steps[one])]
    first = flow[away[-1] + 1 : away[-1] + 2] if away else flow[:1]
    return bool(first) and first[0] in before[key]


def better(stop: Called, than: float) -> Iterator[frozenset[str]]:
    """Every set of steps that closes up in less time, ways back whole; the smallest first."""
    parts = [frozenset({key}) for key in stop.ahead]
    parts += gone_back(stop.plan, stop.backs, stop.begun, stop.ends)
    seen: set[frozenset[str]] = set()
    for size in range(len(parts) + 1):
        for one in combinations(parts, size):
            chosen = frozenset().union(*one)
            if chosen not in seen and seconds(stop, chosen) < than - 1e-6 and closes_up(stop, chosen):
                yield chosen
            seen.add(chosen)
