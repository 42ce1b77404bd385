"""Detours worked by hand: 6 m from the lock to K1, 2 m on to K2; 6 m a minute with free hands and 3 with a bag."""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.proof.moving.detours import detours
from tests.travel_world import world

ROUTES: dict[str, Any] = {
    "r1": {"between": ["lock", "k1"], "length": "6 m"},
    "r2": {"between": ["k1", "k2"], "length": "2 m"},
}
TO_AND_FRO = [{"who": "ev1", "at": "k2"}, {"who": "ev1", "at": "k1"}, {"who": "ev1", "at": "k2"}]
HOME = {"who": "ev1", "at": "lock"}


def saved(steps: list[dict[str, Any]], least: float, **kinds: Any) -> list[float]:
    return [one.seconds for one in detours(world({"a": steps}, routes=ROUTES, **kinds), least)]


def test_free_hands_save_four_metres() -> None:
    assert saved([*TO_AND_FRO, HOME], 40) == pytest.approx([40])
    assert saved([*TO_AND_FRO, HOME], 41) == []


def test_whoever_carries_a_bag_saves_twice_as_long() -> None:
    take = {"who": "ev1", "at": "lock", "picks": ["bag"]}
    put = {"who": "ev1", "at": "lock", "leaves": {"bag": "lock"}}
    assert saved([take, *TO_AND_FRO, put], 80) == pytest.approx([80])
    assert saved([take, *TO_AND_FRO, put], 81) == []


def test_nobody_is_led_past_a_hazard_that_is_not_controlled_then() -> None:
    """The other way round EV1 would pass the beam ahead of the word that it is silent."""
    kinds = {
        "equipment": {"beam": {"states": ["live", "silent"], "starts": "live", "ends": "any"}},
        "hazards": {
            "glare": {"signal": "danger", "hazard": "H.", "consequence": "C.", "avoid": "A.",
                      "controls": {"beam": "silent"}},
        },
        "places": {name: {"anchor": True, "home": name == "lock"} for name in ("lock", "k1", "k2", "k3")},
    }  # fmt: skip
    routes = {**ROUTES, "r3": {"between": ["lock", "k3"], "length": "6 m"},
              "r2": {"between": ["k1", "k2"], "length": "2 m", "hazards": ["glare"]}}  # fmt: skip
    steps = [
        {"who": "ev1", "at": "k3", "sets": {"beam": "silent"}},
        {"who": "ev1", "at": "k2"},
        {"who": "ev1", "at": "k3", "after": ["a/2"]},
        HOME,
    ]
    open_ways = {**routes, "r2": ROUTES["r2"]}
    free = [one.seconds for one in detours(world({"a": steps}, routes=open_ways, **kinds), 60)]
    held = [one.seconds for one in detours(world({"a": steps}, routes=routes, **kinds), 60)]
    # To K2 first: 8 + 14 + 0 + 6 m for 6 + 14 + 14 + 6 m.
    assert (free, held) == ([pytest.approx(120)], [])


def test_a_prerequisite_is_not_broken_for_a_shorter_way() -> None:
    steps = {"far": [{"who": "ev1", "at": "k2"}], "near": [{"who": "ev1", "at": "k1"}],
             "back": [{"who": "ev1", "at": "k2", "after": ["near/1"]}], "home": [HOME]}  # fmt: skip
    free = world(steps, routes=ROUTES)
    assert len(list(detours(free, 40))) == 1
    tasks = {
        name: {"title": name, "purpose": "A test.", "steps": [{"do": "Work.", "takes": "1 min", **one} for one in row],
               **({"prerequisites": ["far"]} if name == "near" else {})}
        for name, row in steps.items()
    }  # fmt: skip
    assert list(detours(world(steps, routes=ROUTES, tasks=tasks), 40)) == []
