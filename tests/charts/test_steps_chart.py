"""A task's diagram: each step stands below what must be over before it, in its people's columns."""

from __future__ import annotations

import pytest

from briefgen.charts.kinds.steps import steps_rows
from briefgen.charts.kinds.steps.layout import Diagram, arrange, narrow_style, wide_style
from briefgen.model.work import Step, Task
from briefgen.proof.evidence import SortieEvidence
from tests.charts.charts import drawn, links, made, trace, words
from tests.charts.conftest import href
from tests.demo import demo
from tests.travel_world import world


def diagrams(evidence: SortieEvidence) -> list[Diagram]:
    tasks = list(evidence.library.tasks.values())
    rows = [steps_rows(evidence, task, href) for task in tasks]
    return [arrange(one, style(one)) for one in rows for style in (wide_style, narrow_style)]


def once(task: Task) -> list[Step]:
    """The steps of a task, those of a block in its first round alone."""
    return [step for step in task.steps if step.origin.round <= 1]


def told_as(task: Task, key: str) -> str:
    """The key of a step, or of the same step in the first round of its block."""
    step = task.step(key)
    assert step is not None
    same = (one for one in once(task) if (one.origin.block, one.number) == (step.origin.block, step.number))
    return next(same).key


def test_every_step_of_every_task_stands_once() -> None:
    evidence = demo().evidence.sorties["sortie-1"]
    for task in evidence.library.tasks.values():
        rows = steps_rows(evidence, task, href)
        told = once(task)
        assert [node.key for node in rows.nodes] == [step.key for step in told]
        for node, step in zip(rows.nodes, told, strict=True):
            rounds = max(step.origin.rounds, 1)
            assert (f", {rounds} rounds" in node.takes) == (rounds > 1)
            assert {rows.columns[number].id for number in node.columns} == set(map(str, step.who))


def test_a_step_stands_below_all_that_must_be_over_before_it(sortie: SortieEvidence) -> None:
    checked = 0
    for diagram in diagrams(sortie):
        boxes = {box.node.key: box for box in diagram.boxes}
        for first, second in (*diagram.rows.sequences, *diagram.rows.links):
            assert boxes[first].y + boxes[first].high < boxes[second].y
            checked += 1
    assert checked > 100


def test_no_two_boxes_overlap_and_all_lie_on_the_sheet(sortie: SortieEvidence) -> None:
    for diagram in diagrams(sortie):
        areas = [(x, box.y, x + wide, box.y + box.high) for box in diagram.boxes for x, wide in box.parts]
        for number, one in enumerate(areas):
            assert one[0] >= 0
            assert one[2] <= diagram.wide
            assert one[3] <= diagram.high
            for other in areas[:number]:
                assert one[2] <= other[0] or other[2] <= one[0] or one[3] <= other[1] or other[3] <= one[1]


def test_links_run_around_the_boxes_of_others(sortie: SortieEvidence) -> None:
    for diagram in diagrams(sortie):
        if diagram.style.wide != 920:
            continue
        for line in diagram.links:
            # The long way down lies in a gutter: in no box of any column.
            (x, top), (_, bottom) = line[1], line[2]
            for box in diagram.boxes:
                for left, wide in box.parts:
                    inside = left < x < left + wide and top < box.y + box.high and box.y < bottom
                    assert not inside or len(box.node.columns) > 1


def test_after_links_between_people_are_drawn_and_those_to_other_tasks_are_told(sortie: SortieEvidence) -> None:
    for task in {str(step.task.id) for step in sortie.plan.steps}:
        record = sortie.library.tasks[task]
        rows = steps_rows(sortie, record, href)
        within = {
            (told_as(record, ref.step), step.key) for step in once(record) for ref in step.after
            if ref.task == task and not set(map(str, step.who)) & set(map(str, record.step(ref.step).who))
        }  # fmt: skip
        assert set(rows.links) == within
        for node, step in zip(rows.nodes, once(record), strict=True):
            others = [href("task", ref.task, ref.step) for ref in step.after if ref.task != task]
            assert [one.href for one in node.foreign] == others


def test_stills_link_every_step_and_every_foreign_one(sortie: SortieEvidence) -> None:
    for task in sortie.library.tasks:
        chart = made("steps", sortie, task)
        rows = steps_rows(sortie, sortie.library.tasks[task], href)
        for still in (chart.still, chart.narrow):
            wanted = {node.href for node in rows.nodes} | {one.href for node in rows.nodes for one in node.foreign}
            assert wanted <= set(links(still))
        boxes = trace(chart, "steps")
        assert {about[0] for about in boxes["customdata"]} == {node.href for node in rows.nodes}


def test_hazards_and_confirmations_are_marked_by_word() -> None:
    evidence = demo().evidence.sorties["sortie-1"]
    told = words(drawn(made("steps", evidence, "swap-pump").still))
    assert "Danger: Live plug" in told
    assert "verifies" in told
    assert "critical" in told


def test_a_task_that_nobody_flies_is_drawn_without_times() -> None:
    evidence = demo().evidence.sorties["sortie-1"]
    (task, *_) = map(str, evidence.sortie.get_aheads)
    rows = steps_rows(evidence, evidence.library.tasks[task], href)
    assert rows.nodes
    assert all(node.when == "" for node in rows.nodes)
    assert made("steps", evidence, task).figure["data"]


def test_people_who_are_no_neighbours_are_joined() -> None:
    evidence = world(
        {"t": [{"id": "a", "who": ["ev1", "ev3"], "at": "k1"}, {"id": "b", "who": "ev2", "at": "k2"}]},
        flow={"ev1": ["t"], "ev2": ["t"], "ev3": ["t"]},
    )
    rows = steps_rows(evidence, evidence.library.tasks["t"], href)
    first, _ = arrange(rows, wide_style(rows)).boxes
    assert len(first.parts) == 2
    assert "together with EV1" in words(drawn(made("steps", evidence, "t").still))


def test_steps_in_a_circle_are_still_drawn() -> None:
    evidence = world(
        {"t": [
            {"id": "a", "who": "ev1", "at": "k1", "after": ["t/b"]},
            {"id": "b", "who": "ev2", "at": "k1", "after": ["t/a"]},
        ]}
    )  # fmt: skip
    assert evidence.plan.circle
    chart = made("steps", evidence, "t")
    assert len(trace(chart, "steps")["ids"]) == 2


def test_a_task_that_is_not_there_is_refused(first_sortie: SortieEvidence) -> None:
    with pytest.raises(KeyError):
        made("steps", first_sortie, "no-such-task")
