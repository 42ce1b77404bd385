"""Stretches of a sortie that scenes tell of, read from its timeline. Seconds since the sortie's start."""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from briefgen.proof.evidence import SortieEvidence


@dataclass(frozen=True)
class Interval:
    """From one moment to another, or one moment alone."""

    start: float
    end: float

    def overlaps(self, start: float, end: float) -> bool:
        """Whether it shares more than a border with another stretch; a moment lies in the stretch that it begins."""
        if self.start == self.end:
            return start <= self.start < end
        return start < self.end and self.start < end


def span_of_steps(proved: SortieEvidence, steps: Iterable[int]) -> Interval:
    """From the first beginning to the last end of some steps; the sortie's start where there are none."""
    times = [proved.timeline.times[index] for index in steps]
    return Interval(min((one.start for one in times), default=0.0), max((one.end for one in times), default=0.0))


def span_of_tasks(proved: SortieEvidence, tasks: Iterable[str]) -> Interval:
    """From the first beginning to the last end of all steps of some tasks."""
    names = set(tasks)
    return span_of_steps(proved, (step.index for step in proved.plan.steps if str(step.task.id) in names))


def ways_to(proved: SortieEvidence, task: str) -> Interval | None:
    """The ways on which a task begins: of those who set off before its first step is over; None where nobody goes."""
    first: dict[str, int] = {}
    for person, flow in proved.plan.flows.items():
        for index in flow:
            if str(proved.plan.steps[index].task.id) == task:
                first.setdefault(person, index)
    opening = min((proved.timeline.times[index].end for index in first.values()), default=0.0)
    legs = [proved.timeline.leg_to.get((person, index)) for person, index in first.items()]
    moving = [leg for leg in legs if leg is not None and leg.start < min(leg.end, opening)]
    return Interval(min(leg.start for leg in moving), max(leg.end for leg in moving)) if moving else None
