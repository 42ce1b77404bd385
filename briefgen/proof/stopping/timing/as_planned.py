"""The plan gone to its end after a stop is called: what is shown where too much is open to search for a quicker way.

Pure: the plan's own times go in. Whoever is outside counts as home when their last step is over and they have come in.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable

from briefgen.proof.stopping.book import Book
from briefgen.proof.stopping.given import Given
from briefgen.proof.stopping.timing.schedule import Schedule


def as_planned(given: Given, book: Book, people: Iterable[str], chosen: Collection[int], at: float) -> Schedule:
    """The times of the chosen turns as planned, in seconds after the call, which is `at` seconds after the start."""
    planned = {turn: given.timeline.times[book.steps[turn].index] for turn in sorted(chosen)}
    times = {turn: (max(0.0, its.start - at), max(0.0, its.end - at)) for turn, its in planned.items()}
    ends = dict.fromkeys(people, at)
    for its in planned.values():
        for person in its.step.people:
            if person in ends:
                ends[person] = max(ends[person], its.end)
    homes = {
        person: end - at + (given.time_home[person].until(end) if person in given.time_home else 0.0)
        for person, end in ends.items()
    }
    return Schedule(times, homes, ())
