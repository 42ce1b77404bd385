"""Stays between steps: found just where walking through every state of the plan shows too many people at a place."""

from __future__ import annotations

import itertools
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.occupied_places import meetings
from briefgen.proof.plan import Plan
from tests.proof.executions import states_of
from tests.travel_world import world


def overfull(plan: Plan) -> set[str]:
    """Places with too many people in some state: who was there and has their next step there has not gone away."""
    found: set[str] = set()
    for done, running in states_of(plan):
        there = [_where(plan, person, done, running) for person in plan.outside]
        for place, record in plan.library.places.items():
            if record.room is not None and there.count(place) > record.room:
                found.add(place)
    return found


def _where(plan: Plan, person: str, done: frozenset[int], running: frozenset[int]) -> str | None:
    """The place that a person takes up: of the running step, or of the last one if the next one is there, too."""
    flow = plan.flows[person]
    for index in flow:
        if index in running:
            return plan.steps[index].place
    through = [index for index in flow if index in done]
    ahead = [index for index in flow if index not in done]
    if through and ahead and plan.steps[through[-1]].place == plan.steps[ahead[0]].place:
        return plan.steps[ahead[0]].place
    return None


@st.composite
def shared_places(draw: st.DrawFn) -> SortieEvidence:
    steps: list[dict[str, Any]] = []
    for number in range(1, draw(st.integers(2, 7)) + 1):
        who = draw(st.lists(st.sampled_from(["ev1", "ev2", "ev3", "desk"]), min_size=1, max_size=2, unique=True))
        after = draw(st.lists(st.integers(1, number - 1), max_size=2, unique=True)) if number > 1 else []
        place = draw(st.sampled_from(["k2", "k3", "k3"]))
        steps.append({"who": who, "at": place, "after": [f"t/{one}" for one in after]})
    rooms = {"k2": {"room": draw(st.integers(1, 2))}, "k3": {"room": 1}, "lock": {"home": True}}
    routes = {f"r{name}": {"between": [name, "lock"], "length": "1 m"} for name in ("k2", "k3")}
    return world({"t": steps}, places=rooms, routes=routes)


@settings(max_examples=300, deadline=None)
@given(shared_places())
def test_meetings_are_found_just_where_some_execution_has_one(proved: SortieEvidence) -> None:
    found = list(meetings(proved.plan, proved.evidence.routes))
    assert {stays[0].place for stays in found} == overfull(proved.plan)
    before = proved.plan.order.before
    for stays in found:
        room = proved.library.places[stays[0].place].room
        assert room is not None
        assert len({one.person for one in stays}) == len(stays) == room + 1
        assert not any(before(one.last.index, two.first.index) for one, two in itertools.permutations(stays, 2))


PLATE = {"lock": {"home": True, "anchor": True}, "plate": {"anchor": True, "room": 1}, "tip": {}}


def riders(*, waits: bool) -> SortieEvidence:
    """Two people who ride one plate; with `waits`, the second steps on when the first is off it."""
    steps: list[dict[str, Any]] = []
    for person in ("ev1", "ev2"):
        after = ["t/4"] if waits and person == "ev2" else []
        steps += [
            {"who": person, "at": "lock", "anchors": "plate", "to": "plate", "after": after},
            {"who": person, "at": "plate", "to": "tip"},
            {"who": person, "at": "tip", "to": "plate"},
            {"who": person, "at": "plate", "to": "lock", "anchors": "lock"},
        ]
    return world({"t": steps}, places=PLATE, routes={})


def test_two_riders_on_one_plate_are_one_too_many_even_while_one_is_at_the_tip() -> None:
    both = riders(waits=False)
    assert {stays[0].place for stays in meetings(both.plan, both.evidence.routes)} == {"plate"}
    alone = riders(waits=True)
    assert list(meetings(alone.plan, alone.evidence.routes)) == []
