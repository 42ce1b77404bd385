"""Defaults, short names, confirmations, tasks like others, and flows left out: what they are planned as."""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.expansion.worlds import content, errors, keys, planned, task, waits
from tests.rules.laid_over import examined

OPEN = "- {id: open, do: Open it., takes: 2 min, sets: {cover: open}}"


def test_defaults_hold_for_every_step_that_does_not_say_otherwise(tmp_path: Path) -> None:
    defaults = (
        "    defaults: {who: ev1, at: k1, restraint: hand rail, effort: hard, with: [driver], requires: {feed: on}}\n"
    )
    steps = (
        "- {do: Take it., at: lock, takes: 1 min, picks: [driver], with: [], restraint: none, effort: light}\n"
        "- {do: Turn it., takes: 1 min, requires: {cover: shut}}\n"
        "- {who: ground, do: Look at it., takes: 1 min, after: [previous]}\n"
        "- {do: Put it back., at: lock, takes: 1 min, leaves: {driver: lock}}"
    )
    first, second, third, _ = planned(tmp_path, content(task(steps, defaults))).library.tasks["work"].steps
    assert [first.who, first.at, first.restraint, first.effort, first.uses] == [("ev1",), "lock", None, "light", ()]
    assert [second.at, second.restraint, second.effort] == ["k1", "hand rail", "hard"]
    assert [use.tool for use in second.uses] == ["driver"]
    assert second.requires == {"cover": "shut", "feed": "on"}
    assert [third.at, third.restraint, third.effort, third.uses] == [None, None, "light", ()]
    assert third.requires == {"feed": "on"}


def test_default_hazards_add_up_and_who_sets_a_state_does_not_wait_for_it(tmp_path: Path) -> None:
    defaults = "    defaults: {who: ev1, hazards: [shock], requires: {feed: off}}\n"
    hazard = "hazards: {edge: {signal: notice, hazard: An edge., consequence: It cuts., avoid: Keep off.}}"
    steps = (
        "- {id: off, do: Switch it off., takes: 1 min, sets: {feed: off},\n"
        "   confirmed_by: {who: ground, do: Look., takes: 1 min}}\n"
        "- {do: Look at it., takes: 1 min, hazards: [edge]}"
    )
    found = examined(tmp_path, content(task(steps, defaults), more=hazard))
    off, look, work = found.library.tasks["work"].steps
    assert (off.requires, work.requires) == ({}, {"feed": "off"})
    assert work.hazards == ("edge", "shock")
    assert look.verifies == {"feed": "off"}


def test_a_step_that_nobody_does_is_found_at_the_step(tmp_path: Path) -> None:
    (found,) = [one for one in errors(examined(tmp_path, content(task(OPEN)))) if one.rule == "missing-key"]
    assert (found.position.line, found.position.column) == (7, 9)
    assert found.write == "who: …"


def test_what_is_set_is_confirmed_before_anybody_relies_on_it(tmp_path: Path) -> None:
    steps = (
        "- {id: off, who: ev1, do: Switch it off., takes: 1 min, sets: {feed: off},\n"
        "   confirmed_by: {who: ground, do: Read zero amperes., takes: 2 min, after: [pin]}}\n"
        "- {id: pin, who: ev1, do: Pin it., takes: 1 min}\n"
        "- {id: pull, who: ev1, do: Pull it., takes: 1 min, hazards: [shock], requires: {feed: off}}\n"
        "- {id: next, who: ev1, do: Pull that., takes: 1 min, hazards: [shock], requires: {feed: off}}\n"
        "- {id: hold, who: ev2, do: Hold it., takes: 1 min, requires: {feed: off}}"
    )
    found = planned(tmp_path, content(task(steps, place="k1"), flow="ev1: [work], ev2: [work]"))
    assert keys(found) == ["off", "off-confirmed", "pin", "pull", "next", "hold"]
    assert sorted(waits(found)) == [
        ("off", "off-confirmed"), ("off-confirmed", "hold"), ("off-confirmed", "pull"), ("pin", "off-confirmed"),
    ]  # fmt: skip


