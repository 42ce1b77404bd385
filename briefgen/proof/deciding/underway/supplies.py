"""What the suits have left now and in the end, from a situation on.

Pure. Nobody reads a gauge here. **Assumed:** up to a person's last finished step the suit gave what the plan says;
time beyond the planned end of that step was spent at the person's mean rate of the plan; being early saves nothing.
From then on a step costs its own effort, a way moderate effort, waiting and the time after the last step rest.
"""

from __future__ import annotations

from bisect import bisect_right
from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.deciding.underway.day import Day, DaySupply
from briefgen.proof.deciding.underway.forecast import Forecast, since_of
from briefgen.proof.deciding.underway.situation import Situation


@dataclass(frozen=True)
class Remaining:
    """A supply now and at the end, and when its reserve is touched; None if never. Amounts in the unit of computing."""

    supply: DaySupply
    now: float
    end: float
    reached: float | None

    @property
    def short(self) -> bool:
        """Whether the reserve is touched before the end."""
        return self.end < self.supply.keeps - 1e-9 * max(1.0, self.supply.holds)


def supplies_left(day: Day, situation: Situation, ahead: Forecast) -> tuple[Remaining, ...]:
    """Every supply of everybody outside."""
    return tuple(_left(day, situation, ahead, one) for one in day.supplies)


def _left(day: Day, situation: Situation, ahead: Forecast, its: DaySupply) -> Remaining:
    count = situation.people[its.person].steps
    planned = day.steps[day.flows[its.person][count - 1]].end if count else 0.0
    since = since_of(situation, its.person)
    amount = _at(its.left, planned) - _rate(its, its.mean_watts) * max(0.0, since - planned)
    now = reached = None
    for start, end, watts in _spans(day, ahead, its.person, since):
        if reached is None:
            reached = _touched(its, amount, start, end, watts)
        if now is None and end >= situation.now:
            now = amount - _rate(its, watts) * max(0.0, situation.now - start)
        amount -= _rate(its, watts) * (end - start)
    over = max(ahead.finish, since)
    if reached is None and _rate(its, its.mean_watts) > 0:
        reached = over + (amount - its.keeps) / _rate(its, its.mean_watts)
    return Remaining(its, amount if now is None else now, amount, reached)


def _spans(day: Day, ahead: Forecast, person: str, since: float) -> Iterator[tuple[float, float, float]]:
    """What a person does from their last finished step on: from, until, and at how many watts."""
    clock = since
    for index, seconds in day.variants[ahead.left_out].chains.get(person, ()):
        if index in ahead.times:
            start, end = ahead.times[index]
            there = min(start, clock + seconds)
            yield clock, there, day.way_watts
            yield there, start, day.rest_watts
            yield start, end, day.steps[index].watts
            clock = end
    yield clock, max(clock, ahead.finish), day.rest_watts


def _touched(its: DaySupply, amount: float, start: float, end: float, watts: float) -> float | None:
    """When the reserve is touched within a span."""
    if amount <= its.keeps:
        return start
    rate = _rate(its, watts)
    return start + (amount - its.keeps) / rate if amount - rate * (end - start) <= its.keeps and rate > 0 else None


def _rate(its: DaySupply, watts: float) -> float:
    return its.per_second + its.per_joule * watts


def _at(line: tuple[tuple[float, float], ...], seconds: float) -> float:
    right = bisect_right([time for time, _ in line], seconds)
    if right in (0, len(line)):
        return line[max(0, right - 1)][1]
    (t0, v0), (t1, v1) = line[right - 1], line[right]
    return v0 + (v1 - v0) * (seconds - t0) / (t1 - t0)
