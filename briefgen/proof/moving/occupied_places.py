"""Who keeps a place taken between their steps there, and who rides on a moving anchor.

Pure: a plan goes in. Whoever's next step is at the place where the last one left them stays there meanwhile; whoever
hangs on an anchor that no route touches (the plate on an arm) is on it until the tether hangs elsewhere. Two stays can
meet unless the last step of one is over before the first of the other begins. Steps that could run at once are told in
`room`; here are the meetings that those don't show.
O(stays × people × log stays) where one more person than there is room for is enough to fill it.
"""

from __future__ import annotations

from bisect import bisect_left
from collections import defaultdict
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from briefgen.proof.moving.routes import Routes
from briefgen.proof.plan import Plan, PlannedStep


@dataclass(frozen=True)
class Presence:
    """A person at a place from the beginning of `first` to the end of `last`, two steps of theirs."""

    person: str
    place: str
    first: PlannedStep
    last: PlannedStep


def presences(plan: Plan, routes: Routes) -> Iterator[Presence]:
    """Every stay at a place and every ride on a moving anchor, by person and in the order of their flow."""
    for person in plan.outside:
        steps = [plan.steps[index] for index in plan.flows[person]]
        yield from _at_places(person, steps)
        yield from _on_anchors(person, steps, routes)


def _at_places(person: str, steps: Sequence[PlannedStep]) -> Iterator[Presence]:
    open_: Presence | None = None
    for step in steps:
        if open_ and open_.place != step.place:
            yield open_
            open_ = None
        if step.place:
            open_ = Presence(person, step.place, open_.first if open_ else step, step)
        if open_ and step.leads_to and step.leads_to != step.place:
            yield open_
            open_ = Presence(person, step.leads_to, step, step)
    if open_:
        yield open_


def _on_anchors(person: str, steps: Sequence[PlannedStep], routes: Routes) -> Iterator[Presence]:
    open_: Presence | None = None
    for step in steps:
        anchor = step.step.anchors
        if open_:
            open_ = Presence(person, open_.place, open_.first, step)
        if anchor is None or (open_ and anchor == open_.place):
            continue
        if open_:
            yield open_
        open_ = None if routes.touches(anchor) else Presence(person, str(anchor), step, step)
    if open_:
        yield open_


def meetings(plan: Plan, routes: Routes) -> Iterator[tuple[Presence, ...]]:
    """Stays at one place that could all last at once, by more people than there is room for; without circles."""
    places = plan.library.places
    found: dict[str, dict[str, list[Presence]]] = defaultdict(lambda: defaultdict(list))
    for one in presences(plan, routes):
        if one.place in places and places[one.place].room is not None:
            found[one.place][one.person].append(one)
    for place, by_person in found.items():
        room = places[place].room or 0
        if len(by_person) > room:
            rows = {person: _in_order(plan, person, row) for person, row in by_person.items()}
            for row in rows.values():
                for one in row:
                    yield from _fill(plan, rows, room, (one,))


def _in_order(plan: Plan, person: str, row: list[Presence]) -> list[Presence]:
    return sorted(row, key=lambda one: _seat(plan, person, one.last))


def _seat(plan: Plan, person: str, step: PlannedStep) -> int:
    return plan.order.seat[step.index][person]


def _fill(
    plan: Plan, rows: Mapping[str, Sequence[Presence]], room: int, together: tuple[Presence, ...]
) -> Iterator[tuple[Presence, ...]]:
    if len(together) > room:
        yield together
        return
    newest, people = together[-1], list(rows)
    for person in people[people.index(newest.person) + 1 :]:
        for other in _beside(plan, rows[person], person, newest):
            if all(_can_meet(plan, one, other) for one in together[:-1]):
                yield from _fill(plan, rows, room, (*together, other))


def _beside(plan: Plan, row: Sequence[Presence], person: str, one: Presence) -> Iterator[Presence]:
    """The stays of another person that can last at the same time."""
    low = plan.order.beside(one.first.index, person)[0]
    high = plan.order.beside(one.last.index, person)[1]
    for other in row[bisect_left(row, low, key=lambda stay: _seat(plan, person, stay.last)) :]:
        if _seat(plan, person, other.first) < high:
            yield other


def _can_meet(plan: Plan, one: Presence, other: Presence) -> bool:
    before = plan.order.before
    return not before(one.last.index, other.first.index) and not before(other.last.index, one.first.index)
