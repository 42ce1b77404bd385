"""Stops that go written ways back, worked by hand: 6 m from the lock to K1 and 3 m on to K2, at 6 m a minute."""

from __future__ import annotations

from typing import Any

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.stopping.stops import Stop
from tests.travel_world import world

MINUTE = 60.0
PUMP: dict[str, Any] = {
    "feed": {"states": ["on", "off"], "starts": "on", "control": True, "place": "k1"},
    "plug": {"states": ["mated", "loose"], "starts": "mated", "place": "k2"},
    "seat": {"states": ["old", "empty", "new"], "starts": "old", "ends": "new", "place": "k2"},
    "loop": {"states": ["unproven", "proven"], "starts": "unproven", "ends": "proven"},
}
SWAP: list[dict[str, Any]] = [
    {"id": "off", "who": "ev1", "at": "k1", "takes": "2 min", "sets": {"feed": "off"}},
    {"id": "see", "who": "desk", "takes": "1 min", "verifies": {"feed": "off"}, "after": ["a/off"]},
    {"id": "pull", "who": "ev1", "at": "k2", "takes": "3 min", "requires": {"feed": "off"}, "sets": {"plug": "loose"},
     "after": ["a/see"]},
    {"id": "out", "who": "ev1", "at": "k2", "takes": "9 min", "requires": {"plug": "loose"}, "sets": {"seat": "empty"}},
    {"id": "in", "who": "ev1", "at": "k2", "takes": "9 min", "requires": {"seat": "empty"},
     "sets": {"seat": "new"}},
    {"id": "mate", "who": "ev1", "at": "k2", "takes": "4 min", "requires": {"seat": "new"}, "sets": {"plug": "mated"}},
    {"id": "prove", "who": "desk", "takes": "20 min", "sets": {"loop": "proven"}, "after": ["a/mate"]},
    {"id": "on", "who": "ev1", "at": "k1", "takes": "2 min", "requires": {"plug": "mated", "loop": "proven"},
     "sets": {"feed": "on"}, "after": ["a/prove"]},
    {"id": "home", "who": "ev1", "at": "lock", "takes": "1 min"},
]  # fmt: skip
PLUG_BACK = {
    "of": "pull",
    "steps": [{"who": "ev1", "at": "k2", "do": "Mate it.", "takes": "4 min", "sets": {"plug": "mated"},
               "requires": {"feed": "off"}}],
}  # fmt: skip
FEED_BACK = {
    "of": "off",
    "steps": [{"who": "ev1", "at": "k1", "do": "Switch on.", "takes": "2 min", "sets": {"feed": "on"},
               "requires": {"plug": "mated"}}],
}  # fmt: skip


def flown(*undo: dict[str, Any], steps: list[dict[str, Any]] = SWAP, **equipment: Any) -> SortieEvidence:
    return world({"a": steps}, undo={"a": list(undo)}, equipment={**PUMP, **equipment})


def after(proved: SortieEvidence, key: str) -> Stop:
    return next(one for one in proved.stops if key in [proved.plan.steps[index].key for index in one.ended])


def keys(proved: SortieEvidence, stop: Stop) -> list[str]:
    return [proved.plan.all_steps[index].key for index, _, _ in stop.closing]


def stuck(stop: Stop) -> list[Any]:
    return [one.matter[0] for one in stop.stuck]


def test_without_a_way_back_no_new_work_is_begun_and_that_is_said() -> None:
    stop = after(proved := flown(), "a/pull")
    # The plug could be mated only with the new unit in its seat: nobody begins that because of a stop.
    assert sorted(stuck(stop)) == ["feed", "plug"]
    assert keys(proved, stop) == []
    assert stop.seconds == 1.5 * MINUTE
    # Once the old unit is out, the seat is open: then the swap is what closes it, and all is done.
    assert stuck(out := after(proved, "a/out")) == []
    assert keys(proved, out) == ["a/in", "a/mate", "a/prove", "a/on"]


def test_ways_back_are_gone_last_first_and_what_they_rely_on_holds() -> None:
    proved = flown(PLUG_BACK, FEED_BACK)
    # Mate it (4), half a minute to K1, switch on (2), home (1): the feed is still off as the plug is mated.
    stop = after(proved, "a/pull")
    assert keys(proved, stop) == ["a/pull/undo/1", "a/off/undo/1"]
    assert [start / MINUTE for _, start, _ in stop.closing] == [0.0, 4.5]
    assert stop.seconds == 7.5 * MINUTE
    assert stuck(stop) == []
    # With the feed off alone: on the plan's own way the loop would be proven first, which nobody has opened.
    assert keys(proved, after(proved, "a/off")) == ["a/off/undo/1"]


def test_one_way_back_alone_leaves_the_rest_stuck() -> None:
    proved = flown(FEED_BACK)
    assert sorted(stuck(after(proved, "a/pull"))) == ["feed", "plug"]
    assert keys(proved, after(proved, "a/off")) == ["a/off/undo/1"]


def test_of_a_step_to_come_and_a_way_back_the_sooner_one_counts() -> None:
    cover = {"cover": {"states": ["shut", "open"], "starts": "shut", "place": "k1"}}
    steps = [
        {"id": "open", "who": "ev1", "at": "k1", "takes": "2 min", "sets": {"cover": "open"}},
        {"id": "shut", "who": "ev1", "at": "k1", "takes": "5 min", "sets": {"cover": "shut"}},
    ]
    for lasts, chosen in (("4 min", "a/open/undo/1"), ("6 min", "a/shut")):
        back = {"who": "ev1", "at": "k1", "do": "Shut it.", "takes": lasts, "sets": {"cover": "shut"}}
        proved = world({"a": steps}, undo={"a": [{"of": "open", "steps": [back]}]}, equipment=cover)
        assert keys(proved, after(proved, "a/open")) == [chosen]


