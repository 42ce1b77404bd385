"""Who is brought elsewhere by whom, and the word that stops it, worked by hand."""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.proof.ordering.rides import is_ride, stop_word
from briefgen.proof.plan import Plan
from tests.travel_world import world

RIDE = {"id": "ride", "who": ["ev1", "iv"], "at": "lock", "to": "k1", "takes": "4 min"}
PEOPLE = {
    "ev1": {"label": "EV1", "post": "outside"}, "ev2": {"label": "EV2", "post": "outside"},
    "iv": {"label": "IV", "post": "inside"},
}  # fmt: skip


def plan(*steps: dict[str, Any], **tasks: list[dict[str, Any]]) -> Plan:
    return world({**tasks, "a": list(steps)}, people=PEOPLE).plan


def said(say: str, who: Any = "iv", to: str = "ev1", **more: Any) -> dict[str, Any]:
    return {"id": "say", "who": who, "takes": "1 min", "calls": [{"to": to, "say": say}], **more}


def word(made: Plan) -> str | None:
    ride = made.step("a/ride")
    assert ride is not None
    found = stop_word(made, ride)
    return found.word if found else None


@pytest.mark.parametrize(
    ("who", "to", "rides"),
    [(["ev1", "iv"], "k1", True), ("ev1", "k1", False), (["ev1", "iv"], "lock", False), ("iv", "k1", False),
     (["ev1", "ev2"], "k1", False), (["ev1", "ev2", "iv"], "k1", True)],
)  # fmt: skip
def test_a_ride_brings_people_outside_elsewhere_and_somebody_else_drives(who: Any, to: str, rides: bool) -> None:
    (step,) = plan({**RIDE, "who": who, "to": to}).steps
    assert is_ride(step) == rides


@pytest.mark.parametrize(
    ("before", "found"),
    [
        (said("Say “Halt” and I set the brakes.", after=[]), "halt"),
        (said("Stopped."), None),  # another word
        (said("I say stop.", who="ev1", at="lock", to="iv"), "stop"),
        (said("Stop.", who="ev2", at="lock", to="iv"), None),  # not between those two
    ],
)
def test_the_word_is_said_between_those_two_before_the_ride(before: dict[str, Any], found: str | None) -> None:
    assert word(plan(before, {**RIDE, "after": ["say"]})) == found


def test_what_may_be_said_later_or_in_another_task_stops_nothing() -> None:
    late = said("Stop.", after=["ride"])
    assert word(plan(RIDE, late)) is None
    assert word(plan(RIDE, b=[said("Stop.")])) is None


def test_the_ride_itself_may_say_it_and_the_last_word_holds() -> None:
    ride = {**RIDE, "calls": [{"to": "iv", "say": "One. Half. Stop."}]}
    assert word(plan(ride)) == "stop"
    assert word(plan(said("Abort if it jerks."), {**ride, "after": ["say"]})) == "stop"
