"""Hold points: where somebody may not go on before somebody else has done something."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.plan import Plan, PlannedStep
from briefgen.proof.schedule.timeline import Timeline


@dataclass(frozen=True)
class Hold:
    """`people` hold ahead of `step` until others have ended `first`.

    `seconds` is the longest wait of theirs as planned: zero where the other is done in time, which holds all the same.
    """

    step: int
    first: int
    people: tuple[str, ...]
    seconds: float


def holds(plan: Plan, timeline: Timeline) -> Iterator[Hold]:
    """Every hold of a plan, by the step that is held. Linear in the number of `after` links."""
    for link in sorted(plan.links, key=lambda link: (link.second, link.first)):
        step, first = plan.steps[link.second], plan.steps[link.first]
        people = tuple(person for person in step.people if person not in first.people)
        if people:
            yield Hold(step.index, first.index, people, _wait(timeline, step, first, people))


def _wait(timeline: Timeline, step: PlannedStep, first: PlannedStep, people: tuple[str, ...]) -> float:
    waits = (timeline.wait_before.get((person, step.index)) for person in people)
    return max((wait.seconds for wait in waits if wait and wait.cause == first.index), default=0.0)
