"""Light with an optional task left out: what then begins earlier may begin before dawn."""

from __future__ import annotations

from pathlib import Path

from tests.rules.laid_over import found

PLAN = """
tasks:
  wipe:
    title: Wipe the pane
    purpose: To see.
    place: lock
    PRIORITY
    steps: [{who: ev1, do: Wipe the pane., takes: 30 min}]
  work:
    title: Work
    purpose: To know.
    place: lock
    steps: [{who: ev1, do: Photograph the pane., takes: 5 min, needs_light: true}]
sorties: {s: {title: S, flow: {ev1: [wipe, work]}, limits: {length: 2 h}, light: [[20 min, 90 min]]}}
"""


def test_what_begins_before_dawn_when_a_task_is_left_out_is_found(tmp_path: Path) -> None:
    example = PLAN.replace("PRIORITY", "priority: time-permitting")
    (finding,) = found(tmp_path, example, "work-in-the-dark")
    night = "5 min of its 5 min lie in the night from 0:00:00 to 0:20:00"
    assert f"{night} when “Wipe the pane” is left out." in finding.sentence
    assert "Let it begin 20 min later." in finding.sentence


def test_a_task_that_must_be_done_is_not_left_out(tmp_path: Path) -> None:
    assert found(tmp_path, PLAN.replace("PRIORITY", "priority: required"), "work-in-the-dark") == []
