"""Blocks: every round is planned, in order, and proved; what is wrong in all rounds is told once."""

from __future__ import annotations

import itertools
import re
from pathlib import Path

import pytest

from briefgen.expansion.rounds import names_of
from briefgen.rules.shared.races import name_for
from tests.expansion.worlds import LATCHES, content, errors, keys, planned, task, waits
from tests.rules.laid_over import examined

EQUIPMENT = f"equipment: {LATCHES}"
GREASE = """
- id: grease
  each: latches
  where: {row: [1]}
  steps:
    - {id: open, who: ev1, do: Wipe it., takes: 1 min}
    - {id: put, who: ev1, do: Grease it., takes: 2 min, sets: {latches: greased}}
    - {id: look, who: ground, do: Look at it., takes: 1 min, verifies: {latches: greased}, after: [previous]}
- {id: tell, who: desk, do: Call the number., takes: 1 min, after: [work/grease]}
"""


def test_a_block_is_done_from_first_to_last_for_one_item_and_then_for_the_next(tmp_path: Path) -> None:
    found = planned(tmp_path, content(task(GREASE), more=EQUIPMENT))
    rounds = [f"grease/1-{latch}/{step}" for latch in "abc" for step in ("open", "put", "look")]
    assert keys(found) == [*rounds, "tell"]
    plan = found.evidence.sorties["s"].plan
    index = {step.key: step.index for step in plan.steps}
    in_order = [f"work/{key}" for key in keys(found)]
    for first, second in itertools.pairwise(in_order):
        assert plan.order.before(index[first], index[second]), (first, second)


def test_each_round_means_its_own_item_and_every_round_counts(tmp_path: Path) -> None:
    found = planned(tmp_path, content(task(GREASE), more=EQUIPMENT))
    proved = found.evidence.sorties["s"]
    assert proved.timeline.finish == 60 * (9 / 6 + 3 * (1 + 2 + 1) + 1)  # 9 m of ways at 6 m/min
    greased = {item[1] for item, held in proved.states.ends.items() if held.state == "greased"}
    assert greased == {("1", "a"), ("1", "b"), ("1", "c")}
    assert [one.rule for one in found.findings if one.rule == "items-missed"] == ["items-missed"]


def test_rounds_follow_each_other_whoever_does_their_steps(tmp_path: Path) -> None:
    found = planned(tmp_path, content(task(GREASE), more=EQUIPMENT))
    assert ("grease/1-a/look", "grease/1-b/open") in waits(found)
    assert ("grease/1-a/put", "grease/1-b/open") not in waits(found), "the flow says so already"


@pytest.mark.parametrize("name", ["grease/put", "work/grease/put", "grease", "previous"])
def test_from_without_a_step_of_a_block_is_over_when_it_is_for_every_item(tmp_path: Path, name: str) -> None:
    found = planned(tmp_path, content(task(GREASE.replace("work/grease]", f"{name}]")), more=EQUIPMENT))
    first = "grease/1-c/put" if name.endswith("put") else "grease/1-c/look"
    assert [one for one in waits(found) if one[1] == "tell"] == [(first, "tell")]


@pytest.mark.parametrize("name", ["put", "grease/put", "work/grease/put", "2", "previous"])
def test_from_within_a_step_of_a_block_is_that_of_the_same_item(tmp_path: Path, name: str) -> None:
    found = planned(tmp_path, content(task(GREASE.replace("[previous]", f"[{name}]")), more=EQUIPMENT))
    assert ("grease/1-b/put", "grease/1-b/look") in waits(found)


def test_one_round_alone_can_be_waited_for(tmp_path: Path) -> None:
    found = planned(tmp_path, content(task(GREASE.replace("work/grease]", "work/grease/1-b/put]")), more=EQUIPMENT))
    assert ("grease/1-b/put", "tell") in waits(found)


def test_a_step_of_a_block_has_items_of_its_own_that_share_parts_with_it(tmp_path: Path) -> None:
    steps = """
    - id: row
      each: rows
      steps:
        - {who: ev1, do: Open the row., takes: 1 min, sets: {rows: open}}
        - id: grease
          who: ev1
          do: Grease it.
          takes: 1 min
          each: latches
          requires: {rows: open}
          sets: {latches: greased}
        - {who: ev1, do: Shut the row., takes: 1 min, sets: {rows: shut}}
    """
    rows = "equipment:\n  rows: {place: k2, states: [shut, open], starts: shut, parts: {row: [1, 2]}}\n"
    text = content(task(_flush(steps)), more=f"{rows}  {LATCHES[1:-1]}")
    found = planned(tmp_path, text)
    plan = found.evidence.sorties["s"].plan
    assert [step.items for step in plan.steps if step.step.id == "grease"] == [
        (("1", "a"), ("1", "b"), ("1", "c")), (("2", "a"), ("2", "b"), ("2", "c"))
    ]  # fmt: skip
    assert keys(found) == ["row/1/1", "row/1/grease", "row/1/3", "row/2/1", "row/2/grease", "row/2/3"]


def test_a_flow_may_name_a_whole_block(tmp_path: Path) -> None:
    steps = GREASE + "- {id: rest, who: ev1, do: Rest., takes: 1 min}\n"
    found = planned(tmp_path, content(task(steps), flow="ev1: [work/rest, work/grease, work]", more=EQUIPMENT))
    plan = found.evidence.sorties["s"].plan
    assert [plan.steps[index].step.key for index in plan.flows["ev1"]][:2] == ["rest", "grease/1-a/open"]