def test_a_confirmation_is_waited_for_in_other_tasks_too(tmp_path: Path) -> None:
    off = (
        "- {id: off, who: ev1, do: Switch it off., takes: 1 min, sets: {feed: off},\n"
        "   confirmed_by: {who: ground, do: Read zero amperes., takes: 2 min}}"
    )
    pull = (
        "- {id: pull, who: ev1, do: Pull it., takes: 1 min, hazards: [shock], requires: {feed: off}}\n"
        "- {id: on, who: ev1, do: Switch it on., takes: 1 min, sets: {feed: on}}"
    )
    tasks = task(off, name="first", place="k1") + task(pull, name="second", place="k1")
    found = planned(tmp_path, content(tasks, flow="ev1: [first, second]"))
    assert ("off-confirmed", "pull") in waits(found)


@pytest.mark.parametrize("name", ["open", "1", "work/open", "work/1", "previous"])
def test_short_names_are_told_in_full(tmp_path: Path, name: str) -> None:
    steps = f"{OPEN.replace('do:', 'who: ev1, do:')}\n- {{id: look, who: ev2, do: Look., takes: 1 min, after: {name}}}"
    found = planned(tmp_path, content(task(steps), flow="ev1: [work], ev2: [work]"))
    assert waits(found) == [("open", "look")]


def test_a_short_name_that_leads_nowhere_is_found_in_its_task(tmp_path: Path) -> None:
    steps = f"{OPEN.replace('do:', 'who: ev1, do:')}\n- {{who: ev1, do: Look., takes: 1 min, after: [opem]}}"
    (found,) = [one for one in errors(examined(tmp_path, content(task(steps)))) if one.rule == "unknown-step"]
    assert found.sentence == "Task “Work” has no step “opem”. Did you mean “open”?"
    assert found.write == "work/open"


OPEN_ALONE = "- {id: open, who: ev1, do: Wait there., takes: 1 min}"
LIDS = (
    "equipment:\n  left: {place: k1, states: [shut, open], starts: shut, ends: any}\n"
    "  right: {place: k2, states: [shut, open], starts: shut, ends: any}"
)
FIRST = "- {id: open, who: ev1, do: 'Open [it](equipment:left).', takes: 2 min, sets: {left: open}}\n" \
        "- {id: look, who: ground, do: Look at it., takes: 1 min, after: [first/open]}"  # fmt: skip
SECOND = "  second: {like: first, title: The other, instead: {left: right, k1: k2, ev1: ev2}}\n"


def test_a_task_like_another_is_all_of_it_with_ids_exchanged(tmp_path: Path) -> None:
    tasks = task(FIRST, name="first", place="k1") + SECOND
    found = planned(tmp_path, content(tasks, flow="ev1: [first], ev2: [second]", more=LIDS))
    second = found.library.tasks["second"]
    assert (second.title, second.purpose, second.place) == ("The other", "To mend it.", "k2")
    assert second.steps[0].do == "Open [it](equipment:right)."
    assert (second.steps[0].who, second.steps[0].sets) == (("ev2",), {"right": "open"})
    assert waits(found).count(("open", "look")) == 2
    assert second.steps[1].after == ("second/open",)
    assert second.steps[0].do.position == found.library.tasks["first"].steps[0].do.position, "the author's word"


def test_what_a_task_serves_and_waits_for_comes_along(tmp_path: Path) -> None:
    keys_ = "    serves: [third]\n    not_before: 1 h\n"
    tasks = task(FIRST, keys_, name="first", place="k1") + SECOND + task(OPEN_ALONE, name="third")
    found = planned(tmp_path, content(tasks, flow="ev1: [third], ev2: [second]", more=LIDS))
    second = found.library.tasks["second"]
    assert second.serves == ("third",)
    assert second.not_before is not None
    assert second.not_before.likely == 3600


