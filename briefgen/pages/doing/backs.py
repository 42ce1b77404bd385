"""Written ways back of a task, as rows: the step that is taken back, and how."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.model.work import Task
from briefgen.pages.context import PageContext
from briefgen.pages.doing.sequence import Sequenced, sequence_of
from briefgen.pages.rows import Link


@dataclass(frozen=True)
class BackRow:
    """A way back: the step that it takes back, and its own steps."""

    step: Link
    steps: Sequenced


def back_rows(context: PageContext, task: Task) -> Iterator[BackRow]:
    """The ways back in the order in which a stop would go them: that of the last step first; of a block, once."""
    ways = [(step, way) for way in task.undo for step in task.named(way.of.step)[:1] if not step.origin.again]
    for number, (step, way) in enumerate(sorted(ways, key=lambda one: -task.seat(one[0])), start=1):
        yield BackRow(context.step_link(task, step), sequence_of(context, task, way.steps, f"_back-{number}"))
