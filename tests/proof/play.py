"""Plays every execution of a plan, step by step, with plain dictionaries.

A step begins as soon as all its people are through with what stands before it in their flows and every step of its
`after` is over, runs as long as it likes, and ends. Every order of these beginnings and endings is played; executions
that have come to the same situation go on together. What a step takes, it takes when it begins; all else that it
changes is changed when it ends.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import combinations

from tests.proof.deeds import Deed, Item, Plan, Spot, World, listed

Chain = tuple[tuple[str, str | None], ...]
"""Things from the nearest outwards, each with the step that moved it last (None: nobody in this sortie)."""


@dataclass(frozen=True)
class Moment:
    """A situation in an execution. Everything is kept in sorted tuples, so that equal situations are equal.

    `spots` and `states` hold a value and who changed it last; `unseen` are controls nobody else has looked at, with
    the people who set them; `running` are steps that have begun, with all things that they rely on.
    """

    done: frozenset[str]
    running: tuple[tuple[str, frozenset[str]], ...]
    spots: tuple[tuple[str, tuple[Spot, str | None]], ...]
    states: tuple[tuple[Item, tuple[str, str | None]], ...]
    unseen: tuple[tuple[Item, frozenset[str]], ...]


@dataclass
class Notes:
    """What all executions together show.

    `found` holds, for every handling of a thing, what the step found and whether it could reach it; `met` holds, for
    every needed state, the state, who set it last, and whether somebody else had looked. A pair is `unordered` if the
    first was not over in some execution when the second began.
    """

    found: dict[tuple[str, str, str], set[tuple[Chain, bool]]] = field(default_factory=dict)
    met: dict[tuple[str, Item, str], set[tuple[str, str | None, bool]]] = field(default_factory=dict)
    disturbed_things: set[tuple[str, str]] = field(default_factory=set)
    disturbed_items: set[tuple[str, Item]] = field(default_factory=set)
    unordered: set[tuple[str, str]] = field(default_factory=set)
    at_once: set[tuple[frozenset[str], str]] = field(default_factory=set)
    crowded: set[str] = field(default_factory=set)
    too_many: set[str] = field(default_factory=set)
    carried: set[tuple[str, str]] = field(default_factory=set)
    loose: dict[tuple[str, str, Item], set[tuple[str, bool]]] = field(default_factory=dict)
    entered: set[tuple[str, str, str]] = field(default_factory=set)
    ends: set[Moment] = field(default_factory=set)
    stuck: bool = False


class Player:
    """Plays all executions of a plan."""

    def __init__(self, plan: Plan, world: World) -> None:
        self.plan, self.world, self.notes = plan, world, Notes()
        self.controls = {
            name for name, one in plan.content.get("equipment", {}).items() if one.get("control", "false") == "true"
        }

    def play(self) -> None:
        """Every execution from the beginning to its end; each situation is gone on from once."""
        start = Moment(
            frozenset(), (),
            tuple(sorted((name, (spot, None)) for name, spot in self.world.spots.items())),
            tuple(sorted((item, (state, None)) for item, state in self.world.states.items())),
            tuple(sorted(self.world.open_controls.items())),
        )  # fmt: skip
        seen, ahead = {start}, [start]
        while ahead:
            moment = ahead.pop()
            following = list(self._following(moment))
            if not following:
                if len(moment.done) < len(self.plan.steps):
                    self.notes.stuck = True
                self.notes.ends.add(moment)
            self._look_for_intruders(moment)
            for one in following:
                if one not in seen:
                    seen.add(one)
                    ahead.append(one)

    def _watched(self, control: str, state: str) -> set[str]:
        """The states of a control in which somebody else must look; any where no hazard names it."""
        named = [
            one["controls"][control]
            for one in self.plan.content.get("hazards", {}).values()
            if control in one.get("controls", {})
        ]
        return set(named or [state])

    def _weigh(self, deed: Deed, spots: Mapping[str, tuple[Spot, str | None]]) -> None:
        """Whether what the people of a step have with them is more than they can carry, where the step adds to it."""
        things = {**self.plan.content.get("tools", {}), **self.plan.content.get("bags", {})}
        for person in deed.outside:
            limit = self.plan.content["people"][person].get("carries", {})
            if not limit or not self._gives(deed, person, spots):
                continue
            held = [thing for thing in spots if spots[thing][0] == ("with", person)]
            carried = [thing for thing in spots if self.chain_of(thing, spots)[1][-1] == ("with", person)]
            mass = sum(float(things[thing].get("mass", "0 kg").split()[0]) for thing in carried)
            if len(held) > int(limit.get("items", 99)) or mass > float(limit.get("mass", "999 kg").split()[0]) + 1e-9:
                self.notes.carried.add((deed.key, person))

    def _gives(self, deed: Deed, person: str, spots: Mapping[str, tuple[Spot, str | None]]) -> bool:
        """Whether a step takes something for a person, hands them something, or fills a bag of theirs."""
        takes = bool(deed.picks) and deed.outside[0] == person
        given = person in deed.raw.get("hands", {}).values()
        bags = [goal for goal in deed.raw.get("leaves", {}).values() if goal in self.plan.content.get("bags", {})]
        return takes or given or any(deed.moves.get(bag, spots[bag][0]) == ("with", person) for bag in bags)

    def _look_for_intruders(self, moment: Moment) -> None:
        """Who could be, in this situation, where a running step keeps everybody else away."""
        running = [self.plan.steps[key] for key, _ in moment.running]
        for keeper in running:
            for person in self.plan.walks if keeper.keeps_out else ():
                if person not in listed(keeper.raw["who"]):
                    there = self._spots_of(person, moment)
                    self.notes.entered |= {(keeper.key, spot, person) for spot in keeper.keeps_out if spot in there}

    def _spots_of(self, person: str, moment: Moment) -> set[str]:
        """Where a person may be: where their step runs; else anywhere on the way to the next, its end included."""
        flow, walk = self.plan.flows[person], self.plan.walks[person]
        over = sum(key in moment.done for key in flow)
        if over == len(flow):
            return {walk[-1].goal}
        if flow[over] in {key for key, _ in moment.running}:
            return {walk[over].place, walk[over].goal}
        return {walk[over].place, *walk[over].passed}

    def _following(self, moment: Moment) -> Iterator[Moment]:
        running = {key for key, _ in moment.running}
        for key, deed in self.plan.steps.items():
            if key not in moment.done and key not in running and self.plan.waits[key] <= moment.done:
                yield self._begin(moment, deed)
        for key, _ in moment.running:
            yield self._end(moment, self.plan.steps[key])

    def _begin(self, moment: Moment, deed: Deed) -> Moment:
        spots, states, unseen = dict(moment.spots), dict(moment.states), dict(moment.unseen)
        for key in set(self.plan.steps) - moment.done - {deed.key}:
            self.notes.unordered.add((key, deed.key))
        before = dict(spots)
        for thing in deed.picks:
            if thing in spots and deed.outside:
                spots[thing] = (("with", deed.outside[0]), deed.key)
        self._weigh(deed, spots)
        relied = self._handle(deed, before, spots)
        for item, state, relies, looks in deed.needs:
            value, source = states[item]
            setters = unseen.get(item)
            own_look = looks and setters is not None and bool(set(deed.people) - setters)
            harmless = item[0] not in self.controls or state not in self._watched(item[0], state)
            trusted = harmless or not relies or setters is None or own_look
            self.notes.met.setdefault((deed.key, item, state), set()).add((value, source, trusted))
        for thing, item, state in deed.loosens:
            value, source = states[item]
            self.notes.loose.setdefault((deed.key, thing, item), set()).add((str(source), value != state))
        self._look_around(moment, deed, relied)
        running = (*moment.running, (deed.key, frozenset(relied)))
        return Moment(
            moment.done, tuple(sorted(running, key=lambda one: one[0])), tuple(sorted(spots.items())),
            moment.states, moment.unseen,
        )  # fmt: skip

    def _look_around(self, moment: Moment, deed: Deed, relied: set[str]) -> None:
        """What runs beside a step that begins, and whether one of them changes what the other relies on."""
        for key, theirs in moment.running:
            other = self.plan.steps[key]
            for relying, things, changing in ((deed, relied, other), (other, theirs, deed)):
                self.notes.disturbed_things |= {(relying.key, thing) for thing in things if thing in changing.moves}
                items = (*(one for one, *_ in relying.needs), *(one for _, one, _ in relying.loosens))
                self.notes.disturbed_items |= {(relying.key, item) for item in items if item in changing.sets}
            for thing in set(deed.uses) & set(other.uses):
                if thing not in self.world.stock:
                    self.notes.at_once.add((frozenset((deed.key, key)), thing))
        self._count_heads([*(self.plan.steps[key] for key, _ in moment.running), deed])

    def _count_heads(self, deeds: list[Deed]) -> None:
        """Whether what runs now fits into the places where it runs."""
        *running, newest = deeds
        room = self.plan.content["places"].get(newest.place or "", {}).get("room")
        if room is None or newest.place is None:
            return
        if len(newest.outside) > int(room):
            self.notes.too_many.add(newest.key)
            return
        here = [one for one in running if one.place == newest.place and len(one.outside) <= int(room)]
        for size in range(1, len(here) + 1):
            for others in combinations(here, size):
                if sum(len(one.outside) for one in (*others, newest)) > int(room):
                    self.notes.crowded.add(newest.place)

    def _handle(
        self, deed: Deed, before: Mapping[str, tuple[Spot, str | None]], spots: Mapping[str, tuple[Spot, str | None]]
    ) -> set[str]:
        """Notes what a step finds of each thing that it handles; returns all things on whose whereabouts it relies."""
        bags = self.plan.content.get("bags", {})
        leaves = deed.raw.get("leaves", {})
        acts = [("picks", thing) for thing in deed.picks]
        acts += [("uses", thing) for thing in deed.uses]
        acts += [("spends", thing) for thing in deed.raw.get("spends", {})]
        acts += [("hands", thing) for thing in deed.raw.get("hands", {})]
        acts += [("leaves", thing) for thing in leaves]
        acts += [("into", goal) for goal in leaves.values() if goal in bags]
        relied: set[str] = set()
        for act, thing in acts:
            chain, where = self.chain_of(thing, {**spots, thing: before[thing]} if act == "picks" else spots)
            relied |= {name for name, source in chain if source != deed.key or act == "picks"}
            reachable = self._reachable(deed, act, thing, where)
            self.notes.found.setdefault((deed.key, act, thing), set()).add((chain, reachable))
        return relied

    def chain_of(self, thing: str, spots: Mapping[str, tuple[Spot, str | None]]) -> tuple[Chain, list[Spot]]:
        """The thing and the bags around it with who moved them last, and where each of them is."""
        chain: list[tuple[str, str | None]] = []
        where: list[Spot] = []
        while thing not in [name for name, _ in chain]:
            spot, source = spots[thing]
            chain.append((thing, source))
            where.append(spot)
            if spot[0] != "in":
                break
            thing = spot[1]
        return tuple(chain), where

    def _reachable(self, deed: Deed, act: str, thing: str, where: list[Spot]) -> bool:
        nearest, outermost = where[0], where[-1]
        ours = outermost[0] == "with" and outermost[1] in deed.people
        here = deed.place is not None and outermost == ("at", deed.place)
        in_hand = nearest[0] == "with" and nearest[1] in deed.people
        if act == "picks":
            return nearest[0] != "with" and (ours or here) and bool(deed.outside)
        if act == "hands":
            return in_hand and nearest[1] != deed.raw["hands"][thing]
        if act == "leaves":
            return in_hand
        if act in ("uses", "spends"):
            return in_hand or (nearest[0] == "in" and (ours or here))
        leaves = deed.raw.get("leaves", {})
        around = [thing, *(one[1] for one in where if one[0] == "in")]
        if any(goal == thing and one in around for one, goal in leaves.items()):
            return False  # a bag can't be put into what lies in it
        return ours or here or thing in leaves

    def _end(self, moment: Moment, deed: Deed) -> Moment:
        spots, states, unseen = dict(moment.spots), dict(moment.states), dict(moment.unseen)
        for thing, spot in deed.moves.items():
            spots[thing] = (spot, deed.key)
        self._weigh(deed, spots)
        for item, state in deed.sets.items():
            states[item] = (state, deed.key)
            if item[0] in self.controls:
                unseen[item] = frozenset(deed.people)
        for item, state in deed.looks:
            if states[item][0] == state and set(deed.people) - unseen.get(item, frozenset()):
                unseen.pop(item, None)
        return Moment(
            moment.done | {deed.key}, tuple(one for one in moment.running if one[0] != deed.key),
            tuple(sorted(spots.items())), tuple(sorted(states.items())), tuple(sorted(unseen.items())),
        )  # fmt: skip
