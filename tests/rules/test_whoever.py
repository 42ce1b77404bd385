"""Whoever is free: roles are known where they mean something, and misspelt ones are found."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import examined

TASKS = """
tasks:
  look: {title: Look, purpose: To know., place: lock, steps: [{who: [ev1, ev2], do: Look at it., takes: 2 min}]}
  wipe: {title: Wipe, purpose: To see., place: lock, priority: get-ahead,
    steps: [{who: one, do: Wipe it., takes: 1 min, calls: [{to: other, say: Done.}]},
      {who: WHO, do: Fold it., takes: 1 min}]}
sorties: {s: {title: S, flow: {ev1: [look], ev2: [look]}, limits: {length: 1 h}, get_aheads: [wipe]}}
"""


def test_one_and_other_are_two_of_those_outside(tmp_path: Path) -> None:
    examination = examined(tmp_path, TASKS.replace("WHO", "other"))
    assert [one.rule for one in examination.findings if one.level == "error"] == []
    task = examination.evidence.shown.tasks["wipe"]
    assert [step.who for step in task.steps] == [("ev1",), ("ev2",)]
    assert task.steps[0].calls[0].to == ("ev2",)


@pytest.mark.parametrize("name", ["onne", "others", "another"])
def test_a_misspelt_role_is_nobody(name: str, tmp_path: Path) -> None:
    found = [one.rule for one in examined(tmp_path, TASKS.replace("WHO", name)).findings]
    assert "unknown-reference" in found
