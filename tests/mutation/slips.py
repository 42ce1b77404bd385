"""Every slip that can be made in the demo, kind by kind: one thing left out, moved or made smaller."""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

from briefgen.units import LENGTH, read_duration
from tests.mutation.demo import Demo, Records, written

Slips = Iterator["Slip"]


@dataclass(frozen=True)
class Slip:
    """One change. `where` names it in a list; `records` are the records that are written otherwise."""

    kind: str
    where: str
    records: Records
    pair: tuple[str, str] = ("", "")
    """The two steps whose order is changed, where that is all."""


def all_slips(demo: Demo) -> list[Slip]:
    """All of them, in a fixed order."""
    return [slip for kind in KINDS for slip in kind(demo)]


# In steps -------------------------------------------------------------------------------------------------------


Path = tuple[int, ...]
"""Where an entry stands in a task's `steps`: its number, and within a block the number there."""


def _key(task: str, path: Path, demo: Demo) -> str:
    steps = demo.raw["tasks", task]
    names = [_at(steps, path[: depth + 1]).get("id", number + 1) for depth, number in enumerate(path)]
    return "/".join(map(str, (task, *names)))


def _row(task: Any, path: Path) -> Any:
    """The list in which an entry stands."""
    rows = task["steps"]
    for number in path[:-1]:
        rows = rows[number]["steps"]
    return rows


def _at(task: Any, path: Path) -> Any:
    return _row(task, path)[path[-1]]


def _each_entry(demo: Demo) -> Iterator[tuple[str, Path, Any]]:
    """Every step and every block of the tasks that are flown, with the steps of blocks."""
    for task, raw in demo.of("tasks"):
        for number, entry in enumerate(raw["steps"]) if task in _flown(demo) else ():
            yield task, (number,), entry
            yield from ((task, (number, inner), step) for inner, step in enumerate(entry.get("steps", ())))


def _each_step(demo: Demo) -> Iterator[tuple[str, Path, Any]]:
    return ((task, path, entry) for task, path, entry in _each_entry(demo) if "steps" not in entry)


def _flown(demo: Demo) -> set[str]:
    """The tasks that are in anybody's flow: the others are described, not planned."""
    rows = [row for _, sortie in demo.of("sorties") for row in sortie["flow"].values()]
    return {str(entry).split("/")[0] for row in rows for entry in _listed(row)}


def _listed(value: Any) -> list[Any]:
    return list(value) if isinstance(value, list) else [value]


def _without(kind: str, key: str) -> Callable[[Demo], Slips]:
    """Slips that leave out one entry of a step's list or mapping."""

    def slips(demo: Demo) -> Slips:
        for task, path, step in _each_step(demo):
            for entry in _entries(step.get(key)):
                changed = demo.copy("tasks", task)
                _drop(_at(changed, path), key, entry)
                yield Slip(kind, f"{_key(task, path, demo)}: {entry}", {("tasks", task): changed})

    slips.__name__ = kind
    return slips


def _entries(value: Any) -> list[str]:
    if value is None:
        return []
    return [str(one) for one in (value if isinstance(value, (list, Mapping)) else [value])]


def _drop(step: Any, key: str, entry: str) -> None:
    value = step[key]
    if isinstance(value, list):
        value.remove(entry)
    elif isinstance(value, dict):
        del value[entry]
    if not value or isinstance(value, str):
        del step[key]


def _controls_not_required(demo: Demo) -> Slips:
    for task, path, step in _each_step(demo):
        controls = {
            name for one in _entries(step.get("hazards")) for name in demo.raw["hazards", one].get("controls", {})
        }
        for name in _entries(step.get("requires")):
            if name in controls:
                changed = demo.copy("tasks", task)
                _drop(_at(changed, path), "requires", name)
                yield Slip("control not required", f"{_key(task, path, demo)}: {name}", {("tasks", task): changed})


