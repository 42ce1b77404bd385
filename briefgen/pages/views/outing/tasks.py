"""Tasks: the list, and a page for each with its steps."""

from __future__ import annotations

from collections.abc import Iterator
from math import floor

from briefgen.language.wording import count, hours, listing
from briefgen.model.work import Task
from briefgen.pages.context import PageContext
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
from briefgen.pages.things.figures import figures_on
from briefgen.pages.things.usedby import used_by
from briefgen.proof.evidence import SortieEvidence
from briefgen.tables.naming import gained
from briefgen.tables.naming import task as name_of
from briefgen.units import MINUTE, show_duration


def pages(context: PageContext) -> Iterator[Page]:
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
            "groups": tuple(_groups(context)),
        },
    )
    for number, task in enumerate(_in_order(context)):
        yield _page(context, task, number)


def _in_order(context: PageContext) -> list[Task]:
    """Tasks by sortie and beginning; those in nobody's flow last."""
    starts: dict[str, tuple[int, float]] = {}
    for number, proved in enumerate(context.sorties):
        for name, row in context.by_task(proved).items():
            starts.setdefault(name, (number, min(times.start for times in row)))
    last = (len(context.sorties), 0.0)
    return sorted(context.library.tasks.values(), key=lambda task: starts.get(str(task.id), last))


def _groups(context: PageContext) -> Iterator[Group]:
    tasks = _in_order(context)
    for proved in context.sorties:
        mine = [task for task in tasks if proved in context.sorties_of(str(task.id))]
        anchor = f"_{proved.sortie.id}"
        yield Group(
            context.label("sortie", str(proved.sortie.id)), anchor, tuple(_item(context, task) for task in mine)
        )
    rest = [task for task in tasks if not context.sorties_of(str(task.id))]
    if rest:
        yield Group("In nobody's flow", "_free", tuple(_item(context, task) for task in rest))


def _item(context: PageContext, task: Task) -> Item:
    people = dict.fromkeys(str(person) for step in task.steps for person in step.who)
    return Item(
        context.link("task", str(task.id)),
        str(task.purpose),
        icon="task",
        marks=context.marks(people),
        badges=context.unless_required(task),
        meta=(count(len(task.steps), "step"),),
    )


def _page(context: PageContext, task: Task, number: int) -> Page:
    identifier = str(task.id)
    title = context.label("task", identifier)
    told = sequence(context, task)
    figures = (*task.figures, *(ref for step in task.every_step for ref in step.figures))
    return Page(
        uri=context.links.record_uri("task", identifier),
        title=title,
        section="tasks",
        template="outing/task.html",
        icon="task",
        order=(1, number),
        about=context.texts.plain(task.purpose),
        rows={
            "title": title,
            "task": task,
            "identifier": identifier,
            "priority": context.unless_required(task),
            "sorties": tuple(
                context.link("sortie", str(proved.sortie.id)) for proved in context.sorties_of(identifier)
            ),
            "keys": tuple(_keys(context, task)),
            "before": preparation(context, task),
            "neighbours": tuple(neighbours(context, identifier)),
            "hazards": told.hazards,
            "steps": told,
            "total": sum(piece.step is not None for piece in told.pieces),
            "backs": tuple(back_rows(context, task)),
            "cases": tuple(case_rows(context, task)),
            "gone": gone_from(context, identifier),
            "stops": tuple(task_stops(context, identifier)),
            "figures": figures_on(context, figures),
            "outcomes": tuple(outcome_row(context, str(name)) for name in task.outcomes),
            "questions": tuple(question_row(context, name, f"_q-{name}") for name in questions_of(context, identifier)),
            "script": script_row(context, str(task.script)) if task.script else None,
            "uses": used_by(context, "task", identifier),
            "charts": tuple(context.plots.draw("steps", proved, identifier) for proved in _drawn(context, identifier)),
        },
    )


def _drawn(context: PageContext, task: str) -> tuple[SortieEvidence, ...]:
    """The sorties for which a task's diagram is drawn; a task in nobody's flow is drawn once, without times."""
    return (
        context.sorties_of(task)
        or tuple(
            proved for proved in context.sorties if task in proved.sortie.get_aheads or proved is context.sorties[-1]
        )[:1]
    )


def _keys(context: PageContext, task: Task) -> Iterator[Key]:
    identifier = str(task.id)
    sorties = context.sorties_of(identifier)
    for proved in sorties:
        mine = context.by_task(proved)[identifier]
        start, end = min(times.start for times in mine), max(times.end for times in mine)
        suffix = f", {context.label('sortie', str(proved.sortie.id))}" if len(sorties) > 1 else ""
        yield Key(f"Planned{suffix}", hours(end - start), "h")
        yield Key(f"Begins{suffix}", hours(start), "h elapsed")
        yield from _deciding(proved, identifier, suffix)
    if not sorties:
        yield Key("Work, without the ways", show_duration(likely_work(context, task)))


def _deciding(proved: SortieEvidence, task: str, suffix: str) -> Iterator[Key]:
    """By when the task must begin; what leaving it out gives back, and how likely it is reached."""
    latest = latest_of(proved, task).latest
    fits = latest >= 0
    by = hours(MINUTE * floor(latest / MINUTE)) if fits else "never in time"  # down, so that it is never too late
    yield Key(f"Begin no later than{suffix}", by, "h elapsed" if fits else "")
    drop, reached = drop_of(proved, task), proved.chance.tasks[task].reached
    if drop:
        yield Key(
            f"Leaving it out{suffix}",
            f"ends {gained(drop.gives_back)}" + (" earlier" if drop.gives_back >= 0.5 else ""),
            f"with {listing([name_of(proved.library, one) for one in drop.takes_along])}" if drop.takes_along else "",
        )
    if reached:
        yield Key(f"Reached{suffix}", reached.words)
