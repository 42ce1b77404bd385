"""The numbers under which the steps of a task are told: they run in the order of time.

A block's steps count once. A task that several sorties do is numbered by the first of them; one that none does, as it
is written.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from briefgen.model.work import Task


def step_numbers(tasks: Iterable[Task], starts: Mapping[str, float]) -> Mapping[str, int]:
    """By `task/step`, from one within each task. `starts` are seconds since the sortie's start, by `task/step`."""
    numbers: dict[str, int] = {}
    for task in tasks:
        begins: dict[int, float] = {}
        for step in task.steps:
            start = starts.get(f"{task.id}/{step.key}", float("inf"))
            begins[step.number] = min(start, begins.get(step.number, start))
        told = {number: rank for rank, number in enumerate(sorted(begins, key=lambda one: (begins[one], one)), start=1)}
        numbers |= {f"{task.id}/{step.key}": told[step.number] for step in task.steps}
    return numbers
