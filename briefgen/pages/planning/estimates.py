"""How much work a task is that no sortie has a place in time for."""

from __future__ import annotations

from briefgen.model.work import Task
from briefgen.pages.context import PageContext
from briefgen.proof.plan import chosen_items


def likely_work(context: PageContext, task: Task) -> float:
    """Seconds of work of the person who has most to do, with the likely durations; ways and waits are not counted."""
    seconds: dict[str, float] = {}
    for step in task.steps:
        times = len(chosen_items(context.library.equipment[step.each.equipment], step)) if step.each else 1
        for person in step.who:
            seconds[str(person)] = seconds.get(str(person), 0.0) + step.takes.likely * times
    return max(seconds.values(), default=0.0)
