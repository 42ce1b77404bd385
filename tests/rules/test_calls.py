"""Who waits, is moved or must keep away hears of it; questions can't be answered without knowing."""

from __future__ import annotations

from pathlib import Path

import pytest

from briefgen.build import examine
from briefgen.findings import Finding
from briefgen.rules.learning.guessing import FEWEST
from briefgen.rules.shared.samples import FLOW, OUTCOME, TASK, task_of

SMALL_WORLD = Path(__file__).parents[2] / "briefgen" / "examples" / "small_world.yaml"
RULES = {"hold-without-call", "move-without-call", "move-without-stop-word", "right-answer-in-one-place",
         "right-answer-longest"}  # fmt: skip
BOTH = "ev1: [work], ev2: [work]"
IN = "who: ev2, at: k1, do: Go in., takes: 2 min, to: lock"


def found(folder: Path, example: str) -> list[Finding]:
    (folder / "small-world.yaml").write_text(SMALL_WORLD.read_text("utf-8"), "utf-8")
    (folder / "example.yaml").write_text(example, "utf-8")
    return [one for one in examine(folder).findings if one.rule in RULES]


@pytest.mark.parametrize(("calls", "told"), [
    ("", 1), (", calls: [{to: ground, say: It is shut.}]", 1), (", calls: [{to: [ground, ev2], say: It is shut.}]", 0),
])  # fmt: skip
def test_the_call_must_be_to_who_waits(tmp_path: Path, calls: str, told: int) -> None:
    first = f"id: set, who: ev1, do: Shut the valve., takes: 2 min{calls}"
    wait = "who: ev2, at: k1, do: Look at it., takes: 2 min, after: [work/set]"
    findings = found(tmp_path, task_of(first, wait, IN, flow=BOTH))
    assert [one.rule for one in findings] == ["hold-without-call"] * told
    if told:
        assert "Nobody tells EV2" in findings[0].sentence
        assert findings[0].write == "calls: [{to: ev2, say: …}]"


def test_two_people_outside_at_one_place_see_each_other_and_two_apart_do_not(tmp_path: Path) -> None:
    first = "id: set, who: ev1, do: Shut the valve., takes: 2 min"
    wait = "who: ev2, do: Look at it., takes: 2 min, after: [work/set]"
    assert not found(tmp_path, task_of(first, wait, flow=BOTH))
    apart = task_of(first.replace("do:", "at: k1, do:"), "who: ev1, do: Go in., takes: 1 min", wait, flow=BOTH)
    assert [one.rule for one in found(tmp_path, apart)] == ["hold-without-call"]


def test_who_waits_for_one_step_in_several_is_told_of_once(tmp_path: Path) -> None:
    first = "id: set, who: desk, do: Shut the valve., takes: 2 min"
    wait = "who: ev1, do: Look at it., takes: 2 min, after: [work/set]"
    example = task_of(first, wait, wait, flow="ev1: [work], desk: [work]")
    assert len(found(tmp_path, example)) == 1


RIDE = "id: ride, who: [ev1, desk], do: Ride to K1., takes: 2 min, to: k1"
BACK = "who: [ev1, desk], at: k1, do: Ride in., takes: 2 min, to: lock, calls: [{to: ev1, say: Moving.}]"


@pytest.mark.parametrize(("words", "rules"), [
    ("", ["move-without-call", "move-without-stop-word"]),
    (", calls: [{to: desk, say: Moving.}]", ["move-without-stop-word"]),
    (", calls: [{to: ground, say: Stop.}]", []),  # both are in the step that says it
    (", calls: [{to: desk, say: Stop means stop.}]", []),
    (", calls: [{to: desk, say: One. Stopped.}]", ["move-without-stop-word"]),
])  # fmt: skip
def test_a_move_has_a_call_and_once_a_word_that_stops_it(tmp_path: Path, words: str, rules: list[str]) -> None:
    findings = found(tmp_path, task_of(RIDE + words, BACK, flow="ev1: [work], desk: [work]"))
    assert sorted(one.rule for one in findings) == rules


def test_who_keeps_a_place_free_from_inside_says_so(tmp_path: Path) -> None:
    keep = "id: vent, who: desk, do: Vent K2., takes: 2 min, keeps_out: [k2]"
    flow = "ev1: [work], desk: [work]"
    look = "who: ev1, do: Look around., takes: 2 min"
    assert [one.rule for one in found(tmp_path, task_of(keep, look, flow=flow))] == ["move-without-call"]
    assert not found(tmp_path, task_of(f"{keep}, calls: [{{to: ev1, say: Stay off K2.}}]", look, flow=flow))


def questions(*answers: str) -> str:
    rows = "\n".join(
        f"  q{n}: {{outcome: see, asks: 'Where is crack {n}?', {one}, because: It is there.}}"
        for n, one in enumerate(answers)
    )
    return f"tasks: {{look: {TASK}}}\nsorties: {FLOW}\noutcomes: {{see: {OUTCOME}}}\nquestions:\n{rows}"


@pytest.mark.parametrize(("first", "second", "rules"), [
    (FEWEST - 1, 0, []), (FEWEST, 0, ["right-answer-in-one-place"]), (4, 2, []), (5, 2, ["right-answer-in-one-place"]),
    (2, 5, ["right-answer-in-one-place"]),
])  # fmt: skip
def test_right_answers_stand_in_different_places(tmp_path: Path, first: int, second: int, rules: list[str]) -> None:
    rows = ["answers: [Left, Near], correct: 1"] * first + ["answers: [Left, Near], correct: 2"] * second
    assert [one.rule for one in found(tmp_path, questions(*rows))] == rules


@pytest.mark.parametrize(("longer", "equal", "rules"), [(6, 0, 1), (4, 2, 0), (5, 2, 1), (0, 6, 0)])
def test_the_right_answer_is_not_mostly_the_longest(tmp_path: Path, longer: int, equal: int, rules: int) -> None:
    rows = [f"answers: [Left, Far above it], correct: {2}", "answers: [Far above it, Left], correct: 1"] * (longer // 2)
    rows += ["answers: [Left, Far above it], correct: 2"] * (longer % 2)
    rows += ["answers: [Left, Near], correct: 1", "answers: [Left, Near], correct: 2"] * (equal // 2)
    assert [one.rule for one in found(tmp_path, questions(*rows))] == ["right-answer-longest"] * rules
