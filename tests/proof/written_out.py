"""The judge's own writing out of what is said once: likes, defaults, blocks, confirmations, short names, hazards.

Plain data goes in and comes out: every step says everything itself, is called by its whole key, and waits for whole
keys. Read from the description of the format alone; shares nothing with the project's writing out.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from itertools import product
from typing import Any

from tests.proof.deeds import Content, Deed, Item, Plan, listed
from tests.proof.filled_in import filled, whole, with_hazards

Raw = dict[str, Any]


@dataclass
class Line:
    """A plain step of a task: in a block with the block's id, the number of its round, and the round's item."""

    raw: Raw
    key: str
    local: str
    number: int
    block: str = ""
    round: int = 0
    above: list[str] = field(default_factory=list)
    confirms: str = ""


def written_out(content: Content) -> Content:
    """The same content, nothing said once for several."""
    wholes, laid = laid_out(content)
    waits = {f"{name}/{line.key}": set(_awaited(laid, name, line)) for name, lines in laid.items() for line in lines}
    for name, lines in laid.items():
        for first, second in _waits_in(content, wholes[name], lines):
            waits[f"{name}/{second}"].add(f"{name}/{first}")
    plain = _plain(content, wholes, laid, waits)
    for sortie in plain["sorties"].values():
        for first, later in list(_waits_between(Plan(plain, sortie, frozenset()), laid)):
            waits[later].add(first)
    return _plain(content, wholes, laid, waits)


def laid_out(content: Content) -> tuple[dict[str, Raw], dict[str, list[Line]]]:
    """Every task with all that it has from another, and its plain steps."""
    wholes = {name: whole(content["tasks"], name) for name in content["tasks"]}
    return wholes, {name: list(_laid(content, task)) for name, task in wholes.items()}


def _plain(content: Content, wholes: Mapping[str, Raw], laid: Mapping[str, list[Line]], waits: Any) -> Content:
    tasks = {
        name: {
            **{key: value for key, value in task.items() if key not in ("like", "instead", "defaults")},
            "prerequisites": [_needed(laid[name], one) for one in task.get("prerequisites", [])],
            "steps": [
                {key: value for key, value in line.raw.items() if key not in ("confirmed_by", "in_case")}
                | {"id": line.key, "after": sorted(waits[f"{name}/{line.key}"])}
                for line in laid[name]
            ],
        }
        for name, task in wholes.items()
    }
    sorties = {
        name: {**sortie, "flow": {who: list(_flow(laid, who, row)) for who, row in sortie["flow"].items()}}
        for name, sortie in content["sorties"].items()
    }
    return {**content, "tasks": tasks, "sorties": sorties}


def _flow(laid: Mapping[str, list[Line]], who: str, row: Any) -> Iterator[str]:
    for entry in listed(row):
        task, _, name = entry.partition("/")
        found = _called(laid[task], name) if name else []
        mine = [one for one in found if who in listed(one.raw["who"])] if len(found) > 1 else found
        yield from (f"{task}/{one.key}" for one in mine) if name else [entry]


def _needed(lines: list[Line], entry: Any) -> Any:
    if isinstance(entry, str) or "before" not in entry:
        return entry
    return {**entry, "before": [one.key for name in entry["before"] for one in _called(lines, name)]}


# Laying out -----------------------------------------------------------------------------------------------------


def _laid(content: Content, task: Mapping[str, Any]) -> Iterator[Line]:
    number, above = 0, list[str]()
    for entry in task["steps"]:
        steps = entry.get("steps", [entry])
        rows: list[tuple[Raw, int, str, str]] = []
        for step in steps:
            made = filled(content, task, step)
            number += 1
            rows.append((made, number, made.get("id", str(number)), ""))
            if "confirmed_by" in made:
                number += 1
                look, _, local = _look(content, made, number)
                away = any(content["people"][one]["post"] == "outside" for one in listed(look["who"]))
                rows.append((with_hazards(content, task, look, away), number, local, rows[-1][2]))
        lines = list(_rounds(content, entry, rows, above)) if "steps" in entry else list(_alone(rows, above))
        above = [line.key for line in lines if "steps" in entry or not line.confirms] or above
        yield from lines


def _look(content: Content, step: Raw, number: int) -> tuple[Raw, int, str]:
    told = step["confirmed_by"]
    outside = any(content["people"][one]["post"] == "outside" for one in listed(told["who"]))
    made = {key: told[key] for key in ("who", "do", "takes", "after", "restraint") if key in told}
    made |= {key: step[key] for key in ("each",) if key in step}
    made["verifies"] = step.get("sets", {})
    place = told.get("at") or (step.get("at") if outside else None)
    name = told.get("id") or (f"{step['id']}-confirmed" if "id" in step else str(number))
    return made | ({"at": place} if place else {}), number, name


def _alone(rows: list[tuple[Raw, int, str, str]], above: list[str]) -> Iterator[Line]:
    for made, number, local, confirms in rows:
        yield Line(made, local, local, number, above=[confirms] if confirms else above, confirms=confirms)


def _rounds(content: Content, block: Raw, rows: list[tuple[Raw, int, str, str]], above: list[str]) -> Iterator[Line]:
    each = block["each"] if isinstance(block["each"], dict) else {"equipment": block["each"]}
    parts = content["equipment"][each["equipment"]]["parts"]
    where = {**each.get("where", {}), **block.get("where", {})}
    done = 0
    for item in product(*parts.values()):
        if any(one not in listed(where.get(part, one)) for part, one in zip(parts, item, strict=True)):
            continue
        here = dict(zip(parts, item, strict=True))
        before, some = (above if not done else []), False
        for made, number, local, confirms in rows:
            own = made["each"] if isinstance(made.get("each"), dict) else {}
            if any(here.get(part) not in listed(names) for part, names in own.get("where", {}).items()):
                continue
            raw = {
                **made,
                "each": {"equipment": each["equipment"], "where": {part: [one] for part, one in here.items()}},
            }
            start = f"{block['id']}/{'-'.join(item)}"
            setter = f"{start}/{confirms}" if confirms else ""
            yield Line(raw, f"{start}/{local}", local, number, block["id"], done + 1, before, setter)
            before, some = before if confirms else [f"{start}/{local}"], True
        done += some


# Who waits for whom ---------------------------------------------------------------------------------------------


def _called(lines: list[Line], name: str, near: Line | None = None) -> list[Line]:
    """What a name means within a task: the step of the same round, a step, a block, or a block's step of every item."""
    block, _, step = name.partition("/")
    same = [one for one in lines if near and near.block and (one.block, one.round) == (near.block, near.round)]
    for row, called in ((same, name), (same if near and block == near.block else [], step)):
        found = [one for one in row if called and called in (one.local, str(one.number))]
        if found:
            return found
    single = [one for one in lines if name == one.key or (not one.block and name == str(one.number))]
    if single:
        return single[:1]
    return [one for one in lines if one.block == block and (not step or step in (one.local, str(one.number)))]


