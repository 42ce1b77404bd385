"""A sortie as a plan: flows of tasks and single steps, links, items, and what is left out."""

from __future__ import annotations

from typing import Any

import pytest

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import Plan
from tests.travel_world import world

PLATES = {"plates": {"states": ["out", "in"], "starts": "out", "parts": {"rack": [1, 2], "plate": ["a", "b"]}}}


def keys(plan: Plan, person: str) -> list[str]:
    return [plan.steps[index].key for index in plan.flows.get(person, ())]


def two_tasks(**keys: Any) -> SortieEvidence:
    """EV1 and EV2 do `dig` together, one with a named step; EV1 alone does `fill`, which waits for it."""
    steps: dict[str, list[dict[str, Any]]] = {
        "dig": [{"who": "ev1"}, {"who": ["ev1", "ev2"], "id": "deep"}, {"who": "ev2"}],
        "fill": [{"who": "ev1", "after": ["dig/3"]}],
    }
    return world(steps, **keys)


def test_a_whole_task_stands_for_a_persons_own_steps_in_their_order() -> None:
    plan = two_tasks().plan
    assert keys(plan, "ev1") == ["dig/1", "dig/deep", "fill/1"]
    assert keys(plan, "ev2") == ["dig/deep", "dig/3"]


def test_a_step_named_singly_is_not_in_the_whole_task_as_well() -> None:
    plan = two_tasks(flow={"ev1": ["dig", "fill", "dig/deep"], "ev2": ["dig"]}).plan
    assert keys(plan, "ev1") == ["dig/1", "fill/1", "dig/deep"]


@pytest.mark.parametrize("name", ["dig/deep", "dig/2"])
def test_a_named_step_may_be_named_by_its_number(name: str) -> None:
    assert keys(two_tasks(flow={"ev1": [name], "ev2": [name]}).plan, "ev2") == ["dig/deep"]


def test_a_joint_step_is_one_step_on_both_flows() -> None:
    plan = two_tasks().plan
    assert len(plan.steps) == 4
    joint = plan.step("dig/deep")
    assert joint is not None
    assert joint.people == ("ev1", "ev2")
    before, after = plan.previous_for("ev1", joint), plan.next_for("ev2", joint)
    assert before is not None
    assert before.key == "dig/1"
    assert after is not None
    assert after.key == "dig/3"


def test_a_link_orders_steps_of_different_people() -> None:
    plan = two_tasks().plan
    index = {step.key: step.index for step in plan.steps}
    assert plan.order.before(index["dig/3"], index["fill/1"])
    assert not plan.order.before(index["dig/3"], index["dig/1"])


def test_nothing_waits_for_a_task_that_is_left_out() -> None:
    proved = two_tasks()
    plan = proved.plan.without({"dig"})
    assert keys(plan, "ev1") == ["fill/1"]
    assert keys(plan, "ev2") == []
    assert plan.links == ()


def test_the_optional_tasks_are_those_that_are_not_required() -> None:
    proved = two_tasks()
    assert proved.plan.optional_tasks == ()
    optional = {"title": "dig", "purpose": "A test.", "priority": "get-ahead", "steps": [
        {"who": "ev1", "do": "Dig.", "takes": "1 min"}
    ]}  # fmt: skip
    assert two_tasks(tasks={"dig": optional}, flow={"ev1": ["dig"]}).plan.optional_tasks == ("dig",)


def test_names_that_lead_nowhere_are_left_out_and_do_not_stop_the_plan() -> None:
    plan = two_tasks(flow={"ev1": ["dug", "dig/7", "dig"], "nobody": ["dig"]}).plan
    assert keys(plan, "ev1") == ["dig/1", "dig/deep"]
    assert "nobody" not in plan.flows


def test_an_empty_flow_is_an_empty_plan() -> None:
    plan = two_tasks(flow={"ev1": []}).plan
    assert plan.steps == ()
    assert plan.circle == ()
    assert plan.optional_tasks == ()


def test_the_steps_of_a_circle_are_told() -> None:
    plan = two_tasks(flow={"ev1": ["fill", "dig"], "ev2": ["dig"]}).plan
    assert [step.key for step in plan.circle] == ["fill/1", "dig/1", "dig/deep", "dig/3"]


@pytest.mark.parametrize(
    ("each", "items"),
    [
        ("plates", [("1", "a"), ("1", "b"), ("2", "a"), ("2", "b")]),
        ({"equipment": "plates", "where": {"rack": [2]}}, [("2", "a"), ("2", "b")]),
        ({"equipment": "plates", "where": {"rack": [2], "plate": ["a"]}}, [("2", "a")]),
        ({"equipment": "plates", "where": {"rack": [3]}}, []),
    ],
)
def test_a_step_is_done_once_for_every_chosen_item(each: Any, items: list[tuple[str, str]]) -> None:
    plan = world({"take": [{"who": "ev1", "each": each, "takes": "2/3/5 min"}]}, equipment=PLATES).plan
    step = plan.steps[0]
    assert list(step.items) == items
    assert step.times == len(items)
    assert step.duration.likely == 180 * max(1, len(items))


def test_a_place_is_that_of_the_step_or_else_of_the_task_and_only_for_people_outside() -> None:
    step: dict[str, Any] = {"do": "Work.", "takes": "1 min"}
    task = {"title": "T", "purpose": "P", "place": "k1", "steps": [
        {**step, "who": "ev1"}, {**step, "who": "ev1", "at": "k2", "to": "k3"}, {**step, "who": "desk", "at": "k2"}
    ]}  # fmt: skip
    plan = world({"t": [{"who": ["ev1", "desk"]}]}, tasks={"t": task}).plan
    places = {step.key: (step.place, step.leads_to) for step in plan.steps}
    assert places == {"t/1": ("k1", "k1"), "t/2": ("k2", "k3"), "t/3": (None, None)}
