"""Whoever is free: roles are known where they mean something, and misspelt ones are found."""

from __future__ import annotations

from itertools import product
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


LIKE = """
tasks:
  look: {title: Look, purpose: To know., place: lock, priority: PRIORITY,
    steps: [{id: see, who: A, do: Look at it., takes: 2 min},
      {who: B, do: Look again., takes: 2 min, after: [see], calls: [{to: A, say: Done.}]}]}
  more: SECOND
sorties: {s: {title: S, flow: {ev1: [first], ev2: [first]}, limits: {length: 1 h}, get_aheads: [look, more]}}
"""
FIRST = "  first: {title: Go, purpose: To go., place: lock, steps: [{who: [ev1, ev2], do: Look out., takes: 2 min}]}\n"
NAMES = ("ev1", "ev2", "one", "other", "ground", "onne")


def said(folder: Path, base: tuple[str, str], second: str) -> tuple[list[str], object]:
    """The rules that find something wrong in the second task, and who does what in it."""
    text = LIKE.replace("SECOND", second).replace("A, do", f"{base[0]}, do").replace("to: A", f"to: {base[0]}")
    text = (
        text.replace("who: B", f"who: {base[1]}")
        .replace("PRIORITY", "get-ahead")
        .replace("\n  look", f"\n{FIRST}  look")
    )
    folder.mkdir()
    found = examined(folder, text)
    wrong = sorted({one.rule for one in found.findings if one.level == "error"})
    task = found.evidence.shown.tasks.get("more")
    return wrong, task and [(step.who, step.calls[0].to if step.calls else ()) for step in task.steps]


@pytest.mark.parametrize("base", [("ev1", "ev2"), ("one", "other")])
def test_whoever_may_stand_instead_of_somebody_as_if_it_were_written_so(base: tuple[str, str], tmp_path: Path) -> None:
    # The same task in full, with the names written where they stand, is the reference.
    for number, (first, second) in enumerate(product(NAMES, NAMES)):
        if first == second:
            continue
        instead = {old: new for old, new in zip(base, (first, second), strict=True) if old != new}
        pairs = ", ".join(f"{old}: {new}" for old, new in instead.items())
        like = f"{{like: look, title: More, instead: {{{pairs}}}}}" if instead else "{like: look, title: More}"
        whole = LIKE.partition("look: ")[2].partition("\n  more")[0].replace("title: Look", "title: More")
        whole = (
            whole.replace("A, do", f"{first}, do").replace("to: A", f"to: {first}").replace("who: B", f"who: {second}")
        )
        folder = tmp_path / str(number)
        folder.mkdir()
        assert said(folder / "like", base, like) == said(folder / "whole", base, whole), instead


def test_who_is_left_by_name_is_exchanged_in_the_line_to_write(tmp_path: Path) -> None:
    text = LIKE.replace("A, do", "ev1, do").replace("to: A", "to: ev1").replace("who: B", "who: ev2")
    text = text.replace("PRIORITY", "get-ahead").replace("\n  look", f"\n{FIRST}  look")
    for number, instead in enumerate(("instead: {ev1: one}", "instead: {ev2: other}")):
        folder = tmp_path / str(number)
        found = examined(folder, text.replace("SECOND", f"{{like: look, title: More, {instead}}}"))
        [finding] = [one for one in found.findings if one.level == "error"]
        assert finding.rule == "whoever-and-somebody"
        cured = examined(folder / "cured", text.replace("SECOND", f"{{like: look, title: More, {finding.write}}}"))
        assert [one for one in cured.findings if one.level == "error"] == []
