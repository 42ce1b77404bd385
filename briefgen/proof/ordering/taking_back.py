"""Ways back that leave something otherwise than it was before the step that they take back. Pure."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.ordering.states import Item, StateProof, set_by
from briefgen.proof.plan import Plan, PlannedBack, PlannedStep


@dataclass(frozen=True)
class Astray:
    """An item that `step` sets: it was in state `was`, is set to `sets`, and its way back leaves it in state `now`."""

    step: PlannedStep
    way: PlannedBack
    item: Item
    was: str
    sets: str
    now: str


def astray(plan: Plan, states: StateProof) -> Iterator[Astray]:
    """Every item that a way back of the plan does not take back; what the step finds by luck is not judged here."""
    for way in plan.ways_back:
        step = plan.steps[way.of]
        after = set_by(plan, step)
        finals = dict(after)
        for one in way.steps:
            finals |= set_by(plan, one)
        for item, sets in after.items():
            before = states.reliance.at(item, step.index)
            if before.certain and finals[item] != before.value:
                yield Astray(step, way, item, before.value, sets, finals[item])