def meant(laid: Mapping[str, list[Line]], task: str, line: Line, name: str) -> Iterator[str]:
    """The steps that a name means at a step of a task, by whole keys."""
    lines = laid[task]
    other, _, step = name.partition("/")
    if not step or other in {one.block for one in lines} - {""}:
        yield from (f"{task}/{one.key}" for one in _called(lines, name, line))
    else:
        near = line if other == task else None
        yield from (f"{other}/{one.key}" for one in _called(laid[other], step, near))


def _awaited(laid: Mapping[str, list[Line]], task: str, line: Line) -> Iterator[str]:
    """What a step waits for, as written, by whole keys; in a block for the whole round before."""
    lines = laid[task]
    for name in listed(line.raw.get("after")):
        if name == "previous":
            yield from (f"{task}/{key}" for key in line.above)
        else:
            yield from meant(laid, task, line, name)
    if line.confirms:
        yield f"{task}/{line.confirms}"
    if line.round > 1:
        before = [one for one in lines if (one.block, one.round) == (line.block, line.round - 1)]
        yield from (f"{task}/{one.key}" for one in before)


def _items(content: Content, raw: Raw, name: str) -> list[Item]:
    each = raw.get("each")
    chosen = each if isinstance(each, dict) else {"equipment": each}
    parts = content["equipment"][name].get("parts", {})
    where = chosen.get("where", {}) if chosen["equipment"] == name else {}
    return [
        (name, item)
        for item in product(*parts.values())
        if all(one in listed(where.get(part, one)) for part, one in zip(parts, item, strict=True))
    ]


def _waits_in(content: Content, task: Mapping[str, Any], lines: list[Line]) -> Iterator[tuple[str, str]]:
    """Within a task: whoever next relies on what is confirmed waits for that.

    Of people outside, who do one thing after another, the first such step; of all others each, until it is set anew.
    """
    for at, look in enumerate(lines):
        setter = next((one for one in lines if one.key == look.confirms), None) if look.confirms else None
        waiting = set[str]()
        for name, state in (setter.raw.get("sets", {}) if setter else {}).items():
            for item in _items(content, setter.raw, name) if setter else ():
                for later in _until_set(content, lines[at + 1 :], item, state):
                    people = listed(later.raw["who"])
                    bound = {one for one in people if content["people"][one]["post"] == "outside"}
                    if not bound or not bound <= waiting:
                        waiting |= bound
                        yield look.key, later.key


def _until_set(content: Content, lines: list[Line], item: Item, state: str) -> Iterator[Line]:
    for line in lines:
        if line.raw.get("requires", {}).get(item[0]) == state and item in _items(content, line.raw, item[0]):
            yield line
        if item[0] in line.raw.get("sets", {}) and item in _items(content, line.raw, item[0]):
            return


def _waits_between(plan: Plan, laid: Mapping[str, list[Line]]) -> Iterator[tuple[str, str]]:
    """Between tasks: the first step of each in each other task that surely comes later and relies on it."""
    lines = {f"{task}/{one.key}": (task, one) for task, row in laid.items() for one in row}
    earlier = {key: before(plan, key) for key in plan.steps}
    if any(key in earlier[key] for key in plan.steps):
        return
    for look in plan.steps:
        task, line = lines[look]
        setter = plan.steps.get(f"{task}/{line.confirms}") if line.confirms else None
        for item, state in setter.sets.items() if setter else ():
            relying = [
                deed for key, deed in plan.steps.items()
                if (item, state, True) in {need[:3] for need in deed.needs} and setter and setter.key in earlier[key]
                and not any(setter.key in earlier[one] and one in earlier[key] for one in _setters(plan, item))
            ]  # fmt: skip
            for later in _first(plan, sorted(relying, key=lambda one: lines[one.key][1].number)):
                if lines[later.key][0] != task:
                    yield look, later.key


def _setters(plan: Plan, item: Item) -> list[str]:
    return [key for key, deed in plan.steps.items() if item in deed.sets]


def _first(plan: Plan, relying: list[Deed]) -> Iterator[Deed]:
    taken = set[tuple[str, str]]()
    for deed in relying:
        bound = {(one, deed.key.split("/")[0]) for one in deed.people if one in plan.flows}
        if not bound or not bound <= taken:
            taken |= bound
            yield deed


def before(plan: Plan, key: str) -> set[str]:
    """Whatever is surely over before a step begins."""
    found, ahead = set[str](), [key]
    while ahead:
        for one in plan.waits[ahead.pop()] - found:
            found.add(one)
            ahead.append(one)
    return found
