"""Where everybody outside is, and where their tethers hang: by hand, and on random journeys against plain rules."""

from __future__ import annotations

import itertools

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.whereabouts import Doing
from tests.travel_world import journeys, world


def test_a_ride_takes_person_and_tether_along_until_they_step_off() -> None:
    proved = world(
        {
            "ride": [
                {"who": "ev1", "at": "k2", "to": "plate"},
                {"who": "ev1", "at": "plate", "anchors": "plate"},
                {"who": "ev1", "at": "plate", "to": "tip", "takes": "4 min"},
                {"who": "ev1", "at": "tip"},
                {"who": "ev1", "at": "tip", "to": "k1"},
                {"who": "ev1", "at": "k1", "anchors": "k1"},
            ]
        }
    )
    trail = proved.travel.trails["ev1"]
    assert [(visit.origin, visit.place, visit.leads_to) for visit in trail] == [
        ("lock", "k2", "plate"), ("plate", "plate", "plate"), ("plate", "plate", "tip"),
        ("tip", "tip", "tip"), ("tip", "tip", "k1"), ("k1", "k1", "k1"),
    ]  # fmt: skip
    assert [(visit.hung, visit.anchor) for visit in trail] == [
        ("lock", "lock"), ("lock", "plate"), ("plate", "plate"),
        ("plate", "plate"), ("plate", "plate"), ("plate", "k1"),
    ]  # fmt: skip
    assert [visit.hangs_at_start for visit in trail] == [False, True, False, False, False, True]


def test_ways_steps_waits_and_the_time_after_the_last_step_follow_on_one_another() -> None:
    proved = world(
        {
            "one": [{"id": "turn", "who": "ev1", "at": "k1", "takes": "10 min"}, {"who": "ev1", "at": "lock"}],
            "two": [{"who": "ev2", "at": "k2", "takes": "5 min", "after": ["one/turn"]}],
        }
    )
    told = [(stay.doing, stay.start, stay.end, stay.origin, stay.place) for stay in proved.whereabouts.stays["ev2"]]
    assert told == [
        (Doing.WAY, 0, 90, "lock", "k2"),
        (Doing.WAIT, 90, 660, "k2", "k2"),
        (Doing.STEP, 660, 960, "k2", "k2"),
    ]
    assert proved.whereabouts.stays["ev1"][-1].doing is Doing.DONE
    assert proved.whereabouts.stays["ev1"][-1].end == proved.timeline.finish == 960


def test_a_joint_step_moves_all_who_are_outside_and_nobody_inside() -> None:
    proved = world({"carry": [{"who": ["ev1", "ev2", "desk"], "at": "k1", "to": "k3"}, {"who": "ev2", "at": "k2"}]})
    assert set(proved.travel.trails) == {"ev1", "ev2"}
    assert proved.travel.trails["ev2"][1].origin == "k3"


def test_a_step_without_a_place_is_done_where_the_person_is() -> None:
    proved = world({"look": [{"who": "ev1", "at": "k2"}, {"who": "ev1"}]})
    assert proved.travel.trails["ev1"][1].place == "k2"
    assert proved.travel.trails["ev1"][1].way is not None


def test_who_carries_a_bag_is_told_with_the_way() -> None:
    proved = world({"carry": [{"who": "ev1", "at": "lock", "picks": ["bag"]}, {"who": "ev1", "at": "k1"}]})
    first, second = proved.travel.trails["ev1"]
    assert (first.loaded, second.loaded) == (False, True)
    assert second.way is not None
    assert second.way.seconds == 120  # 6 m at 3 m/min


def test_a_last_step_that_takes_no_time_may_move_its_person() -> None:
    proved = world({"carry": [{"who": "ev1", "at": "k1", "takes": "0 s", "to": "lock"}]})
    stays = proved.whereabouts.stays["ev1"]
    assert [(stay.doing, stay.origin, stay.place) for stay in stays[:1]] == [(Doing.WAY, "lock", "k1")]
    assert proved.timeline.finish == stays[-1].end
    assert proved.travel.trails["ev1"][-1].leads_to == "lock"


@settings(max_examples=150, deadline=None)
@given(journeys())
def test_stays_leave_no_gap_and_no_leap(proved: SortieEvidence) -> None:
    for person, stays in proved.whereabouts.stays.items():
        trail = proved.travel.trails[person]
        if proved.timeline.finish == 0:
            assert stays == ()
            continue
        assert stays[0].start == pytest.approx(0, abs=1e-5)
        assert stays[-1].end == pytest.approx(proved.timeline.finish)
        assert sum(stay.seconds for stay in stays) == pytest.approx(proved.timeline.finish, abs=1e-3)
        for before, after in itertools.pairwise(stays):
            assert after.start == pytest.approx(before.end, abs=1e-5)
            next_visit = before.doing is Doing.STEP and after.visit.seat == before.visit.seat + 1
            if before.visit is after.visit and before.doing is not Doing.STEP and after.doing is Doing.DONE:
                # The last step took no time and so is no stay; if it moved the person, that took no time either.
                assert after.origin == before.visit.leads_to
            elif before.visit is after.visit or (next_visit and after.visit.way is not None):
                assert after.origin == before.place
        assert [visit.origin for visit in trail[1:]] == [visit.leads_to for visit in trail[:-1]]
        assert trail[0].origin == trail[0].hung == "lock"


@settings(max_examples=100, deadline=None)
@given(journeys(), st.floats(0, 1))
def test_a_moment_is_found_as_by_looking_through_all_stays(proved: SortieEvidence, share: float) -> None:
    moment = proved.timeline.finish * share
    for person, stays in proved.whereabouts.stays.items():
        found = proved.whereabouts.at(person, moment)
        hits = [stay for stay in stays if stay.start <= moment <= stay.end]
        assert (found is None) == (not hits) or min(abs(moment - s.start) for s in stays) < 1e-5
        if found is not None and hits:
            assert found is hits[-1] or abs(moment - found.start) < 1e-5


@settings(max_examples=100, deadline=None)
@given(journeys())
def test_seconds_by_what_is_done_are_those_of_the_timeline(proved: SortieEvidence) -> None:
    for person, stays in proved.whereabouts.stays.items():
        sums = proved.timeline.sums(person)
        for doing, key in ((Doing.STEP, "work"), (Doing.WAY, "way"), (Doing.WAIT, "waiting"), (Doing.DONE, "after")):
            assert sum(stay.seconds for stay in stays if stay.doing is doing) == pytest.approx(sums[key], abs=1e-3)


def test_out_of_the_sortie_nobody_is_anywhere() -> None:
    proved = world({"look": [{"who": "ev1", "at": "k2"}]})
    assert proved.whereabouts.at("ev1", -1) is None
    assert proved.whereabouts.at("ev1", proved.timeline.finish + 1) is None
    assert proved.whereabouts.at("nobody", 0) is None