def test_where_a_case_leads_is_exchanged_too(tmp_path: Path) -> None:
    case = "{when: It sticks., steps: [{who: ev1, do: Push it., takes: 1 min, sets: {left: open}}], then: first/look}"
    steps = FIRST.replace("sets: {left: open}}", f"sets: {{left: open}}, in_case: [{case}]}}", 1)
    tasks = task(steps, name="first", place="k1") + SECOND
    found = planned(tmp_path, content(tasks, flow="ev1: [first], ev2: [second]", more=LIDS))
    (there,) = found.library.tasks["second"].cases
    assert (there.then, there.steps[0].who, there.steps[0].sets) == ("second/look", ("ev2",), {"right": "open"})


def test_likes_of_likes_take_everything_and_own_keys_win(tmp_path: Path) -> None:
    own = "[{who: ev1, do: Go., takes: 1 min}]"
    third = f"  third: {{like: second, purpose: To see., instead: {{right: left}}, steps: {own}}}\n"
    tasks = task(FIRST, name="first", place="k1") + SECOND + third
    found = examined(tmp_path, content(tasks, flow="ev1: [first, third], ev2: [second]", more=LIDS))
    assert [one.rule for one in errors(found)] == ["instead-of-nothing"], "its steps are its own"
    third_task = found.library.tasks["third"]
    assert (third_task.title, third_task.purpose, len(third_task.steps)) == ("The other", "To see.", 1)


@pytest.mark.parametrize(
    ("tasks", "rule"),
    [
        ("  first: {like: first}\n", "like-in-a-circle"),
        ("  first: {like: second}\n  second: {like: third}\n  third: {like: first}\n", "like-in-a-circle"),
        ("  first: {like: fist}\n", "unknown-reference"),
        (task(FIRST, name="first", place="k1") + SECOND.replace("right", "rihgt"), "unknown-reference"),
        (task(FIRST, name="first", place="k1") + SECOND.replace("left:", "lefd:"), "instead-of-nothing"),
    ],
)
def test_what_can_not_be_taken_is_one_finding(tmp_path: Path, tasks: str, rule: str) -> None:
    found = errors(examined(tmp_path, content(tasks, flow="ev1: [first]", more=LIDS)))
    assert [one.rule for one in found] == [rule]


def test_a_wrong_word_in_a_task_that_others_are_like_is_told_once(tmp_path: Path) -> None:
    tasks = task(FIRST.replace("{left: open}", "{left: oben}"), name="first", place="k1") + SECOND
    found = errors(examined(tmp_path, content(tasks, flow="ev1: [first], ev2: [second]", more=LIDS)))
    assert [one.rule for one in found] == ["unknown-state"]


def test_without_a_flow_the_ground_does_what_names_it_as_soon_as_it_can(tmp_path: Path) -> None:
    steps = (
        "- {id: a, who: ev1, do: Do it., takes: 1 min}\n"
        "- {id: b, who: ground, do: Read it., takes: 30 min, after: [previous]}\n"
        "- {id: c, who: ground, do: Read that., takes: 30 min, after: [a]}\n"
        "- {id: d, who: [ev1, ground], do: Speak., takes: 1 min, after: [b, c]}"
    )
    found = planned(tmp_path, content(task(steps)))
    proved = found.evidence.sorties["s"]
    times = {one.step.step.key: one for one in proved.timeline.times}
    assert times["b"].start == times["c"].start == times["a"].end
    assert not proved.plan.order.ordered(times["b"].step.index, times["c"].step.index)
    assert proved.timeline.sums("ground")["work"] == 31 * 60
    written = planned(tmp_path / "flow", content(task(steps), flow="ev1: [work], ground: [work]"))
    times = {one.step.step.key: one for one in written.evidence.sorties["s"].timeline.times}
    assert times["c"].start == times["b"].end, "with a flow, one thing after another"
