"""The judge's own reading of a plan: what each step does, and everybody's order of steps. Plain data."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from itertools import product
from typing import Any

Content = Mapping[str, Mapping[str, Any]]
Spot = tuple[str, str]
"""`("at", place)`, `("in", bag)` or `("with", person)`."""
Item = tuple[str, tuple[str, ...]]


@dataclass(frozen=True)
class World:
    """How a sortie finds things: where they are, how items are, what is left of lots, who must not confirm what.

    `open_controls` are the controls that nobody but who set them has looked at, with those people; `known_wrong` are
    the items and things that the sortie before should not have left as, or where, they are.
    """

    spots: Mapping[str, Spot]
    states: Mapping[Item, str]
    stock: Mapping[str, int]
    open_controls: Mapping[Item, frozenset[str]]
    known_wrong: frozenset[Item | str] = frozenset()


def first_world(content: Content) -> World:
    """The world before the first sortie."""
    things = {**content.get("tools", {}), **content.get("bags", {})}
    bags = content.get("bags", {})
    spots = {name: ("in" if one["stowed"] in bags else "at", str(one["stowed"])) for name, one in things.items()}
    states = {
        (name, item): str(one["starts"]) for name, one in content.get("equipment", {}).items() for item in items(one)
    }
    counts = {name: int(tool.get("count", 1)) for name, tool in content.get("tools", {}).items()}
    return World(spots, states, {name: count for name, count in counts.items() if count > 1}, {})


def items(equipment: Mapping[str, Any]) -> list[tuple[str, ...]]:
    """All items of an equipment."""
    return [tuple(map(str, names)) for names in product(*equipment.get("parts", {}).values())]


def listed(value: Any) -> list[str]:
    """One word, or several."""
    return [] if value is None else [value] if isinstance(value, str) else list(value)


@dataclass(frozen=True)
class Deed:
    """A step of the plan, with all that it does. `things` says what it moves where, `lots` what it spends."""

    key: str
    people: tuple[str, ...]
    outside: tuple[str, ...]
    place: str | None
    raw: Mapping[str, Any]
    needs: tuple[tuple[Item, str, bool, bool], ...]
    sets: Mapping[Item, str]
    looks: tuple[tuple[Item, str], ...]
    moves: Mapping[str, Spot]
    lots: Mapping[str, int]
    times: int = 1
    loosens: tuple[tuple[str, Item, str], ...] = ()

    @property
    def picks(self) -> list[str]:
        return listed(self.raw.get("picks"))

    @property
    def keeps_out(self) -> list[str]:
        return listed(self.raw.get("keeps_out"))

    @property
    def uses(self) -> list[str]:
        return [one if isinstance(one, str) else next(iter(one)) for one in self.raw.get("with", [])]


@dataclass(frozen=True)
class Walk:
    """A step of somebody outside with the way to it: where they are during and after it, and what they pass."""

    place: str
    goal: str
    passed: frozenset[str]


class Plan:
    """The deeds of a sortie and everybody's order of them, without the tasks left out."""

    def __init__(self, content: Content, sortie: Mapping[str, Any], left_out: frozenset[str]) -> None:
        self.content, self.sortie, self.left_out = content, sortie, left_out
        self.flows = {person: self._flow(person, entries) for person, entries in sortie["flow"].items()}
        self.loose = {person: self._loose(person) for person in content["people"] if not self._has_flow(person)}
        self.steps: dict[str, Deed] = {}
        for key in (key for flow in (*self.flows.values(), *self.loose.values()) for key in flow):
            self.steps.setdefault(key, self._deed(key))
        self.walks = {person: self._walks(person) for person in self.flows if self._is_outside(person)}
        self.waits = {key: self._waits_for(key) for key in self.steps}

    def _has_flow(self, person: str) -> bool:
        return person in self.sortie["flow"] or bool(self.content["people"][person]["post"] == "outside")

    def _loose(self, person: str) -> list[str]:
        """The steps of somebody without a flow: all that name them in the tasks flown, in no order."""
        entries = [entry for row in self.sortie["flow"].values() for entry in listed(row)]
        return [
            f"{task}/{raw.get('id', number)}"
            for task in dict.fromkeys(entry.split("/")[0] for entry in entries)
            for number, raw in enumerate(self.content["tasks"][task]["steps"], start=1)
            if person in listed(raw["who"]) and task not in self.left_out
        ]

    def _is_outside(self, person: str) -> bool:
        return bool(self.content["people"][person]["post"] == "outside" and self.flows[person])

    def _walks(self, person: str) -> list[Walk]:
        spot = next((name for name, place in self.content["places"].items() if place.get("home") == "true"), "")
        walks = []
        for key in self.flows[person]:
            deed = self.steps[key]
            place = deed.place or spot
            goal = deed.raw.get("to") or place
            walks.append(Walk(place, goal, frozenset(self._between(spot, place))))
            spot = goal
        return walks

    def _between(self, start: str, end: str) -> list[str]:
        """What lies between two places: routes and places. These small worlds have one way from place to place."""
        routes = self.content.get("routes", {})
        ahead: list[tuple[str, list[str]]] = [(start, [])]
        for spot, passed in ahead:
            if spot == end:
                return passed[:-1] if passed else []
            for name, route in routes.items():
                if spot in route["between"] and name not in passed:
                    other = next(one for one in route["between"] if one != spot)
                    ahead.append((other, [*passed, name, other]))
        return []

    def optional(self) -> list[str]:
        """The tasks that may be left out, in the order in which they come up."""
        names = dict.fromkeys(key.split("/")[0] for key in self.steps)
        tasks = self.content["tasks"]
        return [
            name
            for name in names
            if tasks[name].get("priority", "required") != "required" and not tasks[name].get("serves")
        ]

    def _flow(self, person: str, entries: Any) -> list[str]:
        single = {self._key(entry) for entry in listed(entries) if "/" in entry}
        flow: list[str] = []
        for entry in listed(entries):
            if "/" in entry:
                flow.append(self._key(entry))
                continue
            for number, raw in enumerate(self.content["tasks"][entry]["steps"], start=1):
                key = f"{entry}/{raw.get('id', number)}"
                if person in listed(raw["who"]) and key not in single:
                    flow.append(key)
        return [key for key in flow if key.split("/")[0] not in self.left_out]

    def key_of(self, name: str) -> str:
        """The key of a step by its task and its id or number."""
        return self._key(name)

    def _key(self, name: str) -> str:
        task, _, step = name.partition("/")
        for number, raw in enumerate(self.content["tasks"][task]["steps"], start=1):
            if step in (str(number), raw.get("id")):
                return f"{task}/{raw.get('id', number)}"
        raise KeyError(name)

    def _waits_for(self, key: str) -> set[str]:
        own = {flow[flow.index(key) - 1] for flow in self.flows.values() if key in flow and flow.index(key)}
        linked = {self._key(name) for name in listed(self.steps[key].raw.get("after"))}
        return own | {name for name in linked if name in self.steps}

    def _deed(self, key: str) -> Deed:
        task = key.split("/")[0]
        record = self.content["tasks"][task]
        raw = next(
            step for number, step in enumerate(record["steps"], start=1) if f"{task}/{step.get('id', number)}" == key
        )
        doing = {**self.loose, **self.flows}
        people = tuple(person for person in listed(raw["who"]) if key in doing.get(person, []))
        outside = tuple(person for person in people if self.content["people"][person]["post"] == "outside")
        place = raw.get("at") or record.get("place") if outside else None
        raw = self._with_fitting(raw, record)
        sets = {item: state for name, state in raw.get("sets", {}).items() for item in self._items(raw, name)}
        looks = tuple(
            (item, state) for name, state in raw.get("verifies", {}).items() for item in self._items(raw, name)
        )
        times = len(self._items(raw, _each(raw)[0])) if raw.get("each") else 1
        lots = {name: int(number) * times for name, number in raw.get("spends", {}).items()}
        return Deed(
            key, people, outside, place, raw, tuple(self._needs(raw, sets)), sets, looks,
            dict(self._moves(raw, outside)), lots, times, tuple(self._loosens(raw)),
        )  # fmt: skip

    def _with_fitting(self, raw: Mapping[str, Any], task: Mapping[str, Any]) -> Mapping[str, Any]:
        """What a step sets may fit a thing: then it leaves it where it is done."""
        left = dict(raw.get("leaves", {}))
        for name, tool in self.content.get("tools", {}).items():
            for equipment, state in tool.get("fitted_as", {}).items():
                if raw.get("sets", {}).get(equipment) == state and name not in left:
                    place = raw.get("at") or task.get("place") or self.content["equipment"][equipment].get("place")
                    left |= {name: place} if place else {}
        return {**raw, "leaves": left} if left else raw

    def _loosens(self, raw: Mapping[str, Any]) -> Iterator[tuple[str, Item, str]]:
        """Things taken that must not be fitted then, with the item and the state that would hold them."""
        for thing in listed(raw.get("picks")):
            for equipment, state in self.content.get("tools", {}).get(thing, {}).get("fitted_as", {}).items():
                if raw.get("sets", {}).get(equipment, state) == state:
                    yield thing, (equipment, ()), state

    def _items(self, raw: Mapping[str, Any], name: str) -> list[Item]:
        equipment = self.content["equipment"][name]
        chosen, where = _each(raw)
        every = items(equipment)
        if chosen == name:
            parts = list(equipment["parts"])
            every = [
                item
                for item in every
                if all(part not in where or one in listed(where[part]) for part, one in zip(parts, item, strict=True))
            ]
        return [(name, item) for item in every]

    def _needs(self, raw: Mapping[str, Any], sets: Mapping[Item, str]) -> Iterator[tuple[Item, str, bool, bool]]:
        """Items and states that must hold throughout, whether they are relied on, and whether they are looked at."""
        relied = {(item, state) for name, state in raw.get("requires", {}).items() for item in self._items(raw, name)}
        looked = {(item, state) for name, state in raw.get("verifies", {}).items() for item in self._items(raw, name)}
        for item, state in sorted(relied | looked):
            if (item, state) in relied or sets.get(item) != state:  # else it looks at its own work
                yield item, state, (item, state) in relied, (item, state) in looked

    def _moves(self, raw: Mapping[str, Any], outside: tuple[str, ...]) -> Iterator[tuple[str, Spot]]:
        """Where a step's things are when it is over."""
        if outside:
            yield from ((thing, ("with", outside[0])) for thing in listed(raw.get("picks")))
        yield from ((thing, ("with", person)) for thing, person in raw.get("hands", {}).items())
        for thing, goal in raw.get("leaves", {}).items():
            yield thing, ("in" if goal in self.content.get("bags", {}) else "at", goal)


def _each(raw: Mapping[str, Any]) -> tuple[str, Mapping[str, Any]]:
    each = raw.get("each")
    if each is None:
        return "", {}
    return (each, {}) if isinstance(each, str) else (each["equipment"], each.get("where", {}))
