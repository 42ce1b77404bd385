"""Where a sortie stands: the clock and the last finished step of each person, and whether that can be so.

Pure. Times are seconds since the sortie's start. Of people without a flow the steps stand in the order in which they
end as planned: what stands above the last finished one counts as finished.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from briefgen.proof.deciding.underway.day import Day

LONGEST = 12 * 3600.0
"""So far beyond the sortie's length a clock is believed, in seconds."""


@dataclass(frozen=True)
class Progress:
    """How many of their steps a person has finished, and when the last of them was over.

    `since` is None where nobody noted it: then what comes next counts whole from now on, and may have begun.
    """

    steps: int
    since: float | None = None


@dataclass(frozen=True)
class Situation:
    """The clock, and how far each person is."""

    now: float
    people: Mapping[str, Progress]

    def done(self, day: Day) -> frozenset[int]:
        """The steps that are finished, by index: for whoever did them."""
        return frozenset(index for person, flow in day.flows.items() for index in flow[: self.people[person].steps])


@dataclass(frozen=True)
class Contradiction:
    """`person` is said to have finished `step`, and `other` not to have finished `first` (both by index).

    `together`: it is one joint step. Otherwise `first` must be over before `step` begins.
    """

    person: str
    step: int
    other: str
    first: int

    @property
    def together(self) -> bool:
        """Whether it is a joint step that one alone is said to have finished."""
        return self.step == self.first


def contradictions(day: Day, situation: Situation) -> tuple[Contradiction, ...]:
    """What can't be so: joint steps finished for one only, and steps finished ahead of what they wait for."""
    return tuple(_contradictions(day, situation))


def _contradictions(day: Day, situation: Situation) -> Iterator[Contradiction]:
    seats = {person: {index: seat for seat, index in enumerate(flow)} for person, flow in day.flows.items()}
    for person, flow in day.flows.items():
        for index in flow[: situation.people[person].steps]:
            for first in (index, *day.steps[index].earlier):
                for other in day.steps[first].people:
                    if seats[other][first] >= situation.people[other].steps:
                        yield Contradiction(person, index, other, first)


def bad_times(day: Day, situation: Situation) -> Iterator[str]:
    """People whose last step is said to be over before the start or after now, and `now` if no clock shows it."""
    if not 0 <= situation.now <= day.length + LONGEST:
        yield "now"
    for person, progress in situation.people.items():
        if progress.since is not None and not 0 <= progress.since <= situation.now:
            yield person
