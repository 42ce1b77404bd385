"""The latest moment at which each task can begin so that it, and everything required after it, still fits.

Pure. What is optional and not begun by then is left out; ways are counted; the limit is the length less the reserve.
Times are seconds since the sortie's start, with the likely durations. One timeline for each set of tasks left out, and
there are no more of these than optional tasks, and one, but where some can't be left out together.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import partial
from typing import TYPE_CHECKING

from briefgen.proof.deciding.serving import served
from briefgen.proof.schedule.timeline import Timeline

if TYPE_CHECKING:  # evidence keeps what is found here
    from briefgen.proof.evidence import SortieEvidence


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


def latest_begins(proved: SortieEvidence) -> tuple[Latest, ...]:
    """Every task of a plan without a circle, by its planned beginning."""
    begins = first_begins(proved.timeline)
    found = []
    for task, begin in sorted(begins.items(), key=lambda one: one[1]):
        optional, begun = later(proved, begins, task), begun_by(begins, task)
        dropped = proved.leaving(most(optional, begins, partial(proved.holds_without, begun=begun)), begun)
        parts = _parts(proved.timeline_without(dropped, begun), task)
        moment = min(one for _, one in parts)
        found.append(Latest(task, parts, task in proved.plan.optional_tasks, begin, moment, dropped))
    return tuple(found)


def later(proved: SortieEvidence, begins: Mapping[str, float], task: str) -> frozenset[str]:
    """The optional tasks that are planned to begin no earlier than a task, and are not what it is done for."""
    kept = {task, *served(proved.library.tasks, proved.tasks, task)}
    return frozenset(
        other for other in proved.plan.optional_tasks if other not in kept and begins[other] >= begins[task]
    )


def begun_by(begins: Mapping[str, float], task: str) -> frozenset[str]:
    """A task, and all that are planned to begin before it."""
    return frozenset({task, *(other for other, begin in begins.items() if begin < begins[task])})


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
