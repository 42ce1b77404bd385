"""The latest moment at which each task can begin so that it, and everything required after it, still fits.

Pure. What is optional and not begun by then is left out; ways are counted; the limit is the length less the reserve.
Times are seconds since the sortie's start, with the likely durations. One timeline for each set of tasks left out, and
there are no more of these than optional tasks, and one.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from briefgen.proof.plan import Plan
from briefgen.proof.timeline import Timeline

Timelines = Callable[[frozenset[str]], Timeline]
"""The timeline of the sortie without these tasks."""


@dataclass(frozen=True)
class Latest:
    """A task begins at `begins` as planned, and at `latest` at the latest; `left_out` are the tasks dropped then.

    `people` do it. Where `latest` is earlier than `begins`, it is too late even if all goes as planned.
    """

    task: str
    people: tuple[str, ...]
    optional: bool
    begins: float
    latest: float
    left_out: frozenset[str]

    @property
    def spare(self) -> float:
        """Seconds by which it may begin later than planned; negative where it would have to begin earlier."""
        return self.latest - self.begins


def latest_begins(whole: Timeline, without: Timelines) -> tuple[Latest, ...]:
    """Every task of the plan, by its planned beginning."""
    begins = first_begins(whole)
    optional = whole.plan.optional_tasks
    found = []
    for task, begin in sorted(begins.items(), key=lambda one: one[1]):
        later = frozenset(other for other in optional if other != task and begins[other] >= begin)
        moment = min(times.latest_start for times in without(later).times if str(times.step.task.id) == task)
        found.append(Latest(task, _people(whole.plan, task), task in optional, begin, moment, later))
    return tuple(found)


def first_begins(timeline: Timeline) -> Mapping[str, float]:
    """When the first step of each task begins."""
    begins: dict[str, float] = {}
    for times in timeline.times:
        task = str(times.step.task.id)
        begins[task] = min(times.start, begins.get(task, times.start))
    return begins


def _people(plan: Plan, task: str) -> tuple[str, ...]:
    acting = {person for step in plan.steps if str(step.task.id) == task for person in step.people}
    return tuple(person for person in plan.flows if person in acting)
