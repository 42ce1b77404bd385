"""The judge's own reading of written ways back: what each step of them does, when they may be gone, and in which order.

Plain data, like deeds.py. Of what has been done the last is taken back first, and before all that is still to come;
what was done before somebody went out is taken back behind all else, once they are in. Where one of two steps belongs
to a way back, they keep that order if they have a person in common, or something that one of them changes or looks at.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import copy
from dataclasses import dataclass, replace

from tests.proof.deeds import Content, Deed, Plan, first_world, listed


@dataclass(frozen=True)
class Back:
    """A way back: the step that it takes back, its own deeds, and who must be in before it is gone."""

    of: str
    deeds: tuple[Deed, ...]
    waits: frozenset[str]


def backs_of(plan: Plan, before: Mapping[str, set[str]]) -> list[Back]:
    """The ways back of all steps of a plan."""
    found = []
    for task, record in plan.content["tasks"].items():
        for undo in record.get("undo", []):
            key = plan.key_of(f"{task}/{undo['of']}")
            if key in plan.steps:
                deeds = tuple(_deeds(plan, task, key, undo["steps"]))
                found.append(Back(key, deeds, frozenset(_out_after(plan, key, before))))
    return found


def _out_after(plan: Plan, key: str, before: Mapping[str, set[str]]) -> Iterator[str]:
    """Who goes away from home only once that step is over, whatever the durations."""
    for person in plan.walks:
        away = [one for one in plan.flows[person] if plan.steps[one].place not in (None, "lock")]
        if away and key in before[away[0]]:
            yield person


def _deeds(plan: Plan, task: str, key: str, steps: list[dict[str, object]]) -> Iterator[Deed]:
    record = plan.content["tasks"][task]
    each = plan.steps[key].raw.get("each")
    name = each if isinstance(each, str) else each["equipment"] if each else ""
    rows = [{**one, "each": each} if name and name in (one.get("sets") or {}) else one for one in steps]
    read = copy(plan)
    read.content = {**plan.content, "tasks": {**plan.content["tasks"], task: {**record, "steps": rows}}}
    people = plan.content["people"]
    for number in range(1, len(rows) + 1):
        read.flows = {person: [f"{task}/{number}"] for person in people}
        yield replace(read._deed(f"{task}/{number}"), key=f"{key}/undo/{number}")


def gone_back(plan: Plan, backs: list[Back], begun: frozenset[str], ends: Mapping[str, float]) -> list[frozenset[str]]:
    """The ways back that can be gone, each as the keys of its steps and of all that must be gone before it."""
    found = []
    for back in backs:
        row = _with_later(plan, {one.of: one for one in backs}, back.of, begun, ends)
        if row is not None:
            found.append(frozenset(deed.key for one in row for deed in one.deeds))
    return found


def _with_later(
    plan: Plan, backs: Mapping[str, Back], of: str, begun: frozenset[str], ends: Mapping[str, float]
) -> list[Back] | None:
    """A way back with those of all later steps that changed the same equipment; None where one has none."""
    row, ahead, seen = [], [of], {of}
    while ahead:
        key = ahead.pop()
        if key not in begun or key not in backs:
            return None
        row.append(backs[key])
        later = [
            one for one in begun if ends[one] > ends[key] and set(plan.steps[one].sets) & set(plan.steps[key].sets)
        ]
        ahead += [one for one in later if one not in seen]
        seen |= set(later)
    return row


def rank(plan: Plan, backs: list[Back], ends: Mapping[str, float]) -> dict[str, tuple[int, float, int]]:
    """Where every step stands in the order in which a stop does what it does."""
    found = {key: (1, ends[key], 0) for key in plan.steps}
    for back in backs:
        for number, deed in enumerate(back.deeds):
            found[deed.key] = (2 if back.waits else 0, -ends[back.of], number)
    return found


def touches(content: Content, deed: Deed) -> tuple[set[str], set[str]]:
    """What a step has to do with, by id, and what of it it changes or looks at."""
    raw = deed.raw
    changed = {*raw.get("sets", {}), *raw.get("verifies", {}), *deed.moves, *raw.get("spends", {})}
    things = {*deed.moves, *deed.uses, *raw.get("spends", {})}
    things |= {goal for goal in raw.get("leaves", {}).values() if goal in content["bags"]}
    around = {bag for thing in things for bag in _ever_in(content, thing)}
    return {*changed, *raw.get("requires", {}), *things, *around}, changed


def _ever_in(content: Content, thing: str) -> set[str]:
    """Every bag in which a thing may ever be."""
    steps = [step for task in content["tasks"].values() for step in task["steps"]]
    steps += [step for task in content["tasks"].values() for undo in task.get("undo", []) for step in undo["steps"]]
    into = [(one, spot[1]) for one, spot in first_world(content).spots.items() if spot[0] == "in"]
    into += [(one, goal) for step in steps for one, goal in step.get("leaves", {}).items() if goal in content["bags"]]
    found = {thing}
    while more := {bag for one, bag in into if one in found} - found:
        found |= more
    return found - {thing}


def in_order(content: Content, first: Deed, second: Deed) -> bool:
    """Whether two steps, one of them of a way back, keep their order."""
    if set(listed(list(first.people))) & set(second.people):
        return True
    (one, ones), (other, others) = touches(content, first), touches(content, second)
    return bool(ones & other or one & others)
