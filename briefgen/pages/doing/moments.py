"""When a step runs, how one gets there, and for whom one waits there: read from the timeline, one row a sortie."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from dataclasses import dataclass, replace

from briefgen.language.wording import capital, listing, metres, span
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext, task_of
from briefgen.pages.rows import Link, MarkChip
from briefgen.proof.chance.spread import spread
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.proof.schedule.timeline import Leg
from briefgen.tables.naming import spread_words
from briefgen.units import show_duration, show_elapsed

_FEW = 4
"""So many later rounds of a block are told with their times."""


@dataclass(frozen=True)
class Run:
    """A step in one sortie. `sortie` names it where the step is in several.

    `often` is the share of runs in which it is critical, `lasts` the mean and spread of a three-point duration; both
    are empty where there is nothing to say.
    """

    sortie: str
    begins: str
    clock: str
    slack: str
    critical: bool
    often: str
    lasts: str
    target: str


@dataclass(frozen=True)
class TravelLine:
    """A person's way to a step: from where, by which places, how long and how far."""

    mark: MarkChip
    origin: Link
    goal: Link
    through: tuple[Link, ...]
    clock: str
    takes: str
    metres: str
    hazards: tuple[str, ...]
    loaded: bool


@dataclass(frozen=True)
class HoldLine:
    """A step that must have ended before: whose, which, and how long the plan waits for it."""

    marks: tuple[MarkChip, ...]
    step: Link
    wait: str


@dataclass(frozen=True)
class Pause:
    """A person who waits at a step for others, or for the clock."""

    mark: MarkChip
    takes: str
    others: tuple[MarkChip, ...]
    until: str = ""


def rounds_of(task: Task, step: Step) -> tuple[Step, ...]:
    """A step in all rounds of its block, the first of them told for all; where it is in none, the step alone."""
    return task.named(f"{step.origin.block}/{step.origin.local}") if step.origin.block else (step,)


def planned(proved: SortieEvidence, key: str) -> PlannedStep | None:
    """The step in a sortie's plan."""
    return proved.plan.step(key)


def runs(context: PageContext, keys: Sequence[str]) -> tuple[Run, ...]:
    """When the step `task/step` runs, in every sortie that has it; of a block, in all its rounds by their keys."""
    sorties = [
        (proved, step)
        for proved in context.sorties_of(keys[0].partition("/")[0])
        if (step := proved.plan.step(keys[0]))
    ]
    return tuple(_run(context, proved, step, len(sorties) > 1, keys[1:]) for proved, step in sorties)


def _run(context: PageContext, proved: SortieEvidence, step: PlannedStep, named: bool, later: Sequence[str]) -> Run:
    times = proved.timeline.times[step.index]
    again = [proved.timeline.times[one.index] for key in later if (one := proved.plan.step(key))]
    return Run(
        context.label("sortie", str(proved.sortie.id)) if named else "",
        show_elapsed(times.start),
        span(times.start, times.end) + _again([one.start for one in again]),
        show_duration(min(one.slack for one in (times, *again))),
        any(one.critical for one in (times, *again)),
        proved.chance.critical[step.index].words if proved.chance.varies else "",
        spread_words(spread(step.duration)) if step.duration.three_points else "",
        context.links.in_timeline(str(proved.sortie.id), step.key),
    )


def _again(starts: Sequence[float]) -> str:
    """`, then at 3:42:16 and 3:53:31`; of many only the last."""
    if len(starts) > _FEW:
        return f", then {len(starts)} times, the last at {show_elapsed(starts[-1])}"
    return f", then at {listing([show_elapsed(start) for start in starts])}" if starts else ""


def travels(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> Iterator[TravelLine]:
    """The ways of those who come to a step from elsewhere."""
    for person in step.outside:
        leg = proved.timeline.leg_to.get((person, step.index))
        if leg:
            yield travel(context, leg)


def travel(context: PageContext, leg: Leg) -> TravelLine:
    """One way."""
    routes = leg.way.routes if leg.way else ()
    hazards = dict.fromkeys(str(name) for route in routes for name in context.library.routes[route].hazards)
    return TravelLine(
        context.mark(leg.person),
        context.link("place", leg.origin),
        context.link("place", leg.goal),
        tuple(context.link("place", place) for place in (leg.way.places[1:-1] if leg.way else ())),
        span(leg.start, leg.end),
        show_duration(leg.end - leg.start),
        metres(leg.way.metres) if leg.way else "",
        tuple(hazards),
        leg.loaded,
    )


def holds(context: PageContext, proved: SortieEvidence, step: PlannedStep, person: str = "") -> Iterator[HoldLine]:
    """The steps of others that must have ended before this one; with `person`, those for which that person holds."""
    for hold in context.holds(proved).get(step.index, ()):
        if not person or person in hold.people:
            first = proved.plan.steps[hold.first]
            wait = show_duration(hold.seconds) if hold.seconds else ""
            yield HoldLine(context.marks(first.people), _awaited(context, step, first), wait)


def _awaited(context: PageContext, step: PlannedStep, first: PlannedStep) -> Link:
    """The step waited for; of the same block told for all rounds: in the same round, or in the one before."""
    link, mine, other = context.planned(first), step.step.origin, first.step.origin
    if not mine.block or (task_of(step), mine.block) != (task_of(first), other.block):
        return link
    words = context.texts.plain(first.step.do).rstrip(".") + (
        " in the round before" if other.round < mine.round else ""
    )
    told = context.links.target("task", task_of(first), rounds_of(first.task, first.step)[0].key)
    return replace(link, words=capital(words), target=told)


def each_once(rows: Iterable[HoldLine]) -> tuple[HoldLine, ...]:
    """The holds of a block's rounds, each once with the wait that comes first."""
    found: dict[tuple[MarkChip | str, ...], HoldLine] = {}
    for row in rows:
        found.setdefault((*row.marks, row.step.words), row)
    return tuple(found.values())


def pauses(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> Iterator[Pause]:
    """Who waits at the step for somebody who has to come first, other than at a hold."""
    held = {hold.first for hold in context.holds(proved).get(step.index, ())}
    for person in step.people:
        wait = proved.timeline.wait_before.get((person, step.index))
        if wait and wait.cause not in held:
            others = [name for name in wait.causes if name != person]
            yield Pause(context.mark(person), show_duration(wait.seconds), context.marks(others), wait.until)


def next_elsewhere(context: PageContext, proved: SortieEvidence, step: PlannedStep) -> Iterator[tuple[MarkChip, Link]]:
    """For each person of a step whose next step is in another task: who, and which."""
    for person in step.people:
        following = proved.plan.next_for(person, step)
        if following and task_of(following) != task_of(step):
            yield context.mark(person), context.planned(following)


def begins(proved: SortieEvidence, step: PlannedStep) -> str:
    """When a step begins, in elapsed time."""
    return show_elapsed(proved.timeline.times[step.index].start)
