"""What follows from a situation: how late, what is critical, what to leave out, what no longer fits, until when.

Pure. Whatever is advised was proved when the day was made, and brings about no new trouble with the clock either: no
work in the dark and no reserve touched that would not be without it. Times are seconds since the sortie's start.
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from enum import StrEnum
from functools import partial

from briefgen.proof.deciding.latest import begun_by, later, most
from briefgen.proof.deciding.underway.day import Day
from briefgen.proof.deciding.underway.forecast import Forecast, forecast
from briefgen.proof.deciding.underway.situation import Situation
from briefgen.proof.deciding.underway.supplies import Remaining, supplies_left


class WhyKept(StrEnum):
    """Why something that could be left out in the plan can't be now."""

    BEGUN = "begun"  # a task can't be dropped once somebody is at it, or on the way
    DONE = "done"
    UNPROVED = "unproved"  # not proved together with what is left out before
    WORSE = "worse"  # work would fall into the dark, or a reserve be touched


@dataclass(frozen=True)
class Omission:
    """What may be left out next, and what that gains together with all before; or `why` it can't."""

    tasks: tuple[str, ...]
    gains: float = 0.0
    finish: float = 0.0
    why: WhyKept | None = None


@dataclass(frozen=True)
class Due:
    """A task not begun: when it would begin, and by when it may, with what is left out then."""

    task: str
    begins: float
    latest: float
    left_out: frozenset[str]

    @property
    def fits(self) -> bool:
        """Whether it still fits."""
        return self.latest >= self.begins


@dataclass(frozen=True)
class Outlook:
    """What follows. `late` is how much later than planned the sortie would end; `omissions` come in their order."""

    ahead: Forecast
    late: float
    omissions: tuple[Omission, ...]
    due: tuple[Due, ...]
    supplies: tuple[Remaining, ...]


def answer(day: Day, situation: Situation) -> Outlook:
    """What follows from a situation without contradictions."""
    ahead = forecast(day, situation)
    return Outlook(
        ahead,
        ahead.finish - day.finish,
        tuple(_omissions(day, situation, ahead)),
        tuple(_due(day, situation, ahead)),
        supplies_left(day, situation, ahead),
    )


def taken_up(day: Day, situation: Situation, ahead: Forecast) -> frozenset[str]:
    """The tasks that are begun, to which somebody outside may be on the way, or that somebody may be at by now."""
    tasks = {day.steps[index].task for index in situation.done(day)}
    for person, flow in day.flows.items():
        progress = situation.people[person]
        if progress.steps < len(flow) and (progress.since is None or progress.since < situation.now):
            index = flow[progress.steps]
            if person in day.homes or ahead.times[index][0] <= situation.now:
                tasks.add(day.steps[index].task)
    return frozenset(tasks)


def _omissions(day: Day, situation: Situation, ahead: Forecast) -> Iterator[Omission]:
    done, begun = situation.done(day), taken_up(day, situation, ahead)
    core, gone, before = frozenset[str](), frozenset[str](), ahead
    for unit in day.units:
        if all(day.steps[index].task not in unit or index in done for index in range(len(day.steps))):
            yield Omission(unit, why=WhyKept.DONE)
        elif not begun.isdisjoint(unit):
            yield Omission(unit, why=WhyKept.BEGUN)
        elif (leaving := day.proved.leaving(core | {*unit}, begun)) not in day.variants:
            yield Omission(unit, why=WhyKept.UNPROVED)
        elif worse(day, situation, ahead, without := forecast(day, situation, leaving)):
            yield Omission(unit, why=WhyKept.WORSE)
        else:
            fresh = (leaving - gone - {*unit}) & day.begins.keys()
            along = sorted(fresh, key=lambda one: (day.begins[one], one))
            core, gone = core | {*unit}, leaving
            yield Omission((*unit, *along), before.finish - without.finish, without.finish)
            before = without


def _proved(day: Day, stays: frozenset[str], left_out: frozenset[str]) -> bool:
    """Whether all holds without these tasks and what only serves them."""
    return day.proved.leaving(left_out, stays) in day.variants


def worse(day: Day, situation: Situation, whole: Forecast, other: Forecast) -> bool:
    """Whether work falls into the dark, or a reserve is touched, that does not with all that is planned."""
    if {*other.dark} - {*whole.dark} or other.finish > max(whole.finish, day.usable):
        return True
    now, then = (supplies_left(day, situation, one) for one in (whole, other))
    return any(b.short and not a.short for a, b in zip(now, then, strict=True))


def _due(day: Day, situation: Situation, ahead: Forecast) -> Iterator[Due]:
    """Every task that is not begun, as they would begin: what is optional and begins later may be left out for it."""
    begun = {day.steps[index].task for index in situation.done(day)}
    begun |= {day.steps[index].task for index, (start, _) in ahead.times.items() if start < situation.now}
    fresh = {day.steps[index].task for index in ahead.times} - begun
    for task in sorted(fresh, key=lambda one: (day.begins[one], one)):
        at_work = taken_up(day, situation, ahead)
        stays = at_work | begun_by(day.begins, task)
        optional = later(day.proved, day.begins, task) - at_work
        core = most(optional, day.begins, partial(_proved, day, stays))
        dropped = day.proved.leaving(core, stays)
        latest = day.variants[dropped].latest
        mine = [index for index in ahead.times if day.steps[index].task == task]
        begins = min(ahead.times[index][0] for index in mine)
        yield Due(task, begins, min(latest[index] for index in mine), dropped)
