"""States of equipment and controls by order, within a sortie and over sorties."""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.proof.evidence import Evidence, SortieEvidence
from briefgen.proof.ordering.states import Met
from tests.travel_world import EFFORTS, library, world

FEED = {"feed": {"states": ["on", "off"], "starts": "on", "control": "true"}}
DOOR = {"door": {"states": ["shut", "open", "ajar"], "starts": "shut"}}
PLATES = {"plates": {"states": ["out", "in"], "starts": "out", "ends": "any", "parts": {"rack": [1, 2]}}}


def met(proved: SortieEvidence, key: str) -> Met:
    """What the only need of a step finds."""
    (found,) = [one for one in proved.states.met if proved.plan.steps[one.need.step].key == key]
    return found


def isolation(look: dict[str, Any] | None, touch: dict[str, Any] | None = None) -> Met:
    """EV1 switches a feed off, somebody looks (`look`), EV2 relies on it after that."""
    steps: dict[str, list[dict[str, Any]]] = {"off": [{"who": "ev1", "sets": {"feed": "off"}}]}
    if look is not None:
        steps["look"] = [{"after": ["off/1"], "verifies": {"feed": "off"}, **look}]
    last = "look/1" if look else "off/1"
    steps["touch"] = [{"who": "ev2", "requires": {"feed": "off"}, "after": [last], **(touch or {})}]
    return met(world(steps, equipment=FEED), "touch/1")


def test_a_control_that_nobody_confirmed_may_not_be_relied_on() -> None:
    found = isolation(None)
    assert (found.answer.value, found.wrong, found.unconfirmed) == ("off", False, True)


@pytest.mark.parametrize(
    ("who", "unconfirmed"),
    [("desk", False), ("ev2", False), ("ev1", True), (["ev1", "desk"], False)],
)
def test_only_somebody_other_than_who_set_it_can_confirm(who: Any, unconfirmed: bool) -> None:
    assert isolation({"who": who}).unconfirmed is unconfirmed


def test_a_look_that_nothing_orders_before_the_work_confirms_nothing() -> None:
    assert isolation({"who": "desk"}, {"after": ["off/1"]}).unconfirmed


def test_a_look_before_the_setting_confirms_nothing() -> None:
    steps = {
        "look": [{"who": "desk", "verifies": {"feed": "on"}}],
        "off": [{"who": "ev1", "sets": {"feed": "off"}, "after": ["look/1"]}],
        "touch": [{"who": "ev2", "requires": {"feed": "off"}, "after": ["off/1"]}],
    }
    assert met(world(steps, equipment=FEED), "touch/1").unconfirmed


@pytest.mark.parametrize(("who", "unconfirmed"), [("ev2", False), ("ev1", True)])
def test_who_looks_in_the_very_step_is_a_witness_unless_they_set_it(who: str, unconfirmed: bool) -> None:
    assert isolation(None, {"who": who, "verifies": {"feed": "off"}}).unconfirmed is unconfirmed


def test_the_starting_state_of_a_control_counts_as_confirmed() -> None:
    proved = world({"touch": [{"who": "ev1", "requires": {"feed": "on"}}]}, equipment=FEED)
    assert met(proved, "touch/1").confirmed


def test_what_is_no_control_needs_no_witness() -> None:
    steps = {"open": [{"who": "ev1", "sets": {"door": "open"}}, {"who": "ev1", "requires": {"door": "open"}}]}
    assert not met(world(steps, equipment=DOOR), "open/2").unconfirmed


def test_a_state_holds_until_the_step_ends_but_for_what_it_sets_itself() -> None:
    steps = {"open": [{"who": "ev1", "requires": {"door": "shut"}, "sets": {"door": "open"}}]}
    found = met(world(steps, equipment=DOOR), "open/1")
    assert found.answer.certain
    assert not found.wrong


def test_a_step_that_looks_at_its_own_work_needs_nothing_before() -> None:
    steps = {"open": [{"who": "ev1", "sets": {"door": "open"}, "verifies": {"door": "open"}}]}
    assert world(steps, equipment=DOOR).states.met == ()


def test_a_step_with_each_means_the_chosen_items_and_any_other_all_of_them() -> None:
    one = {"who": "ev1", "each": {"equipment": "plates", "where": {"rack": [1]}}, "sets": {"plates": "in"}}
    proved = world({"take": [one, {"who": "ev1", "requires": {"plates": "in"}}]}, equipment=PLATES)
    wrong = {met.need.item: met.wrong for met in proved.states.met}
    assert wrong == {("plates", ("1",)): False, ("plates", ("2",)): True}
    assert proved.states.ends["plates", ("1",)].state == "in"
    assert proved.states.ends["plates", ("2",)].state == "out"


# Over sorties ---------------------------------------------------------------------------------------------------


def two_sorties(second: list[dict[str, Any]], *, looked: bool = False, between: bool = False) -> SortieEvidence:
    """EV1 leaves the feed off in the first sortie; what the steps of the last one find."""
    usual = {"do": "Work.", "takes": "1 min"}
    first: list[dict[str, Any]] = [{"who": "ev1", "sets": {"feed": "off"}}]
    first += [{"who": "desk", "verifies": {"feed": "off"}, "after": ["a/1"]}] if looked else []
    middle: list[dict[str, Any]] = [{"who": "desk", "verifies": {"feed": "off"}}] if between else []
    tasks = {"a": first, "b": middle or [{"who": "desk"}], "c": second}
    people = {name: {str(who) for step in steps for who in [step["who"]]} for name, steps in tasks.items()}
    records: dict[str, Any] = {
        "programme": {"p": {"title": "P", "sorties": list(tasks), "effort": EFFORTS,
                            "paces": {"outside": "6 m/min", "loaded": "3 m/min"}}},
        "people": {"ev1": {"label": "EV1", "post": "outside"}, "ev2": {"label": "EV2", "post": "outside"},
                   "desk": {"label": "Desk", "post": "inside"}},
        "places": {"lock": {"home": True}},
        "equipment": {"feed": {**FEED["feed"], "ends": "any"}},
        "tasks": {name: {"title": name, "purpose": "A test.", "place": "lock",
                         "steps": [{**usual, **step} for step in steps]} for name, steps in tasks.items()},
        "sorties": {name: {"title": name, "flow": {who: [name] for who in sorted(people[name])},
                           "limits": {"length": "1 h"}} for name in tasks},
    }  # fmt: skip
    return Evidence(library(records)).sorties["c"]


TOUCH = {"who": "ev2", "requires": {"feed": "off"}}


def test_a_control_that_nobody_confirmed_is_still_unconfirmed_in_a_later_sortie() -> None:
    assert met(two_sorties([TOUCH]), "c/1").unconfirmed


def test_a_control_that_was_confirmed_stays_so() -> None:
    assert not met(two_sorties([TOUCH], looked=True), "c/1").unconfirmed
    assert not met(two_sorties([TOUCH], between=True), "c/1").unconfirmed


@pytest.mark.parametrize(("who", "unconfirmed"), [("ev1", True), ("desk", False)])
def test_who_set_it_in_an_earlier_sortie_is_no_witness_in_a_later_one(who: str, unconfirmed: bool) -> None:
    look = {"who": who, "verifies": {"feed": "off"}}
    touch = {**TOUCH, "after": ["c/1"]}
    assert met(two_sorties([look, touch]), "c/2").unconfirmed is unconfirmed
