"""Cue cards: one person's steps of one sortie as they stand on a card, and the sums at its head."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from briefgen.language.wording import hours, span
from briefgen.model.work import Task
from briefgen.pages.carrying.asides import backs, cases_beside, planned_cases
from briefgen.pages.carrying.clock import clock_time, starts
from briefgen.pages.carrying.folded import OwnStep, folded
from briefgen.pages.carrying.rows import CardPiece, planned_row, unplanned_row
from briefgen.pages.context import PageContext
from briefgen.pages.doing.flows import flow
from briefgen.pages.planning import margins
from briefgen.pages.planning.deciding import latest_of
from briefgen.pages.rows import Badge, Link, MarkChip
from briefgen.proof.deciding.plans import cast, versions
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.naming import by_minute
from briefgen.units import show_duration

_ROLES = {"one": "One of you", "other": "The other"}
"""Who does a step of a task that whoever is free may do."""


@dataclass(frozen=True)
class CardTask:
    """Steps in a row that belong to one task; `extra` for a task that is done only if time is left.

    `latest` is the moment by which the person must begin their part of it; it and the ways `back` stand where the task
    is first taken up. `clock` is the time of day at which the first of the steps begins.
    """

    task: Link
    priority: Badge
    optional: bool
    extra: bool
    latest: str
    clock: str
    pieces: tuple[CardPiece, ...]
    back: tuple[CardPiece, ...]


@dataclass(frozen=True)
class Card:
    """What one person takes along; `lines` are the sums at its head."""

    anchor: str
    mark: MarkChip
    lines: tuple[tuple[str, str], ...]
    tasks: tuple[CardTask, ...]


def card(context: PageContext, proved: SortieEvidence, person: str) -> Card:
    """A person's card for a sortie."""
    return context.once(("card", proved, person), lambda: _card(context, proved, person))


def _card(context: PageContext, proved: SortieEvidence, person: str) -> Card:
    """A person's card: the sums, the steps of their flow in order, then those that are done if time is left."""
    return Card(
        f"card-{person}",
        context.mark(person),
        tuple(_lines(context, proved, person)),
        (*_called(context, proved, person), *_tasks(context, proved, person), *_extras(context, proved, person)),
    )


def sums(proved: SortieEvidence) -> Iterator[tuple[str, str]]:
    """What holds for everybody: when the sortie starts, and how long it is planned and allowed."""
    limits = proved.sortie.limits
    begin = starts(proved)
    if begin:
        yield "Starts", f"{begin:%Y-%m-%d %H:%M} UTC"
    yield "Planned", f"{hours(proved.timeline.finish)} h"
    yield "Limit", show_duration(limits.length.likely)
    if limits.reserve:
        yield "Reserve in it", show_duration(limits.reserve.likely)


def nights(proved: SortieEvidence) -> Iterator[tuple[str, str]]:
    """When it is night, in elapsed time."""
    if proved.light.nights:
        yield "Night", "; ".join(span(dusk, dawn) for dusk, dawn in proved.light.nights)


def _lines(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[tuple[str, str]]:
    yield from sums(proved)
    if context.library.people[person].outside:
        yield from margins.of_person(proved, person)
        yield from nights(proved)


def _called(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[CardTask]:
    """The cases of somebody who has no step but there."""
    rows = tuple(CardPiece(case=one) for one in planned_cases(context, proved, person).get(-1, ()))
    if rows:
        yield CardTask(Link("Only if called"), Badge(""), False, False, "", "", rows, ())


def _tasks(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[CardTask]:
    planned, begun = (times.step for times in proved.timeline.of(person)), set[str]()
    cases = planned_cases(context, proved, person)
    for stretch in flow(context, proved, person):
        # The stretches together are the flow, step by step.
        own = [(next(planned), row) for row in stretch.steps]
        task = own[0][0].task
        steps = [
            OwnStep(step.step, planned_row(context, proved, person, step, row), cases.get(step.index, ()), step)
            for step, row in own
        ]
        back = () if task.id in begun else backs(context, task, person)
        moment = dict(latest_of(proved, str(task.id)).parts)[person]
        latest = "" if task.id in begun or moment < 0 else by_minute(moment)
        begun.add(str(task.id))
        clock = clock_time(proved, proved.timeline.times[own[0][0].index].start)
        badge = context.priority(task)
        rows = folded(context, proved, person, task, steps)
        yield CardTask(stretch.task, badge, task.optional, False, latest, clock, rows, back)


def _extras(context: PageContext, proved: SortieEvidence, person: str) -> Iterator[CardTask]:
    """The person's steps of tasks in nobody's flow: described, with no place in time."""
    for name in map(str, proved.sortie.get_aheads):
        task = context.library.tasks[name]
        steps = list(
            _free(context, proved, person, proved.library.tasks[name]) if task.whoever else _own(context, task, person)
        )
        if steps:
            rows = folded(context, proved, person, task, steps)
            yield CardTask(context.link("task", name), context.priority(task), task.optional, True, "", "", rows, ())


def _own(context: PageContext, task: Task, person: str) -> Iterator[OwnStep]:
    for step in task.steps:
        if person in step.who:
            row, cases = unplanned_row(context, task, step, person), cases_beside(context, task, step, person)
            yield OwnStep(step, row, cases)


def _free(context: PageContext, proved: SortieEvidence, person: str, task: Task) -> Iterator[OwnStep]:
    """All that the person does as whichever of those who may be free; where there are two roles, each says its own."""
    mine: dict[str, tuple[str, OwnStep]] = {}
    for version in versions(task, proved.plan.outside):
        role = next((role for role, who in cast(task, version).items() if who == person), "")
        for one in _own(context, version, person):
            mine.setdefault(one.step.key, (role, one))
    told = {role for role, _ in mine.values()}
    for key in (step.key for step in task.steps if step.key in mine):
        role, one = mine[key]
        badges = (Badge(_ROLES[role], "person", role),) if len(told) > 1 and role in _ROLES else ()
        details = replace(one.row.details, badges=(*badges, *one.row.details.badges))
        yield replace(one, row=replace(one.row, details=details))
