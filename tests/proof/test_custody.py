"""Custody by order: tools, bags and bags in bags through picks, uses, hand-overs and leaves."""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.holding.custody import Act, Handled, Spot, loops_in
from tests.travel_world import world

BAGS = {"bag": {"stowed": "lock"}, "pouch": {"stowed": "bag"}}
TOOLS = {
    "driver": {"stowed": "lock"}, "socket": {"stowed": "pouch"}, "key": {"stowed": "bag"},
    "clips": {"stowed": "pouch", "count": 6},
}  # fmt: skip
LOCK, BAY, EV1, EV2 = Spot("places", "lock"), Spot("places", "k1"), Spot("people", "ev1"), Spot("people", "ev2")
Steps = list[dict[str, Any]]


def sortie_of(*steps: dict[str, Any], **others: Steps) -> SortieEvidence:
    """EV1's steps (unless they say otherwise) as the task `t`, at the lock; `others` are further tasks."""
    tasks = {"t": list(steps), **others}
    placed = {name: [{"who": "ev1", "at": "lock", **step} for step in row] for name, row in tasks.items()}
    return world(placed, tools=TOOLS, bags=BAGS)


def handled(proved: SortieEvidence, key: str, act: Act, thing: str) -> Handled:
    for one in proved.custody.handled:
        if (proved.plan.steps[one.handling.step].key, one.handling.act, one.handling.thing) == (key, act, thing):
            return one
    raise KeyError(key)


def test_a_tool_in_a_bag_in_a_bag_is_where_the_outer_bag_is() -> None:
    proved = sortie_of({"picks": ["bag"]}, {"at": "k1", "with": ["socket"]})
    use = handled(proved, "t/2", Act.USES, "socket")
    assert use.chain == (Spot("bags", "pouch"), Spot("bags", "bag"), EV1)
    assert use.certain
    assert use.reachable


@pytest.mark.parametrize(
    ("step", "act", "thing", "reachable"),
    [
        ({"picks": ["driver"]}, Act.PICKS, "driver", True),
        ({"picks": ["driver"], "at": "k1"}, Act.PICKS, "driver", False),
        ({"picks": ["socket"]}, Act.PICKS, "socket", True),
        ({"picks": ["socket"], "at": "k1"}, Act.PICKS, "socket", False),
        ({"with": ["driver"]}, Act.USES, "driver", False),  # loose at the place: it must be picked first
        ({"with": ["key"]}, Act.USES, "key", True),  # in a bag that is there
        ({"with": ["key"], "at": "k1"}, Act.USES, "key", False),
        ({"spends": {"clips": 2}}, Act.SPENDS, "clips", True),
        ({"leaves": {"driver": "lock"}}, Act.LEAVES, "driver", False),
        ({"picks": ["driver"], "leaves": {"driver": "bag"}}, Act.INTO, "bag", True),
        ({"picks": ["driver"], "at": "k1", "leaves": {"driver": "bag"}}, Act.INTO, "bag", False),
        ({"picks": ["bag"], "at": "k1", "with": ["driver"]}, Act.USES, "driver", False),
        ({"picks": ["driver"], "with": ["driver"]}, Act.USES, "driver", True),  # picks come first
        ({"picks": ["bag"], "with": ["socket"], "leaves": {"bag": "lock"}}, Act.USES, "socket", True),
        ({"picks": ["bag"], "leaves": {"bag": "pouch"}}, Act.INTO, "pouch", False),  # which lies in the bag
    ],
)
def test_what_is_at_hand(step: dict[str, Any], act: Act, thing: str, reachable: bool) -> None:
    found = handled(sortie_of(step), "t/1", act, thing)
    assert found.certain
    assert found.reachable is reachable


def test_who_is_not_outside_takes_nothing() -> None:
    found = handled(sortie_of({"who": "desk", "picks": ["driver"]}), "t/1", Act.PICKS, "driver")
    assert not found.reachable


