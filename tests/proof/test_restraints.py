"""Restraints that take time: what is found, the line to write, and what they add to the way home and to stops."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest

from briefgen.proof.evidence import SortieEvidence
from tests.rules.laid_over import errors, examined, found, sortie
from tests.travel_world import world

PLATE = "{foot plate: {enter: 3 min, leave: 2 min}, hand rail: {}}"
PLACES = f"places: {{k2: {{name: K2, map: [9, 0], restraint: {PLATE}}}}}\n"
ENTER = "id: enter, who: ev1, at: k2, do: Step into the plate., takes: 3 min, enters: foot plate"
TURN = "id: turn, who: ev1, at: k2, do: Turn the bolt., takes: 5 min, restraint: foot plate"
EXIT = "id: exit, who: ev1, at: k2, do: Step out of it., takes: 2 min, exits: foot plate"
IN = "id: in, who: ev1, at: lock, do: Go in., takes: 2 min"
RIDE = "id: ride, who: ev1, at: k2, to: tip, do: Ride up., takes: 2 min"
BACK = "id: back, who: ev1, at: tip, to: lock, do: Ride back., takes: 2 min"


@pytest.mark.parametrize(
    ("steps", "rule", "words"),
    [
        ([TURN, EXIT, IN], "restraint-not-entered", "is done in the foot plate at K2, but EV1 is not in it"),
        ([EXIT, IN], "restraint-not-entered", "gets out of the foot plate at K2, but EV1 is not in it"),
        ([ENTER, TURN, IN], "restraint-not-left", "EV1 sets off to “Go in” (EV1, work/in)"),
        ([ENTER, RIDE, BACK], "restraint-not-left", "EV1 is taken away by “Ride up” (EV1, work/ride)"),
        ([ENTER, ENTER.replace("id: enter", "id: twice"), EXIT, IN], "restraint-not-left", "gets into the foot plate"),
        ([IN.replace("in,", "out,", 1), ENTER, TURN], "restraint-not-left", "EV1 has no more steps"),
    ],
)  # fmt: skip
def test_each_slip_is_told_and_the_step_to_write_settles_it(
    steps: list[str], rule: str, words: str, tmp_path: Path
) -> None:
    finding, *_ = found(tmp_path / "wrong", PLACES + sortie(*steps), rule)
    assert words in finding.sentence
    assert finding.write_at is not None
    number = finding.write_at.line - 8
    number += "no more steps" in words  # what is missing comes after the last step
    settled = PLACES + sortie(*steps[:number], finding.write[3:-1], *steps[number:])
    assert found(tmp_path / "right", settled, "restraint-not-entered", "restraint-not-left") == []


def test_work_in_it_between_is_fine_and_a_label_needs_no_step(tmp_path: Path) -> None:
    rail = TURN.replace("foot plate", "hand rail").replace("id: turn", "id: look")
    assert errors(tmp_path, PLACES + sortie(ENTER, TURN, rail, EXIT, rail.replace("look", "again"), IN)) == []


def test_a_task_left_out_may_leave_somebody_in_it(tmp_path: Path) -> None:
    task = (
        "  out: {title: Out, purpose: To go., priority: time-permitting, place: k2, steps: "
        "[{who: ev1, do: Step out., takes: 2 min, exits: foot plate}]}\n"
        "  end: {title: End, purpose: To go., place: lock, steps: [{who: ev1, do: Go in., takes: 2 min}]}\n"
    )
    text = PLACES + sortie(ENTER, TURN).replace("sorties:", task + "sorties:").replace("[work]", "[work, out, end]")
    (finding,) = found(tmp_path, text, "restraint-not-left")
    assert "when “Out” is left out" in finding.sentence


@pytest.mark.parametrize(
    ("step", "places", "rule"),
    [
        (ENTER + ", exits: foot plate", PLACES, "wrong-value"),
        (ENTER.replace("foot plate", "boot clamps"), PLACES, "restraint-not-there"),
        (ENTER, PLACES.replace("3 min", "1/2/3 min"), "wrong-value"),
        (ENTER, PLACES.replace("{enter: 3 min, leave: 2 min}", "3 min"), "wrong-value"),
        (ENTER, PLACES.replace(PLATE, "[foot plate, foot plate]"), "wrong-value"),
        (ENTER, PLACES.replace("enter: 3 min", "enters: 3 min"), "unknown-key"),
    ],
)
def test_bad_input_is_a_finding(step: str, places: str, rule: str, tmp_path: Path) -> None:
    assert rule in errors(tmp_path, places + sortie(step, EXIT, IN))


def test_a_list_of_words_and_one_word_are_labels(tmp_path: Path) -> None:
    for number, written in enumerate(["[hand rail]", "hand rail"]):
        text = PLACES.replace(PLATE, written) + sortie(TURN.replace("foot plate", "hand rail"), IN)
        assert errors(tmp_path / str(number), text) == []
    look = PLACES.replace(PLATE, "hand rail") + sortie(ENTER.replace("foot plate", "hand rail"), IN)
    assert "nothing-to-enter" in [one.rule for one in examined(tmp_path / "enters", look).findings]


def held() -> SortieEvidence:
    steps: list[dict[str, Any]] = [
        {"who": "ev1", "at": "k1", "takes": "3 min", "enters": "foot plate"},
        {"who": "ev1", "at": "k1", "takes": "5 min", "restraint": "foot plate"},
        {"who": "ev1", "at": "k1", "takes": "2 min", "exits": "foot plate"},
        {"who": "ev1", "at": "lock", "takes": "1 min"},
    ]
    restraint = {"foot plate": {"enter": "3 min", "leave": "2 min"}}
    places = {"lock": {"home": True, "anchor": True}, "k1": {"restraint": restraint}}
    return world({"t": steps}, places=places, routes={"r1": {"between": ["lock", "k1"], "length": "6 m"}})


def test_leaving_counts_in_the_way_home_while_somebody_is_in_it() -> None:
    """By hand: 6 m at 6 m/min are 60 s home; 120 s more from the step that enters until the one that exits is over."""
    line = held().time_home["ev1"]
    minutes = {0.5: 30, 1: 180, 2: 180, 6: 180, 9: 180, 10: 120, 11: 60, 11.5: 30, 12: 0}
    assert {at: line.at(at * 60) for at in minutes} == minutes


def test_leaving_counts_in_a_stop() -> None:
    """At the end of the step that enters, 2 min to get out and 1 min home; nothing of it once the plate is left."""
    stops = {round(stop.at): stop for stop in held().stops}
    assert {at: (stop.seconds, stop.bare) for at, stop in stops.items()} == {
        240: (180, 180), 540: (180, 180), 660: (60, 60), 780: (0, 0),
    }  # fmt: skip
