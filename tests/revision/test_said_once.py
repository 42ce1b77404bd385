"""What is said once is compared as planned: written anew with fewer words, a plan shows no change."""

from __future__ import annotations

from pathlib import Path

from briefgen.revision.change import Topic, Verb
from briefgen.revision.comparison import Comparison
from briefgen.versions import version_of
from tests.expansion.worlds import LATCHES, content, planned, task

HAND = """
- {id: wipe-1, who: ev1, do: Wipe it., takes: 1 min, each: {equipment: latches, where: {row: [1], latch: [a]}}, restraint: hand rail}
- {id: grease-1, who: ev1, do: Grease it., takes: 1 min, each: {equipment: latches, where: {row: [1], latch: [a]}}, sets: {latches: greased}, restraint: hand rail}
- {id: wipe-2, who: ev1, do: Wipe it., takes: 1 min, each: {equipment: latches, where: {row: [1], latch: [b]}}, restraint: hand rail}
- {id: grease-2, who: ev1, do: Grease it., takes: 1 min, each: {equipment: latches, where: {row: [1], latch: [b]}}, sets: {latches: greased}, restraint: hand rail}
- {id: off, who: ground, do: Switch it off., takes: 1 min, sets: {feed: off}, after: [work/grease-2]}
- {id: see, who: desk, do: Read zero amperes., takes: 1 min, verifies: {feed: off}, after: [work/off]}
- {id: pull, who: ev1, do: Pull it., takes: 1 min, requires: {feed: off}, after: [work/see], restraint: hand rail}
- {id: on, who: ground, do: Switch it on., takes: 1 min, sets: {feed: on}, after: [work/pull]}
"""  # noqa: E501
ONCE = """
- id: latch
  each: latches
  where: {row: [1], latch: [a, b]}
  steps:
    - {do: Wipe it., takes: 1 min}
    - {do: Grease it., takes: 1 min, sets: {latches: greased}}
- id: off
  who: ground
  do: Switch it off.
  takes: 1 min
  sets: {feed: off}
  confirmed_by: {id: see, who: desk, do: Read zero amperes., takes: 1 min}
  after: [latch]
- {id: pull, do: Pull it., takes: 1 min, requires: {feed: off}}
- {id: on, who: ground, do: Switch it on., takes: 1 min, sets: {feed: on}, after: [previous]}
"""
FLOW = "ev1: [work], ground: [work], desk: [work]"
EQUIPMENT = f"equipment: {LATCHES}"


def test_a_task_said_once_that_is_planned_as_before_shows_no_change(tmp_path: Path) -> None:
    old = planned(tmp_path / "old", content(task(HAND), flow=FLOW, more=EQUIPMENT))
    defaults = "    defaults: {who: ev1, restraint: hand rail}\n"
    new = planned(tmp_path / "new", content(task(ONCE, defaults), flow=FLOW, more=EQUIPMENT))
    assert Comparison(version_of(old), version_of(new)).changes == ()
    assert Comparison(version_of(new), version_of(old)).changes == ()


def test_a_step_changed_in_a_block_is_said_for_its_rounds(tmp_path: Path) -> None:
    old = planned(tmp_path / "old", content(task(ONCE, "    defaults: {who: ev1}\n"), flow=FLOW, more=EQUIPMENT))
    text = ONCE.replace("Wipe it., takes: 1 min", "Wipe it., takes: 1 min, why: It is dusty.")
    new = planned(tmp_path / "new", content(task(text, "    defaults: {who: ev1}\n"), flow=FLOW, more=EQUIPMENT))
    changes = Comparison(version_of(old), version_of(new)).changes
    assert [change.subject.part for change in changes] == ["latch/1-a/1", "latch/1-b/1"]


def test_a_flow_that_is_left_out_where_waits_say_the_same_shows_no_change(tmp_path: Path) -> None:
    old = planned(tmp_path / "old", content(task(HAND), flow=FLOW, more=EQUIPMENT))
    new = planned(tmp_path / "new", content(task(HAND), flow="ev1: [work]", more=EQUIPMENT))
    assert Comparison(version_of(old), version_of(new)).changes == ()


ALONE = """
- {id: wipe, who: ev1, do: Wipe it., takes: 1 min, each: latches}
- {id: grease, who: ev1, do: Grease it., takes: 1 min, each: latches, sets: {latches: greased}}
"""
TURNS = """
- id: latch
  each: latches
  steps:
    - {id: wipe, who: ev1, do: Wipe it., takes: 1 min}
    - {id: grease, who: ev1, do: Grease it., takes: 1 min, sets: {latches: greased}}
"""


def test_what_was_done_for_all_items_at_once_and_is_now_done_round_by_round_is_no_new_step(tmp_path: Path) -> None:
    old = planned(tmp_path / "old", content(task(ALONE), flow="ev1: [work]", more=EQUIPMENT))
    new = planned(tmp_path / "new", content(task(TURNS), flow="ev1: [work]", more=EQUIPMENT))
    for before, after, words in (
        (old, new, ("all at once", "round by round")),
        (new, old, ("round by round", "all at once")),
    ):
        steps = [one for one in Comparison(version_of(before), version_of(after)).changes if one.topic is Topic.STEPS]
        assert {one.verb for one in steps} == {Verb.CHANGED}
        assert len(steps) == 2
        for change in steps:
            (each,) = [one for one in change.details if one.what == "For each"]
            assert (each.before.rpartition(", ")[2], each.after.rpartition(", ")[2]) == words
