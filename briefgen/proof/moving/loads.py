"""Who carries a bag from one step to the next: what decides between the two paces."""

from __future__ import annotations

from collections.abc import Mapping

from briefgen.proof.plan import Plan, PlannedStep


def loaded_after(plan: Plan) -> Mapping[tuple[str, int], bool]:
    """Whether a person carries a bag when a step of theirs is over, by person and step index. Linear.

    Follows each person's own picks, leaves and hand-overs; a hand-over is a joint step, so it is on both flows.
    """
    bags = frozenset(plan.library.bags)
    carrying: dict[str, set[str]] = {person: set() for person in plan.flows}
    answer: dict[tuple[str, int], bool] = {}
    for index in plan.order.sequence:
        step = plan.steps[index]
        _carry(step, carrying, bags)
        for person in step.people:
            answer[person, index] = bool(carrying[person])
    return answer


def _carry(step: PlannedStep, carrying: dict[str, set[str]], bags: frozenset[str]) -> None:
    if step.outside:
        carrying[step.outside[0]] |= {str(thing) for thing in step.step.picks} & bags
    for thing in (*step.step.hands, *step.step.leaves):
        for person in step.outside:
            carrying[person].discard(str(thing))
    for thing, receiver in step.step.hands.items():
        if thing in bags and receiver in carrying:
            carrying[receiver].add(str(thing))
