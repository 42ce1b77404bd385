"""A misspelt step of a block: wherever it is named, what was meant is told, and what is to be written leads there."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.findings import Finding
from tests.rules.laid_over import examined

# Each word in capitals is where a step is named. Tasks and steps besides are called much like the block and its own.
WORLD = """
tasks:
  take:
    title: Take the plates
    purpose: "They are wanted: [so](task:take#LINK)."
    place: k3
    prerequisites: [{task: plot, before: [NEED]}]
    undo: [{of: BACK, steps: [{who: ev1, do: Push it in., takes: 1 min, sets: {plates: out}}]}]
    steps:
      - {id: begin, who: ev1, do: Look around., takes: 1 min,
         in_case: [{when: It is dark., steps: [{who: ev1, do: Wait for light., takes: 1 min}], then: THEN}]}
      - id: plate
        each: plates
        steps:
          - {id: pull, who: ev1, do: Pull the plate., takes: 1 min, sets: {plates: in}}
          - {id: look, who: ground, do: Look at it., takes: 1 min, after: [WITHIN]}
      - {id: full, who: ev1, do: Count them., takes: 1 min, after: [BELOW]}
      - {id: plot, who: ev1, at: lock, do: Come in., takes: 1 min}
  plot:
    {title: Plot, purpose: To know., place: lock, steps: [{id: pulls, who: ev1, do: Pull it., takes: 1 min}]}
  write:
    {title: Write, purpose: To know., place: lock, steps: [{who: ev1, do: Note it., takes: 1 min, after: [ELSEWHERE]}]}
sorties: {s: {title: S, flow: {ev1: [plot, take, write], ev2: [FLOW]}, limits: {length: 2 h}}}
"""
# What stands at each, and whether the task is named there.
SOUND = {
    "LINK": "plate/pull", "NEED": "plate/pull", "BACK": "plate/pull", "THEN": "full", "WITHIN": "plate/pull",
    "BELOW": "plate/look", "ELSEWHERE": "take/plate/pull", "FLOW": "plot",
}  # fmt: skip
WHOLE = {"ELSEWHERE", "FLOW"}
EITHER = {"THEN", "WITHIN", "BELOW", "BACK"}
WRONG = ["pull", "pul", "plate/pul", "plate/puull", "plat/pull", "plates/pull", "plat/pul", "plate/pulls"]
UNKNOWN = {"unknown-step", "broken-link", "way-back-of-nothing"}


def written(**named: str) -> str:
    text = WORLD
    for where, words in {**SOUND, **named}.items():
        text = text.replace(where, words)
    return text


def lost(folder: Path, text: str) -> list[Finding]:
    folder.mkdir()
    return [one for one in examined(folder, text).findings if one.rule in UNKNOWN]


def places() -> list[tuple[str, str]]:
    short = [(where, words) for where in SOUND if where not in WHOLE for words in WRONG]
    whole = [(where, f"take/{words}") for where in SOUND if where in WHOLE | EITHER for words in WRONG]
    tasks = [
        (where, f"tak/{words}") for where in ("ELSEWHERE", "FLOW", "BELOW") for words in ("plate/pull", "plate/pul")
    ]
    # Within its round, a step's own name is right.
    return [one for one in (*short, *whole, *tasks) if one not in {("WITHIN", "pull"), ("WITHIN", "take/pull")}]


@pytest.mark.parametrize(("where", "words"), places())
def test_a_misspelt_step_of_a_block_is_told_as_it_must_be_written(where: str, words: str, tmp_path: Path) -> None:
    assert lost(tmp_path / "sound", written()) == []
    text = written(**{where: words})
    [finding] = lost(tmp_path / "wrong", text)
    assert "“plate/pull”" in finding.sentence or finding.write.endswith("take/plate/pull")
    spot, lines = finding.position, text.splitlines(keepends=True)
    line = lines[spot.line - 1]
    old = f"task:take#{words}" if where == "LINK" else words
    assert line[spot.column - 1 :].startswith(old)
    lines[spot.line - 1] = line[: spot.column - 1] + finding.write + line[spot.column - 1 + len(old) :]
    assert lost(tmp_path / "cured", "".join(lines)) == []
    assert finding.write.endswith("plate/pull")
