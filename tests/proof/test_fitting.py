"""Fitted things: not carried away before they are loose, left where they are fitted, in one place at a time."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.rules.laid_over import errors, examined, found, sortie

MORE = """
tools: {pump: {name: Pump, stowed: k2, fitted_as: {seat: bolted}}, TOOL}
equipment:
  seat: {name: Seat, place: k2, states: [bolted, free], starts: bolted, ends: any}
  rack: {name: Rack, place: k3, states: [empty, full], starts: empty, ends: any}
"""
LOOSEN = "id: loosen, who: ev2, at: k2, do: Take the bolts out., takes: 2 min, sets: {seat: free}"
TAKE = "id: take, who: ev1, at: k2, do: Draw the pump out., takes: 2 min, picks: [pump]"
FIT = "id: fit, who: ev1, at: k2, do: Bolt it in., takes: 2 min, sets: {seat: bolted}"
BRING = "id: bring, who: ev1, at: lock, do: Bring it in., takes: 2 min, leaves: {pump: lock}"
IN = "id: in, who: ev1, at: lock, do: Go in., takes: 2 min"
IN2 = "id: in-2, who: ev2, at: lock, do: Go in., takes: 2 min"


def plan(*steps: str, tool: str = "", old: str = "", new: str = "") -> str:
    more = MORE.replace(", TOOL", f", {tool}" if tool else "").replace(old, new)
    return sortie(*steps, people="ev1 ev2", more=more)


def test_nobody_takes_what_is_still_fitted(tmp_path: Path) -> None:
    (finding,) = found(tmp_path, plan(TAKE, BRING, IN2), "still-fitted")
    assert "takes Pump, which is fitted while Seat is “bolted”, and so it still is then" in finding.sentence


def test_that_it_is_loose_by_then_must_not_be_luck(tmp_path: Path) -> None:
    (finding,) = found(tmp_path / "wrong", plan(LOOSEN, IN2, TAKE, BRING), "still-fitted")
    assert finding.write == "after: [work/loosen]"
    assert errors(tmp_path / "right", plan(LOOSEN, IN2, f"{TAKE}, {finding.write}", BRING)) == []


def test_a_step_may_loosen_what_it_takes_itself(tmp_path: Path) -> None:
    assert errors(tmp_path, plan(f"{TAKE}, sets: {{seat: free}}", BRING, IN2)) == []


def test_fitting_puts_it_out_of_hands(tmp_path: Path) -> None:
    steps = (f"{TAKE}, sets: {{seat: free}}", FIT, IN, IN2)
    result = examined(tmp_path / "right", plan(*steps))
    assert [one for one in result.findings if one.rule not in ("unused-record", "unused-state")] == []
    assert result.evidence.sorties["s"].custody.ends["pump"].id == "k2"
    assert errors(tmp_path / "again", plan(*steps[:2], BRING, IN2)) == ["not-held"]


def test_who_fits_it_must_have_it(tmp_path: Path) -> None:
    hand = plan(LOOSEN, f"{FIT}, after: [work/loosen]", IN, IN2)
    assert errors(tmp_path, hand) == ["not-held"]


def test_left_out_tasks_may_not_leave_it_fitted(tmp_path: Path) -> None:
    task = "  loosen: {title: Loosen, purpose: To free it., priority: time-permitting, steps: [{" + LOOSEN + "}]}\n"
    text = plan(f"{TAKE}, after: [loosen/loosen]", BRING, IN2).replace("sorties:", f"{task}sorties:")
    (finding,) = found(tmp_path, text.replace("ev2: [work]", "ev2: [loosen, work]"), "still-fitted")
    assert "when “Loosen” is left out" in finding.sentence


@pytest.mark.parametrize(
    ("old", "new", "words"),
    [
        ("stowed: k2", "stowed: lock", "but is stowed elsewhere"),
        ("{seat: bolted}", "{seat: bolted, rack: empty}", "Rack begins “empty”, so Pump is fitted at K3"),
        ("name: Pump,", "name: Pump, count: 3,", "only a single thing is fitted"),
        ("starts: bolted,", "starts: bolted, parts: {bolt: [1, 2]},", "has many items"),
    ],
)  # fmt: skip
def test_a_thing_in_two_places_or_not_where_it_is_fitted_is_told(
    old: str, new: str, words: str, tmp_path: Path
) -> None:
    sentences = [one.sentence for one in found(tmp_path, plan(IN, IN2, old=old, new=new), "fitted-at-odds")]
    assert any(words in sentence for sentence in sentences), sentences


def test_two_places_at_once_where_nothing_says_where_they_are(tmp_path: Path) -> None:
    text = plan(IN, IN2, old="{seat: bolted}", new="{seat: bolted, rack: empty}").replace("place: k3, ", "")
    (finding,) = found(tmp_path, text, "fitted-at-odds")
    assert finding.sentence == "In the beginning Pump would be fitted in two places."


def test_two_things_in_one_place(tmp_path: Path) -> None:
    spare = "spare: {name: Spare, stowed: k2, fitted_as: {seat: bolted}}"
    (finding,) = found(tmp_path, plan(IN, IN2, tool=spare), "fitted-at-odds")
    assert finding.sentence == "Pump is fitted there, too: give each a state of its own."


@pytest.mark.parametrize(
    ("old", "new", "rule"),
    [("{seat: bolted}", "{seat: glued}", "unknown-state"), ("{seat: bolted}", "{seats: bolted}", "unknown-reference"),
     ("{seat: bolted}", "seat", "wrong-value")],
)  # fmt: skip
def test_bad_input_is_a_finding(old: str, new: str, rule: str, tmp_path: Path) -> None:
    assert rule in errors(tmp_path, plan(IN, IN2, old=f"fitted_as: {old}", new=f"fitted_as: {new}"))


def test_what_a_step_fits_it_leaves_nowhere_else(tmp_path: Path) -> None:
    step = f"{TAKE}, sets: {{seat: free}}", f"{FIT}, leaves: {{pump: bag-a}}"
    (finding,) = found(tmp_path, plan(*step, IN, IN2), "fitted-at-odds")
    assert "cannot leave it elsewhere as well" in finding.sentence
