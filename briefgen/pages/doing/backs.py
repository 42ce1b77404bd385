"""Written ways back of a task, as rows: the step that is taken back, and how."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.model.work import Task
from briefgen.pages.desk import Desk
from briefgen.pages.doing.steps import StepRow, step_row
from briefgen.pages.rows import Link


@dataclass(frozen=True)
class BackRow:
    """A way back: the step that it takes back, and its own steps."""

    step: Link
    steps: tuple[StepRow, ...]


def back_rows(desk: Desk, task: Task) -> Iterator[BackRow]:
    """The ways back in the order in which a stop would go them: that of the last step first."""
    ways = [(task.seat(step), way) for way in task.undo for step in task.named(way.of.step)[:1]]
    for _, way in sorted(ways, key=lambda one: -one[0]):
        (step,) = task.named(way.of.step)[:1]
        yield BackRow(desk.step_link(task, step), tuple(step_row(desk, task, one) for one in way.steps))
