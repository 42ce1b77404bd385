"""Nobody meets a hazard before what controls it holds and is confirmed: not at work, and not on the way there."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import errors, found

WORLD = """
hazards:
  beam: {signal: danger, hazard: It is live., consequence: It burns., avoid: Keep off., controls: {feed: off}}
routes:
  k1-k2: {between: [k1, k2], length: 3 m, hazards: [beam]}
"""
OFF = "{id: off, who: desk, do: Switch the feed off., takes: 2 min, sets: {feed: off}}"
CONFIRM = "{id: confirm, who: ground, do: Confirm that., takes: 1 min, verifies: {feed: off}, after: [work/off]}"
ON = "{id: on, who: desk, do: Switch the feed on., takes: 2 min, sets: {feed: on}, after: [work/in]}"
LOOK = "{id: look, who: ev1, at: k2, do: Look at the cover., takes: 2 min, after: [work/confirm]}"
HOLD = "{id: hold, who: ev1, at: k1, do: Wait for Ground., takes: 1 min, requires: {feed: off}, after: [work/confirm]}"
IN = "{id: in, who: ev1, at: lock, do: Go in., takes: 2 min}"


def beam(*steps: str) -> str:
    lines = "\n".join(f"      - {step}" for step in steps)
    return (
        f"{WORLD}tasks:\n  work:\n    title: Work\n    purpose: To mend it.\n    place: lock\n    steps:\n{lines}\n"
        "sorties: {s: {title: S, flow: {ev1: [work], desk: [work], ground: [work]}, limits: {length: 1 h}}}\n"
    )


def test_a_hold_on_the_near_side_makes_the_way_safe(tmp_path: Path) -> None:
    assert errors(tmp_path, beam(OFF, CONFIRM, HOLD, LOOK, IN, ON)) == []


OWN_WORD = HOLD.replace("confirm", "off")
BLIND = CONFIRM.replace(", after: [work/off]", "")
FREE = LOOK.replace(", after: [work/confirm]", "")
OFF_LATER = OFF.replace("}}", "}, after: [work/in]}")
ON_EARLY = ON.replace("work/in", "work/hold")


@pytest.mark.parametrize(
    ("words", "steps"),
    [
        ("nothing makes sure that Feed is “off” before EV1 sets off", (OFF, CONFIRM, LOOK, IN, ON)),
        ("nobody but who set Feed has confirmed “off” before EV1 sets off", (OFF, BLIND, OWN_WORD, LOOK, IN, ON)),
        ("Feed is “on” then, not “off”", (FREE, IN, OFF_LATER, CONFIRM, ON)),
        ("nothing makes sure that Feed is “off” before EV1 sets off", (OFF, CONFIRM, HOLD, LOOK, IN, ON_EARLY)),
    ],
)
def test_a_way_past_a_hazard_that_is_not_controlled_is_found(
    words: str, steps: tuple[str, ...], tmp_path: Path
) -> None:
    finding = found(tmp_path, beam(*steps), "hazard-on-the-way")[0]
    assert words in finding.sentence


def test_the_line_to_write_holds_the_person_back(tmp_path: Path) -> None:
    example = beam(OFF, CONFIRM, LOOK, IN, ON)
    (finding,) = found(tmp_path, example, "hazard-on-the-way")
    assert finding.write_at is not None
    rows = example.split("\n")
    rows.insert(finding.write_at.line - 1, f"      {finding.write}")
    assert errors(tmp_path / "mended", "\n".join(rows)) == []


def test_equipment_that_controls_a_hazard_must_be_marked_as_a_control(tmp_path: Path) -> None:
    example = beam(OFF, CONFIRM, HOLD, LOOK, IN, ON).replace(
        "routes:", "equipment: {feed: {name: Feed, states: [on, off], starts: on}}\nroutes:"
    )
    assert errors(tmp_path, example) == ["control-not-marked"]


def test_only_the_state_that_a_hazard_names_needs_a_second_pair_of_eyes(tmp_path: Path) -> None:
    lit = "{id: lit, who: ground, do: Read the lamp., takes: 1 min, requires: {feed: on}, after: [work/on]}"
    assert errors(tmp_path / "on", beam(OFF, CONFIRM, HOLD, LOOK, IN, ON, lit)) == []
    both = beam(OFF, CONFIRM, HOLD, LOOK, IN, ON, lit).replace("{feed: off}}\nroutes", "{feed: off}}\n" + _LIVE)
    assert errors(tmp_path / "named", both) == ["control-not-confirmed"]


def test_a_control_that_no_hazard_names_needs_them_in_every_state(tmp_path: Path) -> None:
    shut = "{id: shut, who: ev1, at: k2, do: Shut the valve., takes: 1 min, sets: {valve: closed}}"
    open_ = "{id: open, who: ev1, at: k2, do: Open the valve., takes: 1 min, sets: {valve: open}}"
    flow = "{id: flow, who: ev1, at: k2, do: Feel the flow., takes: 1 min, requires: {valve: open}}"
    assert errors(tmp_path, beam(OFF, CONFIRM, HOLD, LOOK, shut, open_, flow, IN, ON)) == ["control-not-confirmed"]


_LIVE = (
    "  dark: {signal: caution, hazard: It is dark., consequence: You fall., avoid: Wait., controls: {feed: on}}\nroutes"
)
