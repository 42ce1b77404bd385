"""What everybody does, way and wait included, in the order of the clock: what tables and files of a timeline list.

Pure: a timeline goes in, entries come out. Times are seconds since the sortie's start, with the likely durations.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum

from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.timeline import StepTimes, Timeline


class EntryKind(StrEnum):
    """What an entry is."""

    STEP = "step"
    WAY = "way"
    WAIT = "wait"


@dataclass(frozen=True)
class Entry:
    """One thing that `people` do from `start` to `end`.

    `times` are those of the step done, gone to or waited to begin. A way has `origin`, `goal` and `metres` (None where
    no route leads there); a wait has the step it waits for as `cause`, or what the clock must show as `until`.
    """

    kind: EntryKind
    start: float
    end: float
    people: tuple[str, ...]
    times: StepTimes
    place: str | None = None
    origin: str | None = None
    goal: str | None = None
    metres: float | None = None
    cause: PlannedStep | None = None
    until: str = ""


def agenda(timeline: Timeline) -> tuple[Entry, ...]:
    """Every step once, and every way and wait of each person, by start. O(n log n)."""
    people = list(timeline.plan.flows)
    kinds = list(EntryKind)

    def order(entry: Entry) -> tuple[float, float, int, int, int]:
        first = min(people.index(person) for person in entry.people)
        return (entry.start, entry.end, first, kinds.index(entry.kind), entry.times.step.index)

    return tuple(sorted((*_steps(timeline), *_ways(timeline), *_waits(timeline)), key=order))


def _steps(timeline: Timeline) -> Iterator[Entry]:
    for times in timeline.times:
        yield Entry(EntryKind.STEP, times.start, times.end, times.step.people, times, times.step.place)


def _ways(timeline: Timeline) -> Iterator[Entry]:
    for leg in timeline.legs:
        times = timeline.times[leg.step]
        metres = leg.way.metres if leg.way else None
        yield Entry(EntryKind.WAY, leg.start, leg.end, (leg.person,), times, None, leg.origin, leg.goal, metres)


def _waits(timeline: Timeline) -> Iterator[Entry]:
    for wait in timeline.waits:
        times = timeline.times[wait.step]
        cause = None if wait.until else timeline.plan.steps[wait.cause]
        place = times.step.place if wait.person in times.step.outside else None
        yield Entry(EntryKind.WAIT, wait.start, wait.end, (wait.person,), times, place, cause=cause, until=wait.until)