def test_what_was_done_before_somebody_went_out_is_taken_back_once_they_are_in() -> None:
    hatch = {"hatch": {"states": ["shut", "open"], "starts": "shut", "place": "lock", "ends": ["shut"]}}
    steps = [
        {"id": "open", "who": "ev1", "at": "lock", "takes": "1 min", "sets": {"hatch": "open"}},
        {"id": "look", "who": "ev2", "at": "k2", "takes": "9 min", "after": ["a/open"]},
        {"id": "wait", "who": "ev1", "at": "lock", "takes": "2 min"},
        {"id": "shut", "who": "ev1", "at": "lock", "takes": "30 min", "sets": {"hatch": "shut"}, "after": ["a/look"]},
    ]
    back = {"who": "ev1", "at": "lock", "do": "Shut it.", "takes": "1 min", "sets": {"hatch": "shut"}}
    proved = world({"a": steps}, undo={"a": [{"of": "open", "steps": [back]}]}, equipment=hatch)
    # At 3 min EV2 has been at K2 for half a minute: in 1.5 min later, and only then the hatch is shut (1).
    stop = after(proved, "a/wait")
    assert stop.at == 3 * MINUTE
    assert keys(proved, stop) == ["a/open/undo/1"]
    assert [start / MINUTE for _, start, _ in stop.closing] == [1.5]
    assert stop.seconds == 2.5 * MINUTE


def test_what_holds_somebody_at_a_closing_step_is_entered_first() -> None:
    plate = {"foot plate": {"enter": "3 min", "leave": "2 min"}, "hand rail": {}}
    places = {"lock": {"home": True, "anchor": True}, "k1": {"anchor": True, "restraint": plate}, "k2": {},
              "k3": {"room": 1}, "plate": {"anchor": True}, "tip": {}}  # fmt: skip
    cover = {"cover": {"states": ["shut", "open"], "starts": "shut", "place": "k1"}}
    steps = [
        {"who": "ev1", "at": "k1", "takes": "3 min", "enters": "foot plate"},
        {"who": "ev1", "at": "k1", "takes": "2 min", "sets": {"cover": "open"}, "restraint": "foot plate"},
        {"who": "ev1", "at": "k1", "takes": "2 min", "exits": "foot plate"},
        {"who": "ev1", "at": "k2", "takes": "1 min"},
        {"who": "ev1", "at": "k1", "takes": "3 min", "enters": "foot plate"},
        {"who": "ev1", "at": "k1", "takes": "4 min", "sets": {"cover": "shut"}, "restraint": "foot plate"},
        {"who": "ev1", "at": "k1", "takes": "2 min", "exits": "foot plate"},
        {"who": "ev1", "at": "lock", "takes": "1 min"},
    ]
    proved = world({"a": steps}, equipment=cover, places=places)
    # In it: shut (4), out of it (2), home (1). From K2: half a minute, into it (3), shut (4), out (2), home (1).
    assert (after(proved, "a/2").seconds, after(proved, "a/4").seconds) == (7 * MINUTE, 10.5 * MINUTE)


def test_nobody_is_where_a_closing_step_keeps_others_away() -> None:
    beam = {"beam": {"states": ["up", "down"], "starts": "up"}}
    steps = [
        {"who": "desk", "takes": "1 min", "sets": {"beam": "down"}},
        {"who": "ev1", "at": "k2", "takes": "9 min", "after": ["a/1"]},
        {"who": "ev1", "at": "lock", "takes": "1 min"},
        {"who": "desk", "takes": "5 min", "sets": {"beam": "up"}, "keeps_out": ["k1", "k2"], "after": ["a/3"]},
        {"who": "ev2", "at": "lock", "takes": "2 min", "after": ["a/1"]},
    ]
    proved = world({"a": steps}, equipment=beam)
    # At 3 min EV1 is at K2 and goes home (1.5); the arm moves only when EV1 has left what is kept free.
    stop = after(proved, "a/5")
    assert stop.at == 3 * MINUTE
    assert [start / MINUTE for _, start, _ in stop.closing] == [1.5]
    assert stop.seconds == 6.5 * MINUTE


def test_a_tether_is_moved_on_where_it_would_not_reach() -> None:
    cover = {"cover": {"states": ["shut", "open"], "starts": "shut", "place": "k1"}}
    steps = [
        {"who": "ev1", "at": "k1", "takes": "1 min", "sets": {"cover": "open"}},
        {"who": "ev1", "at": "k1", "takes": "2 min", "anchors": "k1"},
        {"who": "ev1", "at": "k2", "takes": "1 min"},
        {"who": "ev1", "at": "k1", "takes": "5 min", "sets": {"cover": "shut"}},
        {"who": "ev1", "at": "k1", "takes": "3 min", "anchors": "lock", "to": "lock"},
    ]
    proved = world({"a": steps}, equipment=cover, limits={"tether": "7 m"})
    assert proved.travel.tether == 7
    # 6 m to the lock: within 7 m from K1. With 5 m of tether the move written last would be needed.
    assert keys(proved, after(proved, "a/3")) == ["a/4"]
    short = world({"a": steps}, equipment=cover, limits={"tether": "5 m"})
    assert "a/4" in keys(short, after(short, "a/3"))
