"""Kept-free places: found just where some execution has somebody there, rides included; slips and lines to write."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
import yaml
from hypothesis import given, settings
from hypothesis import strategies as st

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.keeping import intrusions
from tests.proof.executions import states_of
from tests.rules.laid_over import errors, found, sortie
from tests.travel_world import world

LINE = ["lock", "k1", "k2", "k3"]
ROUTES = ["r1", "r2", "r3"]
IN = "who: ev1, at: lock, do: Go in., takes: 2 min"


def between(start: str, end: str) -> set[str]:
    """What lies on the way along the one line of the world, without its ends."""
    low, high = sorted((LINE.index(start), LINE.index(end)))
    return {*LINE[low + 1 : high], *ROUTES[low:high]}


def met(proved: SortieEvidence) -> set[tuple[str, str, str]]:
    """Who could be where a running step keeps them out, by walking through every state."""
    plan, seen = proved.plan, set()
    for done, running in states_of(plan):
        for person in plan.outside:
            spots = _spots(proved, person, done, running)
            for step in (plan.steps[one] for one in running):
                if person not in step.people:
                    seen |= {(step.key, str(spot), person) for spot in step.step.keeps_out if spot in spots}
    return seen


def _spots(proved: SortieEvidence, person: str, done: frozenset[int], running: frozenset[int]) -> set[str]:
    spot, plan = "lock", proved.plan
    for index in plan.flows[person]:
        step = plan.steps[index]
        place, goal = str(step.place), str(step.leads_to)
        if index in running:
            return {place, goal}
        if index not in done:
            return {place, *between(spot, place)}
        spot = goal
    return {spot}


@st.composite
def kept(draw: st.DrawFn) -> SortieEvidence:
    steps: list[dict[str, Any]] = []
    for number in range(1, draw(st.integers(2, 7)) + 1):
        who = draw(st.lists(st.sampled_from(["ev1", "ev2", "desk"]), min_size=1, max_size=2, unique=True))
        after = draw(st.lists(st.integers(1, number - 1), max_size=2, unique=True)) if number > 1 else []
        step = {"who": who, "at": draw(st.sampled_from(LINE)), "after": [f"t/{one}" for one in after]}
        if draw(st.integers(0, 3)) == 0:
            step["to"] = draw(st.sampled_from(LINE))
        if draw(st.integers(0, 2)) == 0:
            step["keeps_out"] = draw(st.lists(st.sampled_from(LINE + ROUTES), min_size=1, max_size=2, unique=True))
        steps.append(step)
    return world({"t": steps})


@settings(max_examples=300, deadline=None)
@given(kept())
def test_who_could_come_is_found_just_where_some_execution_has_them_there(proved: SortieEvidence) -> None:
    found_ = {
        (one.keeper.key, str(one.spot), one.presence.person) for one in intrusions(proved.plan, proved.travel.trails)
    }
    assert found_ == met(proved)


VENT = "id: vent, who: desk, do: Vent the line., takes: 2 min, keeps_out: [SPOT]"
OUT = "id: look, who: ev1, at: k2, do: Look at the cover., takes: 2 min"
RIDE = "id: ride, who: ev1, at: lock, to: k2, do: Ride there., takes: 2 min"


@pytest.mark.parametrize("spot", ["k1", "k2", "k1-k2"])
@pytest.mark.parametrize(("first", "second"), [(VENT, OUT), (OUT, VENT)], ids=["later", "earlier"])
def test_the_line_to_write_settles_it(spot: str, first: str, second: str, tmp_path: Path) -> None:
    steps = [one.replace("SPOT", spot) for one in (first, second, IN)]
    if first == OUT:
        steps = [steps[0], IN, steps[1] + ", after: [work/clock]", "id: clock, who: ground, do: Wait., takes: 30 min"]
    people = "ev1 desk ground" if first == OUT else "ev1 desk"
    for number in range(4):  # the way back is told when the way out is settled
        wrong = found(tmp_path / str(number), sortie(*steps, people=people), "keep-out-entered")
        if not wrong:
            break
        steps = _settled(steps, wrong[0].write, wrong[0].write_at.line if wrong[0].write_at else 0)
    assert number >= 1
    assert errors(tmp_path / "end", sortie(*steps, people=people)) == []


def _settled(steps: list[str], line: str, at: int) -> list[str]:
    """The steps with the line put in where it belongs; the first step stands on line 7 of the example."""
    number = at - 7
    if line.startswith("- {"):
        return [*steps[:number], line[3:-1], *steps[number:]]
    changed = yaml.load("{" + steps[number] + "}", Loader=yaml.BaseLoader)
    changed |= yaml.load(line, Loader=yaml.BaseLoader)
    return [*steps[:number], yaml.safe_dump(changed, default_flow_style=True, width=999).strip()[1:-1],
            *steps[number + 1 :]]  # fmt: skip


def test_an_after_at_the_far_end_comes_too_late(tmp_path: Path) -> None:
    steps = [VENT.replace("SPOT", "k2"), f"{OUT}, after: [work/vent]", IN]
    (finding,) = found(tmp_path, sortie(*steps, people="ev1 desk"), "keep-out-entered")
    assert "Hold EV1 back at the lock." in finding.sentence


def test_a_ride_may_wait_where_it_begins(tmp_path: Path) -> None:
    steps = [VENT.replace("SPOT", "k2"), f"{RIDE}, after: [work/vent]", IN]
    assert errors(tmp_path, sortie(*steps, people="ev1 desk")) == []


def test_who_does_the_step_may_be_where_it_keeps_others_out(tmp_path: Path) -> None:
    assert errors(tmp_path, sortie(f"{OUT}, keeps_out: [k2, k1-k2]", IN)) == []


@pytest.mark.parametrize(
    ("written", "rule"),
    [
        ("[k9]", "unknown-reference"),
        ("[k2, k2]", "wrong-value"),
        ("[driver]", "unknown-reference"),
        ("{}", "wrong-value"),
    ],
)
def test_bad_input_is_a_finding(written: str, rule: str, tmp_path: Path) -> None:
    assert rule in errors(tmp_path, sortie(VENT.replace("[SPOT]", written), OUT, IN, people="ev1 desk"))


def test_a_circle_is_told_and_no_line_is_offered_that_would_close_one(tmp_path: Path) -> None:
    vent = VENT.replace("SPOT", "k2") + ", after: [work/look]"
    (finding,) = found(
        tmp_path, sortie(OUT, vent, f"{OUT.replace('look', 'again')}, after: [work/vent]", IN, people="ev1 desk"),
        "keep-out-entered",
    )  # fmt: skip
    assert finding.write == ""
