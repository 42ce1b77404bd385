"""Cases worked by hand: 6 m from the lock to K1, at 6 m a minute; opened (2), looked in (2), shut (2), in (1)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from briefgen.proof.deciding.cases.branch import Branch
from briefgen.proof.deciding.cases.proofs import CaseProof
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.ordering.states import prove_states
from tests.demo import demo
from tests.expansion.worlds import content, errors, task
from tests.rules.laid_over import examined
from tests.travel_world import world

MINUTE = 60.0
COVER = {"cover": {"states": ["shut", "open"], "starts": "shut", "place": "k1"}}


def flown(case: dict[str, Any], other: list[dict[str, Any]] | None = None) -> SortieEvidence:
    steps = [
        {"id": "open", "who": "ev1", "at": "k1", "takes": "2 min", "sets": {"cover": "open"}, "in_case": [case]},
        {"id": "look", "who": "ev1", "at": "k1", "takes": "2 min", "requires": {"cover": "open"}},
        {"id": "shut", "who": "ev1", "at": "k1", "takes": "2 min", "sets": {"cover": "shut"}},
        {"id": "in", "who": "ev1", "at": "lock", "takes": "1 min"},
    ]
    return world({"a": steps, **({"b": other} if other else {})}, equipment=COVER)


def case(then: str, who: str = "ev1", **step: Any) -> dict[str, Any]:
    steps = [{"who": who, "at": "k1", "do": "Push it.", "takes": "3 min", **step}]
    return {"when": "The cover sticks.", "steps": steps, "then": then}


def proved(sortie: SortieEvidence) -> CaseProof:
    (one,) = sortie.cases
    return one


def test_what_the_step_was_to_set_is_not_known_until_the_case_sets_it_or_looks() -> None:
    assert proved(flown(case("go on"))).fault == ("state", "a/look", "cover")
    for how in ("sets", "verifies"):
        one = proved(flown(case("go on", **{how: {"cover": "open"}})))
        assert (one.fault, one.later, one.skipped) == (None, 3 * MINUTE, ())
    assert proved(flown(case("go on", sets={"cover": "shut"}))).fault == ("state", "a/look", "cover")


def test_the_plan_goes_on_at_a_later_step_and_what_lies_between_is_not_done() -> None:
    one = proved(flown(case("in", sets={"cover": "shut"})))
    assert (one.fault, [step.key for step in one.skipped]) == (None, ["a/look", "a/shut"])
    # On the way (1), open (2), push (3), back (1), in (1): sooner than as planned.
    assert (one.finish, one.later) == (8 * MINUTE, 0.0)
    assert proved(flown(case("in"))).fault == ("ends", "cover")


def test_who_leaves_the_task_leaves_all_that_would_follow_of_it() -> None:
    one = proved(flown(case("leave the task", sets={"cover": "shut"})))
    assert [step.key for step in one.skipped] == ["a/look", "a/shut", "a/in"]
    assert one.fault == ("left out", "ev1")


@pytest.mark.parametrize("then", ["open", "b/1", "b/9"])
def test_nobody_goes_on_at_what_may_be_over(then: str) -> None:
    other = [{"who": "ev2", "at": "lock", "takes": "2 min"}]
    assert proved(flown(case(then), other)).backwards


def test_who_helps_may_be_at_any_of_several_things() -> None:
    other = [{"who": "ev2", "at": place, "takes": "2 min"} for place in ("lock", "k1", "lock")]
    sortie = flown(case("go on", who="ev2", sets={"cover": "open"}), other)
    written = proved(sortie)
    branch = Branch(sortie.plan, written.step, written.case)
    assert branch.many == len(list(branch.plans())) == 4
    # Called as the last is over, nobody would bring them in again.
    assert written.fault == ("left out", "ev2")
    bound = [{"who": "ev2", "at": "lock", "takes": "2 min", "after": ["a/open"]}, *other[2:]]
    assert proved(flown(case("go on", who="ev2", sets={"cover": "open"}), bound)).fault is None


def test_a_case_of_the_demo_holds_without_its_closing_steps_only_where_nothing_relies_on_them() -> None:
    sorties = [(sortie, one) for sortie in demo().evidence.sorties.values() for one in sortie.cases]
    relied_on = 0
    for sortie, case_ in sorties:
        assert (case_.fault, case_.backwards, case_.unproved, case_.absent) == (None, False, False, ())
        open_ = [step.made(step.origin, step.number, step.key, sets={}, verifies={}) for step in case_.case.steps]
        spoilt = case_.case.model_copy(update={"steps": tuple(open_)})
        faults = set[str]()
        for plan in Branch(sortie.plan, case_.step, spoilt).plans():
            met = prove_states(plan, sortie.state_starts).met
            faults |= {plan.steps[one.need.step].key for one in met if one.wrong}
        asked = {str(name) for step in sortie.plan.steps for name in (*step.step.requires, *step.step.verifies)}
        relies = not asked.isdisjoint(map(str, case_.step.step.sets))
        assert bool(faults) == relies
        relied_on += relies
    assert relied_on >= 2


def test_a_case_holds_with_each_optional_task_left_out(tmp_path: Path) -> None:
    lamp = "equipment: {lamp: {place: k1, states: [dark, lit], starts: dark, ends: any}}"
    push = "{who: ev1, do: Push it., takes: 1 min, sets: {cover: open}, requires: {lamp: lit}}"
    steps = (
        "- {id: open, who: ev1, do: Open it., takes: 2 min, sets: {cover: open},\n"
        f"   in_case: [{{when: It sticks., steps: [{push}], then: go on}}]}}\n"
        "- {id: shut, who: ev1, do: Shut it., takes: 1 min, sets: {cover: shut}}\n"
        "- {id: in, who: ev1, at: lock, do: Come in., takes: 1 min}"
    )
    light = "- {who: ev1, do: Light the lamp., takes: 1 min, sets: {lamp: lit}}"
    for number, priority in enumerate(("required", "time-permitting")):
        tasks = task(light, f"    priority: {priority}\n", name="light", place="k1") + task(steps, place="k1")
        found = examined(tmp_path / str(number), content(tasks, flow="ev1: [light, work]", more=lamp))
        told = [one.sentence for one in errors(found)]
        assert len(told) == number, told
        if told:
            assert "does not hold when “Work” is left out: " in told[0]
            (sortie,) = found.evidence.sorties.values()
            assert sortie.cases[0].left_out == {"light"}
