"""When everything that is left would run from a situation on, if all go on at once and take as long as is likely.

Pure: a day, a situation and the tasks left out go in. Times are seconds since the sortie's start. When an earlier step
of somebody was over is bounded from above: by its planned end and how late the person is now, and by their last step.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import pairwise

from briefgen.proof.deciding.underway.day import Day, ReducedPlan
from briefgen.proof.deciding.underway.situation import Situation
from briefgen.proof.schedule.network import ROUNDING


@dataclass(frozen=True)
class Forecast:
    """When each step that is left begins and ends (by index), and when the sortie would be over.

    A step that has begun by now ends now at the earliest. `critical` are the steps that can't slip without a later end,
    `dark` those that need light and would not have it all the time.
    """

    left_out: frozenset[str]
    times: Mapping[int, tuple[float, float]]
    finish: float
    critical: tuple[int, ...]
    dark: tuple[int, ...]


def since_of(situation: Situation, person: str) -> float:
    """When a person's last step was over; now, where nobody noted it."""
    since = situation.people[person].since
    return situation.now if since is None else since


def over_by(day: Day, situation: Situation, index: int) -> float:
    """By when a finished step was over, at the latest."""
    bounds = []
    for person in day.steps[index].people:
        since = since_of(situation, person)
        last = day.flows[person][situation.people[person].steps - 1]
        late = max(0.0, since - day.steps[last].end)
        bounds.append(since if last == index else min(since, day.steps[index].end + late))
    return min(bounds)


def forecast(day: Day, situation: Situation, left_out: frozenset[str] = frozenset()) -> Forecast:
    """The rest of the day without some tasks, of which none is begun and whose absence is proved."""
    variant, done = day.variants[left_out], situation.done(day)
    starts = _ahead(day, situation, variant)
    after: dict[int, list[tuple[int, float]]] = {}
    for row in variant.chains.values():
        for (first, _), (second, seconds) in pairwise(row):
            after.setdefault(second, []).append((first, seconds))
    for first, second in variant.links:
        after.setdefault(second, []).append((first, 0.0))
    times: dict[int, tuple[float, float]] = {}
    for index in variant.sequence:
        if index in done:
            continue
        start = starts[index]
        for first, seconds in after.get(index, ()):
            over = over_by(day, situation, first) if first in done else times[first][1]
            start = max(start, over + seconds)
        if index in day.gates:
            start = day.gates[index].opens(start)
        times[index] = (start, max(situation.now, start + day.steps[index].seconds))
    finish = max((end for _, end in times.values()), default=_all_over(day, situation))
    latest = _latest_ends(day, times, after, finish)
    tight = (index for index, (_, end) in times.items() if latest[index] - end < ROUNDING)
    critical = sorted(tight, key=lambda one: (times[one][0], one))
    return Forecast(left_out, times, finish, tuple(critical), _dark(day, times))


def _latest_ends(
    day: Day, times: Mapping[int, tuple[float, float]], after: Mapping[int, list[tuple[int, float]]], finish: float
) -> dict[int, float]:
    """By when each step that is left must be over so that all is over by then; they come in an order that holds."""
    latest = dict.fromkeys(times, finish)
    for index in reversed(tuple(times)):
        start = latest[index] - day.steps[index].seconds
        ready = day.gates[index].ready_by(start) if index in day.gates else start
        for first, seconds in after.get(index, ()):
            if first in latest:
                latest[first] = min(latest[first], ready - seconds)
    return latest


def _ahead(day: Day, situation: Situation, variant: ReducedPlan) -> dict[int, float]:
    """When each step could begin for all that nothing comes before it."""
    starts = dict.fromkeys(variant.sequence, 0.0)
    for person, row in variant.chains.items():
        if row and not situation.people[person].steps:
            starts[row[0][0]] = max(starts[row[0][0]], since_of(situation, person) + row[0][1])
    for person in sorted(day.free):
        if situation.people[person].since is None:
            for index in day.flows[person]:
                if index in starts:
                    starts[index] = max(starts[index], situation.now)
    return starts


def _all_over(day: Day, situation: Situation) -> float:
    """When the last step of all was over."""
    return max((since_of(situation, person) for person in day.flows), default=situation.now)


def _dark(day: Day, times: Mapping[int, tuple[float, float]]) -> tuple[int, ...]:
    found = []
    for index, (start, end) in sorted(times.items()):
        lasts = (min(end, dawn) - max(start, dusk) for dusk, dawn in day.nights)
        if day.steps[index].needs_light and any(seconds > ROUNDING for seconds in lasts):
            found.append(index)
    return tuple(found)