def test_a_joint_step_hands_over() -> None:
    give = {"who": ["ev1", "ev2"], "hands": {"driver": "ev2"}}
    proved = sortie_of({"picks": ["driver"]}, give, {"who": "ev2", "leaves": {"driver": "lock"}})
    assert handled(proved, "t/2", Act.HANDS, "driver").chain == (EV1,)
    left = handled(proved, "t/3", Act.LEAVES, "driver")
    assert left.chain == (EV2,)
    assert left.reachable
    assert proved.custody.ends["driver"] == LOCK


def test_a_tool_in_the_hands_of_a_partner_in_the_step_will_do() -> None:
    proved = sortie_of({"picks": ["driver"]}, {"who": ["ev1", "ev2"], "with": ["driver"]})
    assert handled(proved, "t/2", Act.USES, "driver").reachable


def test_moving_a_bag_races_with_who_uses_what_is_in_it() -> None:
    proved = sortie_of({"picks": ["bag"]}, other=[{"who": "ev2", "with": ["socket"]}])
    use = handled(proved, "other/1", Act.USES, "socket")
    assert not use.certain
    assert {name: answer.racing for name, answer in use.answers if answer.racing} == {"bag": (0,)}


def test_an_order_settles_the_race() -> None:
    proved = sortie_of({"picks": ["bag"], "after": ["other/1"]}, other=[{"who": "ev2", "with": ["socket"]}])
    assert all(one.certain for one in proved.custody.handled)


def test_two_hands_in_one_bag_do_not_race() -> None:
    proved = sortie_of({"picks": ["key"]}, other=[{"who": "ev2", "picks": ["socket"]}])
    assert all(one.certain and one.reachable for one in proved.custody.handled)


def test_a_lot_is_counted_down_for_every_item() -> None:
    plates = {"plates": {"states": ["out"], "starts": "out", "parts": {"rack": [1, 2, 3]}}}
    step = {"who": "ev1", "at": "lock", "each": "plates", "spends": {"clips": 2}}
    proved = world({"t": [step]}, tools=TOOLS, bags=BAGS, equipment=plates)
    assert proved.custody.left == {"clips": 0}


def test_a_thing_ends_where_it_was_left_last() -> None:
    proved = sortie_of({"picks": ["driver"]}, {"at": "k1", "leaves": {"driver": "k1"}})
    assert proved.custody.ends["driver"] == BAY
    assert proved.custody.ends["socket"] == Spot("bags", "pouch")


# Bags in themselves ---------------------------------------------------------------------------------------------


def test_a_ring_of_bags_is_told_once_and_ends() -> None:
    ring = {name: Spot("bags", other) for name, other in (("b", "c"), ("c", "a"), ("a", "b"), ("in-it", "b"))}
    assert list(loops_in(ring)) == [("a", "b", "c")]
    assert list(loops_in({"a": Spot("bags", "a")})) == [("a",)]
    assert list(loops_in({"a": LOCK, "b": Spot("bags", "a")})) == []


def test_a_tool_in_a_bag_that_lies_in_itself_is_nowhere_and_the_search_ends() -> None:
    tools = {"key": {"stowed": "bag"}}
    proved = world({"t": [{"who": "ev1", "at": "lock", "with": ["key"]}]}, tools=tools, bags={"bag": {"stowed": "bag"}})
    found = handled(proved, "t/1", Act.USES, "key")
    assert not found.reachable
    assert [name for name, _ in found.answers] == ["key", "bag"]


def test_bags_in_bags_may_go_a_hundred_deep() -> None:
    bags = {f"b{n}": {"stowed": f"b{n + 1}" if n < 99 else "lock"} for n in range(100)}
    proved = world({"t": [{"who": "ev1", "at": "lock", "with": ["key"]}]}, tools={"key": {"stowed": "b0"}}, bags=bags)
    found = handled(proved, "t/1", Act.USES, "key")
    assert len(found.chain) == 101
    assert found.outermost == LOCK
    assert found.reachable