def _wrong_state(demo: Demo) -> Slips:
    for task, path, step in _each_step(demo):
        for name, state in step.get("sets", {}).items():
            other = next((one for one in demo.raw["equipment", str(name)]["states"] if one != state), None)
            if other is not None:
                changed = demo.copy("tasks", task)
                _at(changed, path)["sets"][name] = written(other, state)
                where = f"{_key(task, path, demo)}: {name} {other}"
                yield Slip("other state set", where, {("tasks", task): changed})


def _swapped_steps(demo: Demo) -> Slips:
    for task, path, _ in _each_entry(demo):
        number = path[-1]
        if number + 1 < len(_row(demo.raw["tasks", task], path)):
            changed = demo.copy("tasks", task)
            row = _row(changed, path)
            row[number], row[number + 1] = row[number + 1], row[number]
            pair = _key(task, path, demo), _key(task, (*path[:-1], number + 1), demo)
            yield Slip("neighbours swapped", " and ".join(pair), {("tasks", task): changed}, pair)


def _items_left_out(demo: Demo) -> Slips:
    """`each` narrowed by one name of one part."""
    for task, path, step in _each_entry(demo):
        each = step.get("each")
        if each is None:
            continue
        equipment = str(each["equipment"] if isinstance(each, dict) else each)
        where = each.get("where", {}) if isinstance(each, dict) else {}
        for part, names in demo.raw["equipment", equipment]["parts"].items():
            chosen = _entries(where.get(part, names))
            for name in chosen if len(chosen) > 1 else ():
                left = {**{str(key): _entries(value) for key, value in where.items()}, str(part): [
                    one for one in chosen if one != name
                ]}  # fmt: skip
                changed = demo.copy("tasks", task)
                _at(changed, path)["each"] = written({"equipment": equipment, "where": left}, each)
                where_words = f"{_key(task, path, demo)}: {part} {name}"
                yield Slip("item left out", where_words, {("tasks", task): changed})


# In sorties -----------------------------------------------------------------------------------------------------


def _swapped_in_flow(demo: Demo) -> Slips:
    for name, sortie in demo.of("sorties"):
        for person, row in sortie["flow"].items():
            for number, (one, other) in enumerate(pairwise(row)):
                changed = demo.copy("sorties", name)
                flow = changed["flow"][person]
                flow[number], flow[number + 1] = flow[number + 1], flow[number]
                yield Slip("neighbours in a flow swapped", f"{name}, {person}: {one} and {other}", {
                    ("sorties", name): changed
                }, (str(one), str(other)))  # fmt: skip


def _limits(kind: str, key: str, share: float, unit: str) -> Callable[[Demo], Slips]:
    def slips(demo: Demo) -> Slips:
        for name, sortie in demo.of("sorties"):
            old = sortie["limits"].get(key)
            if old is not None:
                number = float(LENGTH.read(old)) if unit == "m" else read_duration(old).likely / 60
                changed = demo.copy("sorties", name)
                changed["limits"][key] = written(f"{number * share:.2f} {unit}", old)
                yield Slip(kind, f"{name}: {key} {changed['limits'][key]}", {("sorties", name): changed})

    return slips


def _light_shifted(demo: Demo) -> Slips:
    """Day and night half an orbit off (46 minutes, half of a low orbit's period of about 92)."""
    half = 46.0
    for name, sortie in demo.of("sorties"):
        changed = demo.copy("sorties", name)
        if "orbit" in sortie:
            old = sortie["orbit"]["first_sunset"]
            sunset = (read_duration(old).likely / 60 + half) % (2 * half)
            changed["orbit"]["first_sunset"] = written(f"{sunset:.1f} min", old)
            yield Slip("light shifted", f"{name}: first sunset {sunset:.0f} min", {("sorties", name): changed})
        elif "light" in sortie:
            times = [[read_duration(one).likely / 60 + half for one in pair] for pair in sortie["light"]]
            changed["light"] = written([[f"{one:.2f} min" for one in pair] for pair in times], sortie["light"])
            yield Slip("light shifted", f"{name}: listed times", {("sorties", name): changed})


