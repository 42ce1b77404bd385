"""A person's way through a sortie in time order: steps, ways, waits and the steps waited for."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from briefgen.language.wording import capital, span, steps_words
from briefgen.pages.context import PageContext, task_of
from briefgen.pages.doing import moments
from briefgen.pages.doing.moments import HoldLine, TravelLine
from briefgen.pages.doing.statements import HazardSign, Statement, carried_by, shared, signs, statements
from briefgen.pages.planning.revisions import StepMark, step_mark
from briefgen.pages.rows import Badge, Link, MarkChip
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.plan import PlannedStep
from briefgen.units import show_duration


@dataclass(frozen=True)
class WaitRow:
    """A wait before a step that no hold explains, and for whom, or until when."""

    takes: str
    others: tuple[MarkChip, ...]
    step: Link
    until: str = ""


@dataclass(frozen=True)
class Stated:
    """A statement ahead of the first of the person's steps that it holds for, and which they are."""

    statement: Statement
    anchor: str
    covers: str


@dataclass(frozen=True)
class FlowStep:
    """A person's step in a sortie, with what comes right before it; `number` is the one that it has in its task.

    `statements` are all that it carries; of them `stated` stand here, and `signs` lead to where each one stands.
    """

    travel: TravelLine | None
    wait: WaitRow | None
    holds: tuple[HoldLine, ...]
    statements: tuple[Statement, ...]
    clock: str
    takes: str
    do: str
    target: str
    place: Link | None
    others: tuple[MarkChip, ...]
    critical: bool
    change: Badge | None
    number: int
    stated: tuple[Stated, ...] = ()
    signs: tuple[HazardSign, ...] = ()


@dataclass(frozen=True)
class FlowTask:
    """Steps in a row that belong to one task."""

    task: Link
    anchor: str
    clock: str
    steps: tuple[FlowStep, ...]


@dataclass(frozen=True)
class Neighbours:
    """What one person does before and after a task; empty links at the sortie's ends."""

    mark: MarkChip
    label: str
    before: Link
    then: Link


def flow(context: PageContext, proved: SortieEvidence, person: str) -> tuple[FlowTask, ...]:
    """A person's steps, grouped by task in the order in which they come."""
    stretches: list[list[PlannedStep]] = []
    for step in (times.step for times in proved.timeline.of(person)):
        if not stretches or task_of(stretches[-1][0]) != task_of(step):
            stretches.append([])
        stretches[-1].append(step)
    return tuple(_stretch(context, proved, person, number, steps) for number, steps in enumerate(stretches, start=1))


def _stretch(
    context: PageContext, proved: SortieEvidence, person: str, number: int, steps: list[PlannedStep]
) -> FlowTask:
    times = proved.timeline.times
    return FlowTask(
        context.link("task", task_of(steps[0])),
        f"_{proved.sortie.id}-{number}",
        span(times[steps[0].index].start, times[steps[-1].index].end),
        tuple(
            _stating(f"_{proved.sortie.id}-{number}-hazard", [_step(context, proved, person, step) for step in steps])
        ),
    )


def _stating(anchor: str, rows: list[FlowStep]) -> Iterator[FlowStep]:
    """The steps of a stretch, each hazard stated once ahead of the neighbours that share it."""
    carried = carried_by(shared([row.statements for row in rows]))
    for place, row in enumerate(rows):
        runs = carried.get(place, [])
        stated = (
            Stated(run.statement, f"{anchor}-{run.number}", _covers(rows[one].number for one in run.steps))
            for run in runs
            if run.steps[0] == place
        )
        yield replace(row, stated=tuple(stated), signs=signs(runs, anchor))


def _covers(numbers: Iterable[int]) -> str:
    return capital(steps_words(list(dict.fromkeys(numbers))))


def _step(context: PageContext, proved: SortieEvidence, person: str, step: PlannedStep) -> FlowStep:
    times = proved.timeline.times[step.index]
    leg = proved.timeline.leg_to.get((person, step.index))
    others = [name for name in step.people if name != person]
    mark = step_mark(context, task_of(step), step.step.key) or _as_told(context, step)
    return FlowStep(
        moments.travel(context, leg) if leg else None,
        _wait(context, proved, person, step),
        tuple(moments.holds(context, proved, step, person)),
        statements(context, [str(one.hazard) for one in step.hazards]),
        span(times.start, times.end),
        show_duration(times.end - times.start),
        step.step.told,
        context.planned(step).target,
        context.link("place", step.place) if step.place and person in step.outside else None,
        context.marks(others),
        times.critical,
        mark.badge if mark else None,
        context.number(context.library.tasks[task_of(step)], step.step),
    )


def _as_told(context: PageContext, step: PlannedStep) -> StepMark | None:
    """Of a later round, the mark of the step that is told for all."""
    told = moments.rounds_of(context.library.tasks[task_of(step)], step.step)[0]
    return step_mark(context, task_of(step), told.key) if step.step.origin.again else None


def _wait(context: PageContext, proved: SortieEvidence, person: str, step: PlannedStep) -> WaitRow | None:
    wait = proved.timeline.wait_before.get((person, step.index))
    held = {hold.first for hold in context.holds(proved).get(step.index, ()) if person in hold.people}
    if wait is None or wait.cause in held:
        return None
    cause = proved.plan.steps[wait.cause]
    return WaitRow(
        show_duration(wait.seconds),
        context.marks(name for name in wait.causes if name != person),
        context.planned(cause),
        wait.until,
    )


def neighbours(context: PageContext, task: str) -> Iterator[Neighbours]:
    """What comes before and after a task for each person who has steps in it, sortie by sortie."""
    sorties = context.sorties_of(task)
    for proved in sorties:
        label = context.label("sortie", str(proved.sortie.id)) if len(sorties) > 1 else ""
        for person in proved.plan.flows:
            mine = [times.step for times in context.by_task(proved)[task] if person in times.step.people]
            if mine:
                before = proved.plan.previous_for(person, mine[0])
                then = proved.plan.next_for(person, mine[-1])
                yield Neighbours(context.mark(person), label, _link(context, before), _link(context, then))


def _link(context: PageContext, step: PlannedStep | None) -> Link:
    return context.planned(step) if step else Link("")
