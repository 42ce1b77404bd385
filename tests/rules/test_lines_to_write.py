"""What a finding says to write means what it says: pasted as YAML it is read as what was meant."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
import yaml

from tests.rules.laid_over import found, sortie

# States as an author may well call them, each of which YAML would take for something else if it stood bare.
STATES = ["off, tagged", "open: 3", "shut #2", "[a]", "- in", "{x}", "'quoted'", "on & lit"]


def read(line: str) -> dict[str, object]:
    """The line as it is read where it is pasted."""
    content = yaml.load(line, Loader=yaml.BaseLoader)
    assert isinstance(content, dict)
    return content


def equipment(state: str, *, control: bool = False, ends: str = "") -> str:
    """The valve, which can be on or in that state."""
    quoted = json.dumps(state)
    more = f", ends: {json.dumps(ends)}" if ends else ""
    marked = ", control: true" if control else ""
    return f"equipment: {{valve: {{name: Valve, place: k1, states: [on, {quoted}], starts: on{marked}{more}}}}}\n"


def flow_map(state: str) -> str:
    return f"{{valve: {json.dumps(state)}}}"


@pytest.mark.parametrize("state", STATES)
def test_a_state_that_is_not_there(state: str, tmp_path: Path) -> None:
    step = f"who: ev1, at: lock, do: Look., takes: 2 min, requires: {flow_map(state)}"
    [finding] = found(tmp_path, sortie(step, more=equipment(state)), "state-not-there")
    assert read(finding.write) == {"sets": {"valve": state}}


@pytest.mark.parametrize("state", STATES)
def test_a_control_that_nobody_confirmed(state: str, tmp_path: Path) -> None:
    off = f"who: ev1, at: lock, do: Switch it off., takes: 2 min, sets: {flow_map(state)}"
    use = f"who: ev1, at: lock, do: Pull it., takes: 2 min, requires: {flow_map(state)}"
    text = sortie(off, use, more=equipment(state, control=True, ends=state))
    [finding] = found(tmp_path, text, "control-not-confirmed")
    assert read(finding.write) == {"verifies": {"valve": state}}


@pytest.mark.parametrize("state", STATES)
def test_an_end_that_is_wrong(state: str, tmp_path: Path) -> None:
    step = "who: ev1, at: lock, do: Look., takes: 2 min"
    [finding] = found(tmp_path / "never", sortie(step, more=equipment(state, ends=state)), "ends-wrong")
    assert read(finding.write) == {"carries_over": {"valve": "on"}}
    off = f"who: ev1, at: lock, do: Switch it., takes: 2 min, sets: {flow_map(state)}"
    on = "who: ev1, at: lock, do: Switch it back., takes: 2 min, sets: {valve: on}"
    [finding] = found(tmp_path / "back", sortie(off, on, more=equipment(state, ends=state)), "ends-wrong")
    assert read(finding.write) == {"sets": {"valve": state}}


def test_several_ends_give_one_line_that_holds_them_all(tmp_path: Path) -> None:
    more = (
        "equipment:\n  valve: {name: Valve, place: k1, states: [on, off], starts: on, ends: off}\n"
        "  lid: {name: Lid, place: k1, states: [open, shut], starts: open, ends: shut}\n"
    )
    findings = found(tmp_path, sortie("who: ev1, at: lock, do: Look., takes: 2 min", more=more), "ends-wrong")
    assert len(findings) == 2
    assert [read(one.write) for one in findings] == [{"carries_over": {"valve": "on", "lid": "open"}}] * 2
