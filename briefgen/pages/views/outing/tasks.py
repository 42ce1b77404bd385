"""Tasks: the list, and a page for each with its steps."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from briefgen.language.wording import count, hours, listing
from briefgen.model.work import Task
from briefgen.pages.desk import Desk
from briefgen.pages.doing.backs import back_rows
from briefgen.pages.doing.cases import case_rows
from briefgen.pages.doing.flows import neighbours
from briefgen.pages.doing.preparation import preparation
from briefgen.pages.doing.sequence import sequence
from briefgen.pages.planning.deciding import drop_of, latest_of
from briefgen.pages.planning.estimates import likely_work
from briefgen.pages.planning.revisions import gone_from
from briefgen.pages.planning.stopping_tasks import task_stops
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Group, Item, Key
from briefgen.pages.studying.learning import outcome_row, question_row, questions_of, script_row
from briefgen.pages.things.sights import figures_on
from briefgen.pages.things.usedby import used_by
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.naming import gained
from briefgen.tables.naming import task as name_of
from briefgen.units import MINUTE, show_duration


def pages(desk: Desk) -> Iterator[Page]:
    """The list of tasks, then each task."""
    yield Page(
        uri="tasks/index",
        title="Tasks",
        section="tasks",
        template="index.html",
        icon="task",
        order=(0,),
        rows={
            "title": "Tasks",
            "icon": "task",
            "lead": "What is done outside, by sortie; what may be done if time is left comes last.",
            "groups": tuple(_groups(desk)),
        },
    )
    for number, task in enumerate(_in_order(desk)):
        yield _page(desk, task, number)


def _in_order(desk: Desk) -> list[Task]:
    """Tasks by sortie and beginning; those in nobody's flow last."""
    starts: dict[str, tuple[int, float]] = {}
    for number, case in enumerate(desk.cases):
        for name, row in desk.by_task(case).items():
            starts.setdefault(name, (number, min(times.start for times in row)))
    last = (len(desk.cases), 0.0)
    return sorted(desk.library.tasks.values(), key=lambda task: starts.get(str(task.id), last))


def _groups(desk: Desk) -> Iterator[Group]:
    tasks = _in_order(desk)
    for case in desk.cases:
        mine = [task for task in tasks if case in desk.cases_of(str(task.id))]
        anchor = f"_{case.sortie.id}"
        yield Group(desk.label("sortie", str(case.sortie.id)), anchor, tuple(_item(desk, task) for task in mine))
    rest = [task for task in tasks if not desk.cases_of(str(task.id))]
    if rest:
        yield Group("In nobody's flow", "_free", tuple(_item(desk, task) for task in rest))


def _item(desk: Desk, task: Task) -> Item:
    people = dict.fromkeys(str(person) for step in task.steps for person in step.who)
    return Item(
        desk.link("task", str(task.id)),
        str(task.purpose),
        icon="task",
        marks=desk.marks(people),
        badges=desk.unless_required(task),
        meta=(count(len(task.steps), "step"),),
    )


def _page(desk: Desk, task: Task, number: int) -> Page:
    identifier = str(task.id)
    title = desk.label("task", identifier)
    told = sequence(desk, task)
    figures = (*task.figures, *(ref for step in task.every_step for ref in step.figures))
    return Page(
        uri=desk.links.record_uri("task", identifier),
        title=title,
        section="tasks",
        template="outing/task.html",
        icon="task",
        order=(1, number),
        about=desk.texts.plain(task.purpose),
        rows={
            "title": title,
            "task": task,
            "identifier": identifier,
            "priority": desk.unless_required(task),
            "sorties": tuple(desk.link("sortie", str(case.sortie.id)) for case in desk.cases_of(identifier)),
            "keys": tuple(_keys(desk, task)),
            "before": preparation(desk, task),
            "neighbours": tuple(neighbours(desk, identifier)),
            "hazards": told.hazards,
            "steps": told,
            "total": sum(piece.step is not None for piece in told.pieces),
            "backs": tuple(back_rows(desk, task)),
            "cases": tuple(case_rows(desk, task)),
            "gone": gone_from(desk, identifier),
            "stops": tuple(task_stops(desk, identifier)),
            "figures": figures_on(desk, figures),
            "outcomes": tuple(outcome_row(desk, str(name)) for name in task.outcomes),
            "questions": tuple(question_row(desk, name, f"_q-{name}") for name in questions_of(desk, identifier)),
            "script": script_row(desk, str(task.script)) if task.script else None,
            "uses": used_by(desk, "task", identifier),
            "charts": tuple(desk.plots.draw("steps", case, identifier) for case in _drawn(desk, identifier)),
        },
    )


def _drawn(desk: Desk, task: str) -> tuple[SortieEvidence, ...]:
    """The sorties for which a task's diagram is drawn; a task in nobody's flow is drawn once, without times."""
    return (
        desk.cases_of(task)
        or tuple(case for case in desk.cases if task in case.sortie.get_aheads or case is desk.cases[-1])[:1]
    )


def _keys(desk: Desk, task: Task) -> Iterator[Key]:
    identifier = str(task.id)
    cases = desk.cases_of(identifier)
    for case in cases:
        mine = desk.by_task(case)[identifier]
        start, end = min(times.start for times in mine), max(times.end for times in mine)
        suffix = f", {desk.label('sortie', str(case.sortie.id))}" if len(cases) > 1 else ""
        yield Key(f"Planned{suffix}", hours(end - start), "h")
        yield Key(f"Begins{suffix}", hours(start), "h elapsed")
        yield from _deciding(case, identifier, suffix)
    if not cases:
        yield Key("Work, without the ways", show_duration(likely_work(desk, task)))


def _deciding(case: SortieEvidence, task: str, suffix: str) -> Iterator[Key]:
    """By when the task must begin; what leaving it out gives back, and how likely it is reached."""
    latest = latest_of(case, task).latest
    fits = latest >= 0
    by = hours(MINUTE * floor(latest / MINUTE)) if fits else "never in time"  # down, so that it is never too late
    yield Key(f"Begin no later than{suffix}", by, "h elapsed" if fits else "")
    drop, reached = drop_of(case, task), case.chance.tasks[task].reached
    if drop:
        yield Key(
            f"Leaving it out{suffix}",
            f"ends {gained(drop.gives_back)}" + (" earlier" if drop.gives_back >= 0.5 else ""),
            f"with {listing([name_of(case.library, one) for one in drop.takes_along])}" if drop.takes_along else "",
        )
    if reached:
        yield Key(f"Reached{suffix}", reached.words)
