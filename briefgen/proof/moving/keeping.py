"""Who could come to a place or route that somebody else's step keeps free, whatever the durations turn out to be.

Pure: a plan with its trails goes in. A person takes a place up from the moment they set off on the way there (they
wait at its far end) until their last step there is over, and a route from setting off until the step at its end is
over. A keeping step must be over before that begins, or begin after it is over.
O(keeping steps × stays of others at what they keep free).
"""

from __future__ import annotations

from collections import defaultdict
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, replace

from briefgen.proof.moving.whereabouts import Trail, Visit
from briefgen.proof.plan import Plan, PlannedStep
from briefgen.source import Ref


@dataclass(frozen=True)
class Occupancy:
    """A person at a place or on a route.

    `coming` is the visit that brings them, None for who is there as the sortie begins. It begins when the step `since`
    is over, or, for a ride, when it begins (`rides`); None: nothing comes before. It ends with the step `until`; None:
    it does not end.
    """

    person: str
    spot: str
    coming: Visit | None
    since: int | None
    rides: bool
    until: int | None


@dataclass(frozen=True)
class Intrusion:
    """A presence that nothing keeps apart from `keeper`, a step that keeps `spot` free of everybody else."""

    keeper: PlannedStep
    spot: Ref
    presence: Occupancy


def intrusions(plan: Plan, trails: Mapping[str, Trail]) -> Iterator[Intrusion]:
    """Every presence of others that could last while a step keeps its place or route free; without circles."""
    keepers = [step for step in plan.steps if step.step.keeps_out]
    if not keepers:
        return
    found: dict[str, list[Occupancy]] = defaultdict(list)
    for trail in trails.values():
        for presence in presences(trail):
            found[presence.spot].append(presence)
    for keeper in keepers:
        for spot in keeper.step.keeps_out:
            for presence in found[str(spot)]:
                if presence.person not in keeper.step.who and not _apart(plan, keeper, presence):
                    yield Intrusion(keeper, spot, presence)


def _apart(plan: Plan, keeper: PlannedStep, presence: Occupancy) -> bool:
    before, (since, until) = plan.order.before, (presence.since, presence.until)
    early = since is not None and before(keeper.index, since)
    return early or (until is not None and before(until, keeper.index))


def presences(trail: Trail) -> Iterator[Occupancy]:
    """Every stay at a place and every way along a route, in the order of a person's steps."""
    if not trail:
        return
    person, last = trail[0].person, None
    open_ = Occupancy(person, trail[0].origin, None, None, rides=False, until=None)
    for visit in trail:
        step = visit.step.index
        yield from (Occupancy(person, spot, visit, last, rides=False, until=step) for spot in _passed(visit))
        if visit.place != open_.spot:
            # Who starts elsewhere leaves home as the sortie begins.
            yield from () if last is None else [replace(open_, until=last)]
            open_ = Occupancy(person, visit.place, visit, last, rides=False, until=None)
        if visit.leads_to != visit.place:
            yield replace(open_, until=step)
            open_ = Occupancy(person, visit.leads_to, visit, step, rides=True, until=None)
        last = step
    yield open_


def _passed(visit: Visit) -> tuple[str, ...]:
    """The routes of the way to a step, and the places between its ends."""
    return (*visit.way.routes, *visit.way.places[1:-1]) if visit.way else ()
