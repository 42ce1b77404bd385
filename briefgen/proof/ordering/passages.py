"""Hazards on the way: whether what controls them holds, by order, from before a person sets off until they are past.

Pure: a plan with its states and trails go in. People move as soon as their last step is over, so a control that is only
sure when the next step begins comes too late. O(ways × hazards × items).
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from briefgen.proof.moving.whereabouts import Trail, Visit
from briefgen.proof.ordering.reliance import Found
from briefgen.proof.ordering.states import Item, StateProof
from briefgen.proof.plan import Plan


class Fault(StrEnum):
    """What is wrong with a control while somebody passes a hazard."""

    OTHERWISE = "otherwise"  # it is in another state
    TOO_LATE = "too late"  # nothing makes sure of it before the person sets off
    UNCONFIRMED = "unconfirmed"  # nobody but who set it has looked by then


@dataclass(frozen=True)
class Passage:
    """A person passes a hazard of `route` on the way to the step of `visit`, whose `item` should be in `state`.

    `since` is the step after which the person sets off, None at the start; `answer` is what is found when the way ends.
    """

    visit: Visit
    route: str
    hazard: str
    item: Item
    state: str
    since: int | None
    answer: Found[str]
    fault: Fault


def unsafe_passages(plan: Plan, states: StateProof, trails: Mapping[str, Trail]) -> Iterator[Passage]:
    """Every way that passes a hazard without its control, in the order of each person's steps."""
    for trail in trails.values():
        since: int | None = None
        for visit in trail:
            yield from _on_the_way(plan, states, visit, since)
            since = visit.step.index


def _on_the_way(plan: Plan, states: StateProof, visit: Visit, since: int | None) -> Iterator[Passage]:
    library = plan.library
    for route in visit.way.routes if visit.way else ():
        for hazard in library.routes[route].hazards:
            for name, state in library.hazards[hazard].controls.items():
                for parts in library.equipment[name].items:
                    item = (str(name), parts)
                    answer = states.reliance.at(item, visit.step.index)
                    fault = _fault(plan, states, item, str(state), answer, since)
                    if fault:
                        yield Passage(visit, route, str(hazard), item, str(state), since, answer, fault)


def _fault(
    plan: Plan, states: StateProof, item: Item, state: str, answer: Found[str], since: int | None
) -> Fault | None:
    def over(step: int | None) -> bool:
        """Whether a step is over when the person sets off."""
        return step is None or step == since or (since is not None and plan.order.before(step, since))

    if answer.certain and answer.value != state:
        return Fault.OTHERWISE
    if not answer.certain or not over(answer.source):
        return Fault.TOO_LATE
    if not plan.library.equipment[item[0]].control or not states.looks.setters(item, answer):
        return None
    return None if any(over(look) for look in states.looks.confirming(item, answer)) else Fault.UNCONFIRMED
