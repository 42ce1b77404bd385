"""If a stop is called in a task: what each of its steps leaves open, and where the nearest clean stop is."""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass

from briefgen.language.wording import count
from briefgen.pages.context import PageContext, task_of
from briefgen.pages.planning.stopping import chip, items_words, name_of
from briefgen.pages.rows import Link
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.moving.homeward import until_home
from briefgen.proof.plan import PlannedStep
from briefgen.proof.stopping.stops import Open, Stop
from briefgen.proof.stopping.stretches import nearest
from briefgen.units import show_elapsed


@dataclass(frozen=True)
class StopRow:
    """A stop called as a step ends. `mine` is what the task has opened, `others` counts what was open besides."""

    step: Link
    mine: tuple[str, ...]
    others: str
    takes: str
    bare: str
    clean: bool


@dataclass(frozen=True)
class TaskStops:
    """The stops of a task in one sortie; `before` and `then` say when the clean stops around it are, if any.

    `own` says that there are some within it.
    """

    page: Link
    before: str
    then: str
    own: bool
    rows: tuple[StopRow, ...]


def by_step(context: PageContext, proved: SortieEvidence) -> Mapping[int, Stop]:
    """The stop at the end of each step, by its index."""
    return context.once(
        ("stop by step", proved), lambda: {index: stop for stop in proved.stops for index in stop.ended}
    )


def task_stops(context: PageContext, task: str) -> Iterator[TaskStops]:
    """For each sortie in which the task is done: its stops in the order in which its steps end."""
    for proved in context.sorties_of(task):
        stops = by_step(context, proved)
        steps = sorted(
            context.by_task(proved)[task],
            key=lambda times: (times.end, context.number(times.step.task, times.step.step)),
        )
        last = steps[-1].end
        before, _ = nearest(proved.stops, steps[0].end)
        _, then = nearest(proved.stops, last)
        yield TaskStops(
            Link(
                f"Stopping: {context.short(str(proved.sortie.id))}",
                context.links.target("stopping", str(proved.sortie.id)),
            ),
            show_elapsed(before) if before is not None else "",
            show_elapsed(then) if then is not None else "",
            any(stops[times.step.index].clean for times in steps),
            tuple(_row(context, proved, times.step, stops[times.step.index]) for times in steps),
        )


def _row(context: PageContext, proved: SortieEvidence, step: PlannedStep, stop: Stop) -> StopRow:
    steps, task = proved.plan.steps, task_of(step)
    mine = [one for one in stop.open if one.left_by is not None and task_of(steps[one.left_by]) == task]
    others = len(stop.open) - len(mine)
    return StopRow(
        context.step_link(step.task, step.step),
        tuple(_names(context, proved, mine, stop.searched)),
        count(others, "other") if others else "",
        until_home(stop.seconds),
        until_home(stop.bare),
        stop.clean,
    )


def _names(context: PageContext, proved: SortieEvidence, row: Sequence[Open], searched: bool) -> Iterator[str]:
    """What is open by name, items of one equipment together; what no step closes says so."""
    nothing = "no way back is written" if searched else "not closed by what is shown"
    groups: dict[str, list[Open]] = {}
    for one in row:
        groups.setdefault(name_of(one), []).append(one)
    for name, ones in groups.items():
        items = items_words(proved, name, ones)
        stuck = nothing if any(one.closed_by is None for one in ones) else ""
        more = ", ".join(filter(None, [items, stuck]))
        yield f"{chip(context, name).words} ({more})" if more else chip(context, name).words
