"""Acts a random plan out, one step after the other, and writes it down with the links that it needs to be sound.

Each step does what can be done in the world as the steps before left it. An `after` link is added where two steps of
different people touch the same thing, state, tool or place; in the end things are put back.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from typing import Any

Content = dict[str, dict[str, Any]]
Raw = dict[str, Any]
Spot = tuple[str, str]
MOST_STEPS = 8
STATES: dict[str, list[str]] = {"feed": ["on", "off"], "cover": ["shut", "open"], "plates": ["out", "in"]}
ITEMS: dict[str, list[tuple[str, ...]]] = {
    "feed": [()],
    "cover": [()],
    "plates": [("1", "a"), ("1", "b"), ("2", "a"), ("2", "b")],
}


@dataclass
class Scene:
    """The world as it is while the plan is acted out."""

    rng: random.Random
    content: Content = field(init=False)
    spots: dict[str, Spot] = field(init=False)
    states: dict[tuple[str, tuple[str, ...]], str] = field(init=False)
    unseen: dict[str, set[str]] = field(default_factory=dict)
    left: int = 0

    def __post_init__(self) -> None:
        rng = self.rng
        self.content = _bare(rng)
        bags = self.content["bags"]
        things = {**self.content["tools"], **bags}
        self.spots = {name: ("in" if one["stowed"] in bags else "at", one["stowed"]) for name, one in things.items()}
        self.states = {(name, item): STATES[name][0] for name, items in ITEMS.items() for item in items}
        self.left = int(self.content["tools"]["clips"]["count"])

    def chain(self, thing: str) -> list[tuple[str, Spot]]:
        """The thing and the bags around it, each with its spot."""
        chain = [(thing, self.spots[thing])]
        while chain[-1][1][0] == "in":
            bag = chain[-1][1][1]
            chain.append((bag, self.spots[bag]))
        return chain

    def at_hand(self, thing: str, place: str, people: list[str]) -> bool:
        """Whether the thing, or a bag around it, is at the place or with one of the people."""
        kind, name = self.chain(thing)[-1][1]
        return name == place if kind == "at" else name in people

    def held(self, people: list[str]) -> list[str]:
        return [thing for thing, (kind, name) in self.spots.items() if kind == "with" and name in people]


def _bare(rng: random.Random) -> Content:
    outside = rng.choice([1, 2, 2, 2, 3, 3])
    others = [name for name in ("desk", "ground") if rng.random() < 0.55]
    if outside + len(others) < 2:
        others = ["ground"]
    people: Raw = {f"ev{n}": {"label": f"EV{n}", "post": "outside"} for n in range(1, outside + 1)}
    people |= {
        name: {"label": name, "post": "inside" if name == "desk" else "ground"} for name in others[: 4 - outside]
    }
    places: Raw = {"lock": {"home": "true"}, "bay": {}, "rack": {}}
    for name in places:
        if rng.random() < 0.35:
            places[name]["room"] = rng.choice(["1", "2"])
    ends: dict[str, Any] = {name: rng.choice([None, None, "any", [*STATES[name]]]) for name in STATES}
    equipment: Raw = {
        name: {"states": [*states], "starts": states[0], **({"ends": ends[name]} if ends[name] else {})}
        for name, states in STATES.items()
    }
    equipment["feed"]["control"] = "true"
    equipment["plates"]["parts"] = {"row": ["1", "2"], "seat": ["a", "b"]}
    return {
        "programme": {"p": {"title": "P", "paces": {"outside": "6 m/min", "loaded": "3 m/min"}}},
        "people": people,
        "places": places,
        "routes": {
            "r1": {"between": ["lock", "bay"], "length": "6 m"},
            "r2": {"between": ["bay", "rack"], "length": "3 m"},
        },
        "tools": {
            "driver": {"stowed": rng.choice(["lock", "bag", "bay", "pouch"])},
            "socket": {"stowed": rng.choice(["bag", "pouch", "box", "rack"])},
            "clips": {"stowed": rng.choice(["bag", "pouch", "lock"]), "count": str(rng.randint(2, 5))},
        },
        "bags": {
            "bag": {"stowed": rng.choice(["lock", "bay"])},
            "pouch": {"stowed": rng.choice(["bag", "bag", "lock", "rack"])},
            "box": {"stowed": rng.choice(["pouch", "bag", "lock"])},
        },
        "equipment": equipment,
        "tasks": {},
        "sorties": {},
    }


@dataclass
class _Done:
    """A step as acted out: who, the record, and what it touches (things, items, tools and places)."""

    people: list[str]
    raw: Raw
    outside: list[str]
    place: str
    relied: set[Any] = field(default_factory=set)
    changed: set[Any] = field(default_factory=set)
    used: set[str] = field(default_factory=set)
    looked: set[Any] = field(default_factory=set)

    def clashes_with(self, other: _Done, rooms: dict[str, int]) -> bool:
        """Whether their order matters."""
        touched, theirs = self.relied | self.changed, other.relied | other.changed
        crowd = len(self.outside) + len(other.outside)
        return bool(
            self.changed & theirs
            or other.changed & touched
            or self.used & other.used
            or self.looked & theirs
            or (self.place == other.place and self.outside and other.outside and crowd > rooms.get(self.place, 9))
        )


class Act:
    """One sortie, acted out and written down."""

    def __init__(self, scene: Scene, name: str, most: int) -> None:
        self.scene, self.rng, self.content = scene, scene.rng, scene.content
        self.name, self.most = name, most
        self.outside = [one for one, record in self.content["people"].items() if record["post"] == "outside"]
        self.steps: list[_Done] = []

    def write(self) -> None:
        """Plays the sortie and writes its tasks, flows and links into the content."""
        wanted = self.rng.randint(min(4, self.most - 2), self.most - 1)
        holders = 0
        while len(self.steps) < wanted and len(self.steps) + holders < self.most:
            self._step()
            holders = len({name for kind, name in self.scene.spots.values() if kind == "with"})
        self._put_back()
        keys = self._tasks()
        self._links(keys)
        self._flows(keys)

    # One step

    def _step(self) -> None:
        rng = self.rng
        people = rng.sample(list(self.content["people"]), 2 if rng.random() < 0.22 else 1)
        outside = [one for one in people if one in self.outside]
        place = rng.choice(["lock", "bay", "rack"])
        step = _Done(people, {"who": people if len(people) > 1 else people[0]}, outside, place)
        # Who goes somewhere mostly goes where there is something to do.
        if outside and rng.random() < 0.6:
            spots = [self.scene.chain(thing)[-1][1] for thing in self.scene.spots]
            step.place = place = rng.choice([name for kind, name in spots if kind == "at"] or [place])
        acts = [self._pick, self._use, self._hand, self._leave, self._spend] if outside else []
        acts += [self._set, self._require, self._verify]
        for act in sorted(rng.sample(acts, min(len(acts), rng.choice([1, 2, 3, 4]))), key=[*acts].index):
            act(step)
        self.steps.append(step)

    def _rely(self, step: _Done, thing: str) -> None:
        step.relied |= {name for name, _ in self.scene.chain(thing)}

    def _pick(self, step: _Done) -> None:
        scene = self.scene
        free = [
            thing for thing, spot in scene.spots.items()
            if spot[0] != "with" and scene.at_hand(thing, step.place, step.people)
        ]  # fmt: skip
        if not free:
            return
        touched = {thing for one in self.steps for thing in one.changed}
        # What somebody moved before is what a race can be about.
        thing = self.rng.choice([one for one in free if one in touched and self.rng.random() < 0.8] or free)
        self._rely(step, thing)
        step.raw["picks"] = [thing]
        step.changed.add(thing)
        scene.spots[thing] = ("with", step.outside[0])

    def _usable(self, step: _Done, things: list[str]) -> list[str]:
        scene = self.scene
        return [
            thing
            for thing in things
            if thing in scene.held(step.people)
            or (scene.spots[thing][0] == "in" and scene.at_hand(thing, step.place, step.people))
        ]

    def _use(self, step: _Done) -> None:
        usable = self._usable(step, list(self.scene.spots))
        if usable:
            used = [thing for one in self.steps for thing in one.used if thing in usable]
            thing = self.rng.choice(used or usable)
            self._rely(step, thing)
            if thing != "clips":
                step.used.add(thing)
            step.raw["with"] = [thing]

    def _spend(self, step: _Done) -> None:
        if self._usable(step, ["clips"]) and self.scene.left > 0:
            number = self.rng.randint(1, min(2, self.scene.left))
            self._rely(step, "clips")
            self.scene.left -= number
            step.raw["spends"] = {"clips": str(number)}

    def _hand(self, step: _Done) -> None:
        held = self.scene.held(step.outside)
        if len(step.outside) == 2 and held:
            thing = self.rng.choice(held)
            giver = self.scene.spots[thing][1]
            taker = next(one for one in step.outside if one != giver)
            step.relied.add(thing)
            step.changed.add(thing)
            step.raw["hands"] = {thing: taker}
            self.scene.spots[thing] = ("with", taker)

    def _leave(self, step: _Done) -> None:
        held = self.scene.held(step.outside)
        if held:
            self._leave_one(step, self.rng.choice(held))

    def _leave_one(self, step: _Done, thing: str) -> None:
        scene = self.scene
        bags = [
            bag for bag in self.content["bags"]
            if scene.at_hand(bag, step.place, step.people) and thing not in [name for name, _ in scene.chain(bag)]
        ]  # fmt: skip
        goal = self.rng.choice([step.place, *bags])
        if goal in bags:
            self._rely(step, goal)
        step.relied.add(thing)
        step.changed.add(thing)
        step.raw.setdefault("leaves", {})[thing] = goal
        scene.spots[thing] = ("in" if goal in bags else "at", goal)

    def _chosen(self, step: _Done, name: str) -> list[tuple[str, tuple[str, ...]]]:
        """The items that the step means by a name; a step may narrow down its choice."""
        if name == "plates" and "each" not in step.raw and self.rng.random() < 0.7:
            row = self.rng.choice(["1", "2"])
            step.raw["each"] = {"equipment": "plates", "where": {"row": [row]}} if self.rng.random() < 0.6 else "plates"
        each = step.raw.get("each")
        rows = each["where"]["row"] if isinstance(each, dict) else ["1", "2"]
        return [(name, item) for item in ITEMS[name] if name != "plates" or item[0] in rows]

    def _set(self, step: _Done) -> None:
        name = self.rng.choice([*STATES])
        items = self._chosen(step, name)
        state = next(one for one in STATES[name] if one != self.scene.states[items[0]])
        step.raw["sets"] = {name: state}
        for item in items:
            self.scene.states[item] = state
            step.changed.add(item)
        self.scene.unseen[name] = set(step.people)

    def _now(self, step: _Done) -> tuple[str, str, list[tuple[str, tuple[str, ...]]]] | None:
        """An equipment whose items are all in one state now, with that state."""
        name = self.rng.choice([*STATES, "feed"])
        items = self._chosen(step, name)
        now = {self.scene.states[item] for item in items}
        if len(now) > 1 or name in step.raw.get("sets", {}):
            return None
        return name, now.pop(), items

    def _require(self, step: _Done) -> None:
        found = self._now(step)
        if found is None or (found[0] == "feed" and self.scene.unseen.get("feed") and self.rng.random() < 0.85):
            return
        name, state, items = found
        step.raw.setdefault("requires", {})[name] = state
        step.relied |= set(items)

    def _verify(self, step: _Done) -> None:
        found = self._now(step)
        if found is None:
            return
        name, state, items = found
        step.raw["verifies"] = {name: state}
        step.relied |= set(items)
        if set(step.people) - self.scene.unseen.get(name, set()):
            self.scene.unseen.pop(name, None)
            step.looked |= set(items)

    # The end

    def _put_back(self) -> None:
        scene = self.scene
        for person in self.outside:
            held = scene.held([person])
            if held:
                step = _Done([person], {"who": person}, [person], "lock")
                for thing in held:
                    self._leave_one(step, thing)
                self.steps.append(step)
        for thing, (kind, _) in scene.spots.items():
            record = (self.content["tools"] | self.content["bags"])[thing]
            place = scene.chain(thing)[-1][1][1]
            if kind == "at" and place != "lock" and self.rng.random() < 0.9:
                _add_end(record, place)
            elif kind == "in" and self.rng.random() < 0.5:
                _add_end(record, scene.spots[thing][1])
        for name in STATES:
            record = self.content["equipment"][name]
            now = {scene.states[name, item] for item in ITEMS[name]}
            if now - {record["starts"]} and "ends" not in record and self.rng.random() < 0.9:
                record["ends"] = self.rng.choice(["any", sorted(now | {record["starts"]})])

    # Writing it down

    def _tasks(self) -> list[str]:
        """Spreads the steps over tasks; returns each step's key."""
        rng = self.rng
        count = rng.randint(1, 3)
        names = [f"{self.name}-{chr(97 + number)}" for number in range(count)]
        mixed = rng.random() < 0.3
        keys = []
        for number, step in enumerate(self.steps):
            name = rng.choice(names) if mixed else names[number * count // len(self.steps)]
            task = self.content["tasks"].setdefault(name, {"title": name, "purpose": "A test.", "steps": []})
            raw = {"do": "Work.", "takes": f"{rng.randint(1, 9)} min", **step.raw}
            if step.outside:
                raw["at"] = step.place
            if rng.random() < 0.6:
                raw["id"] = f"x{len(task['steps']) + 1}"
            task["steps"].append(raw)
            step.raw = raw
            counted = str(len(task["steps"]))
            keys.append(f"{name}/{rng.choice([raw.get('id', counted), counted])}")
        used = [name for name in names if name in self.content["tasks"]]
        for name in used:
            if rng.random() < 0.25:
                self.content["tasks"][name]["priority"] = rng.choice(["time-permitting", "get-ahead"])
        if len(used) > 1 and rng.random() < 0.15:
            first, second = sorted(rng.sample(used, 2))
            self.content["tasks"][second]["prerequisites"] = [first]
        return keys

    def _links(self, keys: list[str]) -> None:
        """An `after` wherever the order of two steps matters and nothing yet makes sure of it."""
        rooms = {name: int(one["room"]) for name, one in self.content["places"].items() if "room" in one}
        behind: list[set[int]] = []
        last: dict[str, int] = {}
        for number, step in enumerate(self.steps):
            direct = [last[person] for person in step.people if person in last]
            known = {one for earlier in direct for one in (earlier, *behind[earlier])}
            for other in range(number - 1, -1, -1):
                if other not in known and step.clashes_with(self.steps[other], rooms):
                    known |= {other, *behind[other]}
                    step.raw.setdefault("after", []).append(keys[other])
            behind.append(known)
            last |= dict.fromkeys(step.people, number)

    def _flows(self, keys: list[str]) -> None:
        flow: dict[str, list[str]] = {}
        for person in self.content["people"]:
            mine = [key for key, step in zip(keys, self.steps, strict=True) if person in step.people]
            entries: list[str] = []
            for key in mine:
                task = key.split("/")[0]
                whole = [one for one in mine if one.split("/")[0] == task]
                at = mine.index(whole[0])
                if mine[at : at + len(whole)] == whole and whole[0].split("/")[0] not in entries:
                    entries.append(task if key == whole[0] and self.rng.random() < 0.7 else key)
                elif task not in entries:
                    entries.append(key)
            if entries:
                flow[person] = entries
        self.content["sorties"][self.name] = {"title": self.name, "flow": flow, "limits": {"length": "8 h"}}


def _add_end(record: Raw, spot: str) -> None:
    record["ends"] = [*dict.fromkeys([*record.get("ends", []), spot])]
