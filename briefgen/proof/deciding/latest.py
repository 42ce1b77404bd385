"""The latest moment at which each task can begin so that it, and everything required after it, still fits.

Pure. What is optional and not begun by then is left out; ways are counted; the limit is the length less the reserve.
Times are seconds since the sortie's start, with the likely durations. One timeline for each set of tasks left out, and
there are no more of these than optional tasks, and one, but where some can't be left out together.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from briefgen.proof.schedule.timeline import Timeline

Timelines = Callable[[frozenset[str]], Timeline]
"""The timeline of the sortie without these tasks."""


@dataclass(frozen=True)
class Latest:
    """A task begins at `begins` as planned, and at `latest` at the latest; `left_out` are the tasks dropped then.

    `parts` says for each of its people by when they must begin their own part of it. Where `latest` is earlier than
    `begins`, it is too late even if all goes as planned.
    """

    task: str
    parts: tuple[tuple[str, float], ...]
    optional: bool
    begins: float
    latest: float
    left_out: frozenset[str]

    @property
    def people(self) -> tuple[str, ...]:
        """Who does it, in the order of the flow."""
        return tuple(person for person, _ in self.parts)

    @property
    def spare(self) -> float:
        """Seconds by which it may begin later than planned; negative where it would have to begin earlier."""
        return self.latest - self.begins


Holds = Callable[[frozenset[str]], bool]
"""Whether all holds without these tasks that holds with them."""


def latest_begins(whole: Timeline, without: Timelines, holds: Holds) -> tuple[Latest, ...]:
    """Every task of the plan, by its planned beginning."""
    begins = first_begins(whole)
    optional = whole.plan.optional_tasks
    found = []
    for task, begin in sorted(begins.items(), key=lambda one: one[1]):
        later = frozenset(other for other in optional if other != task and begins[other] >= begin)
        dropped = most(later, begins, holds)
        parts = _parts(without(dropped), task)
        found.append(Latest(task, parts, task in optional, begin, min(moment for _, moment in parts), dropped))
    return tuple(found)


def most(later: frozenset[str], begins: Mapping[str, float], holds: Holds) -> frozenset[str]:
    """Of optional tasks those that can be left out together, the last of the day first: none whose absence hurts.

    Greedy where not all of them can: what is taken stays taken, and each further one must hold with it.
    """
    if holds(later):
        return later
    taken = frozenset[str]()
    for task in sorted(later, key=lambda one: (-begins[one], one)):
        if holds(taken | {task}):
            taken |= {task}
    return taken


def first_begins(timeline: Timeline) -> Mapping[str, float]:
    """When the first step of each task begins."""
    begins: dict[str, float] = {}
    for times in timeline.times:
        task = str(times.step.task.id)
        begins[task] = min(times.start, begins.get(task, times.start))
    return begins


def _parts(timeline: Timeline, task: str) -> tuple[tuple[str, float], ...]:
    """By when each person must begin what they do of a task, in the order of the flow."""
    moments: dict[str, float] = {}
    for times in timeline.times:
        if str(times.step.task.id) == task:
            for person in times.step.people:
                moments[person] = min(times.latest_start, moments.get(person, times.latest_start))
    return tuple((person, moments[person]) for person in timeline.plan.flows if person in moments)