def _nothing_carried_over(demo: Demo) -> Slips:
    for name, sortie in demo.of("sorties"):
        for entry in _entries(sortie.get("carries_over")):
            changed = demo.copy("sorties", name)
            del changed["carries_over"][entry]
            yield Slip("carry-over left out", f"{name}: {entry}", {("sorties", name): changed})


# In what there is -----------------------------------------------------------------------------------------------


def _supplies_halved(demo: Demo) -> Slips:
    for name, suit in demo.of("suits"):
        for supply, raw in suit.get("supplies", {}).items():
            number, unit = str(raw["holds"]).split()
            changed = demo.copy("suits", name)
            changed["supplies"][supply]["holds"] = written(f"{float(number) / 2:.3f} {unit}", raw["holds"])
            yield Slip("supply halved", f"{name}: {supply}", {("suits", name): changed})


def _named_in_plan(demo: Demo) -> set[str]:
    """Everything that a planned step names: what only a task for later needs is not proved now."""
    named: set[str] = set()
    for _, _, step in _each_step(demo):
        for key in ("picks", "leaves", "hands", "spends", "sets", "requires", "verifies"):
            named |= set(_entries(step.get(key)))
        named |= {str(one if isinstance(one, str) else next(iter(one))) for one in step.get("with", [])}
    return named


def _lots_halved(demo: Demo) -> Slips:
    for name, tool in demo.of("tools"):
        count = int(tool.get("count", 1))
        if count > 1 and name in _named_in_plan(demo):
            changed = demo.copy("tools", name)
            changed["count"] = written(max(1, count // 2), tool["count"])
            yield Slip("lot halved", f"{name}: {changed['count']}", {("tools", name): changed})


def _stowed_elsewhere(demo: Demo) -> Slips:
    places = [name for name, _ in demo.of("places")]
    for kind in ("tools", "bags"):
        for name, thing in demo.of(kind):
            if name not in _named_in_plan(demo):
                continue
            changed = demo.copy(kind, name)
            elsewhere = next(one for one in places if one != thing["stowed"])
            changed["stowed"] = written(elsewhere, thing["stowed"])
            yield Slip("stowed elsewhere", f"{name}: {elsewhere}", {(kind, name): changed})


def _begins_otherwise(demo: Demo) -> Slips:
    for name, equipment in demo.of("equipment"):
        other = next((one for one in equipment["states"] if one != equipment["starts"]), None)
        if other is not None and name in _named_in_plan(demo):
            changed = demo.copy("equipment", name)
            changed["starts"] = written(other, equipment["starts"])
            yield Slip("begins in another state", f"{name}: {other}", {("equipment", name): changed})


def _no_anchor(demo: Demo) -> Slips:
    for name, place in demo.of("places"):
        if "anchor" in place:
            changed = demo.copy("places", name)
            del changed["anchor"]
            yield Slip("anchor taken off", name, {("places", name): changed})


KINDS: tuple[Callable[[Demo], Slips], ...] = (
    _without("pick left out", "picks"),
    _without("leave left out", "leaves"),
    _without("hand-over left out", "hands"),
    _without("link left out", "after"),
    _without("look left out", "verifies"),
    _without("set or restore left out", "sets"),
    _without("tether not moved", "anchors"),
    _without("ride or carry left out", "to"),
    _controls_not_required,
    _wrong_state,
    _swapped_steps,
    _swapped_in_flow,
    _items_left_out,
    _limits("tether shortened by a half", "tether", 0.5, "m"),
    _limits("sortie's length halved", "length", 0.5, "min"),
    _limits("longest way home halved", "return_within", 0.5, "min"),
    _light_shifted,
    _nothing_carried_over,
    _supplies_halved,
    _lots_halved,
    _stowed_elsewhere,
    _begins_otherwise,
    _no_anchor,
)
