"""Who is where: rides into places that are full, routes in no time, limits with three points."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import errors, examined, found, sortie

IN = "who: ev1, do: Go in., takes: 2 min"
IN2 = "who: ev2, do: Go in., takes: 2 min"
WORK = "id: count, who: ev1, at: k3, do: Count the plates., takes: 30 min"
RIDE = "id: ride, who: ev2, at: k1, to: k3, do: Ride there., takes: 1 min"


def test_a_ride_into_a_place_that_is_full_is_found(tmp_path: Path) -> None:
    (finding,) = found(tmp_path / "wrong", sortie(WORK, IN, RIDE, IN2, people="ev1 ev2"), "crowded-place")
    assert "“Ride there” (EV2, work/ride) and “Count the plates” (EV1, work/count)" in finding.sentence
    settled = sortie(WORK, IN, f"{RIDE}, after: [work/count]", IN2, people="ev1 ev2")
    assert errors(tmp_path / "right", settled) == []


def test_two_who_ride_together_need_room_for_two(tmp_path: Path) -> None:
    together = "who: [ev1, ev2], at: k1, to: k3, do: Ride there., takes: 1 min"
    assert errors(tmp_path, sortie(together, IN, IN2, people="ev1 ev2")) == ["room-too-small"]


def test_after_a_ride_from_out_of_reach_the_way_goes_on_from_where_it_ends(tmp_path: Path) -> None:
    look = "who: ev1, at: tip, do: Look., takes: 1 min"
    ride = "who: ev1, at: tip, to: k1, do: Ride back., takes: 5 min"
    assert len(found(tmp_path, sortie(look, ride, IN), "unreachable-place")) == 1


def test_no_route_takes_no_time(tmp_path: Path) -> None:
    more = "routes: {lock-k1: {between: [lock, k1], length: 600 m, time: 0 min}}"
    assert not examined(tmp_path, sortie(IN, more=more)).proved


@pytest.mark.parametrize(
    "limits",
    ["length: 1/2/9 h", "length: 2 h, reserve: 1/2/3 min", "length: 2 h, return_within: 1/20/300 min"],
)
def test_a_limit_is_one_time(limits: str, tmp_path: Path) -> None:
    (finding,) = found(tmp_path, sortie(IN, limits=limits), "wrong-value")
    assert "one time is asked for here, not three points" in finding.sentence


def test_a_bag_has_no_settings(tmp_path: Path) -> None:
    step = "who: ev1, do: Take the bag., takes: 1 min, picks: [bag-a], with: [{bag-a: loosen}], leaves: {bag-a: lock}"
    assert errors(tmp_path, sortie(step)) == ["unknown-setting"]
