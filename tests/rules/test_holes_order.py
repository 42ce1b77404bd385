"""Orders that look settled and are not."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import errors, examined, found

SHUT = "{id: shut, who: ev2, do: Shut it., takes: 2 min}"
TOUCH = "{id: touch, who: ev1, do: Touch it., takes: 2 min}"
LOOK = "{id: look, who: ground, do: Look at it., takes: 2 min, after: [safe/shut]}"
FETCH = "{id: fetch, who: ev1, do: Fetch the hook., takes: 2 min}"
FLOW = "ev1: [work], ev2: [safe], ground: [work]"


def plan(*steps: str, needs: str = "safe", flow: str = FLOW) -> str:
    rows = "".join(f"      - {step}\n" for step in steps)
    return (
        f"tasks:\n  safe: {{title: Safe, purpose: Safety., place: lock, steps: [{SHUT}]}}\n"
        f"  work:\n    title: Work\n    purpose: To mend it.\n    place: lock\n    prerequisites: [{needs}]\n"
        f"    steps:\n{rows}sorties: {{s: {{title: S, flow: {{{flow}}}, limits: {{length: 1 h}}}}}}\n"
    )


def test_one_step_that_waits_does_not_make_a_whole_task_wait(tmp_path: Path) -> None:
    (finding,) = found(tmp_path, plan(TOUCH, LOOK), "prerequisite-not-done")
    assert "nothing orders “Touch it” (EV1, work/touch) after “Shut it” (EV2, safe/shut)" in finding.sentence
    assert finding.write == "after: [safe/shut]"
    mended = plan(TOUCH.replace("}", f", {finding.write}}}"), LOOK)
    assert errors(tmp_path / "mended", mended) == []


def test_a_tool_may_be_fetched_meanwhile(tmp_path: Path) -> None:
    waits = TOUCH.replace("}", ", after: [safe/shut]}")
    assert errors(tmp_path, plan(FETCH, waits, flow="ev1: [work], ev2: [safe]")) == []


def test_a_task_that_comes_before_what_it_needs_is_told_to_change_its_flow(tmp_path: Path) -> None:
    example = plan(TOUCH, flow="ev1: [work], ev2: [safe]").replace("do: Shut it.", "do: Shut it., after: [work/touch]")
    (finding,) = found(tmp_path, example, "prerequisite-not-done")
    assert "Change the order of a flow" in finding.sentence
    assert finding.write == ""


def test_a_task_does_not_need_itself(tmp_path: Path) -> None:
    example = plan(TOUCH, needs="work", flow="ev1: [work], ev2: [safe]")
    (finding,) = found(tmp_path, example, "prerequisite-not-done")
    assert finding.sentence == "“Work” needs itself first. Take this out."


@pytest.mark.parametrize("after", ["work/touch", "work/1"])
def test_a_step_that_waits_for_itself_is_a_circle(after: str, tmp_path: Path) -> None:
    example = plan(TOUCH.replace("}", f", after: [{after}]}}"), flow="ev1: [work], ev2: [safe]")
    assert not examined(tmp_path, example).proved
    assert errors(tmp_path, example) == ["order-circle"]


STEPS = """
tasks:
  shut: {title: Shut, purpose: Safety., place: lock, steps: [{id: go, who: ev2, do: Shut it., takes: 2 min}]}
  look:
    title: Look
    purpose: To know.
    place: lock
    prerequisites: [{task: shut, before: BEFORE}]
    steps:
      - {id: far, who: ev1, do: Look from afar., takes: 2 min}
      - {id: near, who: ev2, do: Look at it., takes: 2 min}
      - {who: ev1, do: Go in., takes: 2 min}
sorties: {s: {title: S, flow: {ev1: [look], ev2: [shut, look]}, limits: {length: 1 h}}}
"""


@pytest.mark.parametrize(
    ("before", "rules"),
    [("[near]", []), ("near", []), ("[2]", []), ("[far]", ["prerequisite-not-done"]),
     ("[near, far]", ["prerequisite-not-done"]), ("[nearer]", ["unknown-step"]), ("[near, near]", ["wrong-value"])],
)  # fmt: skip
def test_a_prerequisite_is_asked_of_the_steps_that_it_names(before: str, rules: list[str], tmp_path: Path) -> None:
    assert errors(tmp_path, STEPS.replace("BEFORE", before)) == rules
