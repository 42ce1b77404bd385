"""Ways that would be shorter with two neighbouring steps the other way round, and the plan as sound as before.

Pure. Candidates are found in linear time: two steps that one person does alone, one after the other, whose ways grow
shorter when they change places. Each candidate is then proved as a plan of its own, so only the longest few are looked
into.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from itertools import pairwise

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import prove_custody
from briefgen.proof.moving.routes import Routes
from briefgen.proof.moving.travel import Travel
from briefgen.proof.moving.whereabouts import Trail
from briefgen.proof.ordering.states import prove_states
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.schedule.timeline import make_timeline

LONGEST = 8
"""How many candidates of a sortie are proved: so many findings at once are enough."""


@dataclass(frozen=True)
class Detour:
    """`person` does `first` before `second`; the other way round, everybody's ways take `seconds` less in all."""

    person: str
    first: PlannedStep
    second: PlannedStep
    seconds: float


def detours(proved: SortieEvidence, least: float) -> Iterator[Detour]:
    """The detours of a sortie without a circle that cost at least so many seconds, the longest first.

    A step is in one of them at most.
    """
    candidates = [one for trail in proved.travel.trails.values() for one in _candidates(trail, proved.evidence.routes)]
    worth = sorted((one for one in candidates if one.seconds >= least), key=lambda one: -one.seconds)[:LONGEST]
    told: set[int] = set()
    for one in worth:
        plan = _other_way_round(proved.plan, one)
        if plan.circle or told & {one.first.index, one.second.index}:
            continue
        travel = proved.travel_of(plan)
        seconds = _seconds(proved.travel) - _seconds(travel)
        if seconds >= least and _as_sound(proved, plan):
            told |= {one.first.index, one.second.index}
            yield replace(one, seconds=seconds)


def _candidates(trail: Trail, routes: Routes) -> Iterator[Detour]:
    """What two neighbours would save at most: at the slower pace, so that no bag hides a detour."""
    for seat in range(len(trail) - 1):
        first, second = trail[seat], trail[seat + 1]
        alone = len(first.step.people) == len(second.step.people) == 1
        if not alone or first.moved or second.moved or first.place == second.place:
            continue
        goal = trail[seat + 2].place if seat + 2 < len(trail) else second.place
        now = _way(routes, first.origin, first.place, second.place, goal)
        other = _way(routes, first.origin, second.place, first.place, goal)
        if now is not None and other is not None and other < now:
            yield Detour(first.person, first.step, second.step, now - other)


def _way(routes: Routes, *places: str) -> float | None:
    ways = [routes.way(one, other, loaded=True) for one, other in pairwise(places)]
    return None if None in ways else sum(way.seconds for way in ways if way)


def _other_way_round(plan: Plan, detour: Detour) -> Plan:
    flow = list(plan.flows[detour.person])
    seat = flow.index(detour.first.index)
    flow[seat], flow[seat + 1] = flow[seat + 1], flow[seat]
    return replace(plan, flows={**plan.flows, detour.person: tuple(flow)})


def _as_sound(proved: SortieEvidence, plan: Plan) -> bool:
    """Whether the plan has no fault that the sortie as planned has not, and leaves everything as that does."""
    timeline = make_timeline(plan, proved.evidence.routes)
    if proved.new_fault(plan, timeline) is not None:
        return False
    states, custody = prove_states(plan, proved.state_starts), prove_custody(plan, proved.spot_starts, proved.stock)
    left = {item: held.state for item, held in states.ends.items()}
    return (
        left == {item: held.state for item, held in proved.states.ends.items()} and custody.ends == proved.custody.ends
    )


def _seconds(travel: Travel) -> float:
    return sum(visit.way.seconds for trail in travel.trails.values() for visit in trail if visit.way)
