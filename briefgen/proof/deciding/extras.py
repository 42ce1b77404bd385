"""Which get-aheads fit into what is left of a sortie, where each would stand, and why the others do not fit.

Pure. Times are seconds since the sortie's start, with the likely durations, in the plan with all that fit.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from enum import StrEnum
from typing import TYPE_CHECKING

from briefgen.model.work import Task
from briefgen.proof.deciding.latest import first_begins
from briefgen.proof.deciding.plans import Trial, blocks_of
from briefgen.proof.deciding.search import FEW, Search
from briefgen.proof.schedule.timeline import Timeline

if TYPE_CHECKING:  # evidence keeps what is found here
    from briefgen.proof.evidence import SortieEvidence

MOST_LOOKED_AT = 16
"""So many get-aheads of a sortie are looked at, in the order listed: each costs a plan for every place it may have."""


@dataclass(frozen=True)
class Between:
    """A person does a task between two others of theirs; None at the ends of their flow."""

    person: str
    after: str | None
    before: str | None


@dataclass(frozen=True)
class Extra:
    """A get-ahead that fits, from `begins` to `ends`. `busy` says how long each person works and goes more for it, and
    `later` how much later the sortie ends if it is the only one taken up; `record` names who does it.
    """

    task: str
    begins: float
    ends: float
    between: tuple[Between, ...]
    busy: tuple[tuple[str, float], ...]
    later: float
    record: Task = field(compare=False, repr=False)


class WhyNot(StrEnum):
    """Why a get-ahead is not in the best choice."""

    TOO_LONG = "too long"  # the sortie would end too late
    BESIDE = "beside"  # it fits, but not beside those that were chosen
    NOT_HELD = "not held"  # wherever there is time, the plan would not hold any more
    NOT_READY = "not ready"  # something that it needs first is not done
    NO_PLACE = "no place"  # nobody has a gap for it, or no way leads there
    FOR_NOTHING = "for nothing"  # what it serves does not fit
    UNTRIED = "untried"  # more get-aheads are listed than are looked at


@dataclass(frozen=True)
class Unfit:
    """A get-ahead that is left. `missing` is by how many seconds at least the sortie would end too late with it.

    `needs` are tasks that it needs first; `faults` the kinds of faults (see `faults`) where time would allow.
    """

    task: str
    why: WhyNot
    missing: float = 0.0
    needs: tuple[str, ...] = ()
    faults: tuple[str, ...] = ()


@dataclass(frozen=True)
class Extras:
    """The get-aheads of a sortie. With those that fit it ends at `finish`. `exact`: every order was tried, each
    at its cheapest place.
    """

    fitting: tuple[Extra, ...]
    unfit: tuple[Unfit, ...]
    finish: float
    usable: float
    exact: bool


def extras(proved: SortieEvidence) -> Extras:
    """The get-aheads that fit into what is left of a sortie without a circle."""
    flown = {str(step.task.id) for step in proved.plan.steps}
    listed = tuple(dict.fromkeys(str(name) for name in proved.sortie.get_aheads if str(name) not in flown))
    tasks, untried = listed[:MOST_LOOKED_AT], listed[MOST_LOOKED_AT:]
    search = Search(proved, tasks)
    best = search.best()
    timeline = best.trial.timeline
    assert timeline is not None  # a choice has times
    fitting = (_fitting(search, best.trial, timeline, site.task) for _, site in best.taken)
    taken = {task for task, _ in best.taken}
    return Extras(
        tuple(sorted(fitting, key=lambda one: one.begins)),
        (
            *(_unfit(search, task) for task in tasks if task not in taken),
            *(Unfit(one, WhyNot.UNTRIED) for one in untried),
        ),
        timeline.finish,
        timeline.usable,
        best.all_tried and len(listed) <= FEW,
    )


def _fitting(search: Search, trial: Trial, timeline: Timeline, record: Task) -> Extra:
    whole, plan, task = search.proved.timeline, timeline.plan, str(record.id)
    without = trial.without_task(task).timeline
    assert without is not None  # of a plan that has times, what is left has
    mine = [times for times in timeline.times if str(times.step.task.id) == task]
    alone = search.place(search.start, task)
    later = alone.trial.cost[0] - whole.finish if alone else timeline.finish - whole.finish
    people = blocks_of(search.proved.library, record)
    return Extra(
        task,
        first_begins(timeline)[task],
        max(times.end for times in mine),
        tuple(_between(plan_tasks(timeline, person), person, task) for person in people if person in plan.flows),
        tuple((person, _busy(timeline, without, person, task)) for person in people if person in plan.flows),
        max(0.0, later),
        record,
    )


def plan_tasks(timeline: Timeline, person: str) -> list[str]:
    """A person's tasks in the order of their flow, each once for each time that it is taken up."""
    tasks: list[str] = []
    for times in timeline.of(person):
        task = str(times.step.task.id)
        if not tasks or tasks[-1] != task:
            tasks.append(task)
    return tasks


def _between(tasks: list[str], person: str, task: str) -> Between:
    seat = tasks.index(task)
    return Between(person, tasks[seat - 1] if seat else None, tasks[seat + 1] if seat + 1 < len(tasks) else None)


def _busy(timeline: Timeline, without: Timeline, person: str, task: str) -> float:
    """Seconds at work in a task, and by how much longer the person's ways are for it: there, and on from there."""
    mine = [times for times in timeline.of(person) if str(times.step.task.id) == task]
    return sum(times.end - times.start for times in mine) + _ways(timeline, person) - _ways(without, person)


def _ways(timeline: Timeline, person: str) -> float:
    return sum(leg.end - leg.start for leg in timeline.legs if leg.person == person)


def _unfit(search: Search, task: str) -> Unfit:
    proved = search.proved
    needs = tuple(str(name) for name in proved.library.tasks[task].needed if str(name) not in proved.tasks_so_far)
    places = search.places(search.start.trial, task)
    if needs or not places:
        return Unfit(task, WhyNot.NOT_READY if needs else WhyNot.NO_PLACE, needs=needs)
    if proved.library.tasks[task].serves:
        return Unfit(task, WhyNot.FOR_NOTHING)
    if search.alone(task).taken:
        return Unfit(task, WhyNot.BESIDE)
    faults = search.faults_of(task)
    if faults:
        return Unfit(task, WhyNot.NOT_HELD, faults=faults)
    return Unfit(task, WhyNot.TOO_LONG, missing=max(0.0, search.soonest(task) - proved.timeline.usable))