def test_a_flow_that_takes_a_block_apart_goes_in_a_circle(tmp_path: Path) -> None:
    apart = "ev1: [work/grease/open, work/grease/put]"
    found = errors(examined(tmp_path, content(task(GREASE), flow=apart, more=EQUIPMENT)))
    assert [one.rule for one in found] == ["order-circle"], "for one item from first to last, then for the next"


def test_a_step_of_another_task_is_not_the_one_of_the_same_name_in_the_round(tmp_path: Path) -> None:
    other = task("- {id: put, who: ev2, do: Put it there., takes: 1 min}", name="other")
    tasks = task(GREASE.replace("after: [previous]", "after: [other/put, put]")) + other
    found = planned(tmp_path, content(tasks, flow="ev1: [work], ev2: [other]", more=EQUIPMENT))
    assert ("put", "grease/1-b/look") in waits(found)


def test_what_is_wrong_in_every_round_is_told_once(tmp_path: Path) -> None:
    steps = GREASE.replace("Wipe it., takes: 1 min", "Wipe it., takes: 1 min, requires: {cover: open}")
    (found,) = [one for one in errors(examined(tmp_path, content(task(steps), more=EQUIPMENT))) if "cover" in str(one)]
    assert found.sentence.endswith("(and 2 more)")
    assert "grease/1-a/open" in found.sentence


def test_the_line_to_write_in_a_block_names_the_same_round(tmp_path: Path) -> None:
    found = planned(tmp_path, content(task(GREASE), more=EQUIPMENT))
    plan = found.evidence.sorties["s"].plan
    put, look, tell = (plan.step(f"work/{key}") for key in ("grease/1-b/put", "grease/1-b/look", "tell"))
    assert put is not None
    assert [name_for(put, look), name_for(put, tell)] == ["work/grease/put", "work/grease"]


def test_a_block_in_a_block_in_itself_is_one_finding_each_and_no_hang(tmp_path: Path) -> None:
    inner = "{id: LAST, each: latches, steps: [{who: ev1, do: Look., takes: 1 min}]}"
    for number in range(12):
        inner = f"{{id: b{number}, each: latches, steps: [{inner}]}}"
    found = errors(examined(tmp_path, content(task(f"- {inner}".replace("LAST", "last")), more=EQUIPMENT)))
    assert [one.rule for one in found] == ["block-in-a-block"]


@pytest.mark.parametrize("outer", ["latches", "{equipment: latches, where: {latch: [a]}}"])
@pytest.mark.parametrize(
    "inner",
    [
        "latches", "{equipment: latches, where: {latch: [a, c]}}", "latches, where: {latch: [b]}", "hooks",
        "{equipment: hooks, where: {latch: [a], side: [left]}}",
        "{equipment: hooks, where: {side: [left]}}, where: {latch: [b]}", "pegs",
    ],
)  # fmt: skip
def test_the_line_to_write_for_a_block_in_a_block_makes_its_steps_hold_without_it(
    outer: str, inner: str, tmp_path: Path
) -> None:
    more = (
        f"equipment:\n  {LATCHES[1:-1]}\n"
        "  hooks: {name: Hooks, place: k1, states: [in, out], starts: in, ends: any,\n"
        "    parts: {latch: [a, b, c], side: [left, right]}}\n"
        "  pegs: {name: Pegs, place: k1, states: [in, out], starts: in, ends: any, parts: {peg: [1, 2]}}\n"
    )
    step = "{who: ev1, do: Look at it., takes: 1 min"
    block = f"- {{id: outer, each: {outer}, steps: [{step}}}, INNER]}}"
    nested = block.replace("INNER", f"{{id: inner, each: {inner}, steps: [{step}}}]}}")
    first, *_ = errors(examined(tmp_path / "nested", content(task(nested), more=more)))
    assert first.rule == "block-in-a-block"
    if first.write.startswith("parts: "):
        name = "pegs" if "pegs" in inner else "hooks"
        old = re.search(rf"(?s)  {name}: .*?(parts: {{[^{{}}]*}})", more)
        assert old
        more = more[: old.start(1)] + first.write + more[old.end(1) :]
        first, *_ = errors(examined(tmp_path / "counted", content(task(nested), more=more)))
    assert first.write.startswith("each: ")
    planned(tmp_path / "flat", content(task(block.replace("INNER", f"{step}, {first.write}}}")), more=more))


def test_an_item_without_a_name_for_addresses_has_a_number() -> None:
    assert names_of([("left",), ("right",)]) == ["left", "right"]
    assert names_of([("A 1",), ("a-1",)]) == ["1", "2"]


def _flush(text: str) -> str:
    return "\n".join(line[4:] for line in text.splitlines())


def test_every_round_says_of_which_item_it_is_and_the_first_that_has_a_step_stands_for_it(tmp_path: Path) -> None:
    late = "    - {id: press, who: ev1, do: Press it!, takes: 1 min, each: {equipment: latches, where: {latch: [c]}}}\n"
    found = planned(tmp_path, content(task(GREASE.replace("- {id: tell", f"{late}- {{id: tell")), more=EQUIPMENT))
    steps = {step.key: step for step in found.library.tasks["work"].steps}
    assert steps["grease/1-b/put"].told == "Grease it (row 1, latch b)."
    assert steps["grease/1-c/press"].told == "Press it (row 1, latch c)!"
    assert steps["tell"].told == "Call the number."
    first = ["grease/1-a/open", "grease/1-a/put", "grease/1-a/look", "grease/1-c/press", "tell"]
    assert [key for key, step in steps.items() if not step.origin.again] == first
