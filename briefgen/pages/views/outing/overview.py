"""The first page: what this is for, who goes, the main numbers, and the ways in."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.language.wording import hours, stretch
from briefgen.model.work import Sortie
from briefgen.pages.context import PageContext, task_of
from briefgen.pages.publishing.page import Page
from briefgen.pages.rows import Badge, Key, Link, MarkChip
from briefgen.pages.studying.glance import Glance, glance_of
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.schedule.clock import start_of


@dataclass(frozen=True)
class TaskLine:
    """A task of a sortie: when, who, whether it can be dropped."""

    link: Link
    clock: str
    marks: tuple[MarkChip, ...]
    priority: Badge
    optional: bool
    steps: int
    keep: str
    letter: str


@dataclass(frozen=True)
class SortieCard:
    """A sortie at a glance."""

    link: Link
    timeline: Link
    anchor: str
    keys: tuple[Key, ...]
    tasks: tuple[TaskLine, ...]
    get_aheads: tuple[Link, ...]
    starts: str
    revision: str
    glance: Glance


@dataclass(frozen=True)
class Tile:
    """A big entrance."""

    link: Link
    icon: str
    note: str


def pages(context: PageContext) -> Iterator[Page]:
    """The overview."""
    programme = context.library.programme
    title = context.texts.plain(programme.title) if programme else "Briefing"
    yield Page(
        uri="index",
        title="Overview",
        section="overview",
        template="outing/overview.html",
        icon="home",
        order=(0,),
        rows={
            "title": title,
            "lead": str(programme.note or "") if programme else "",
            "keys": _keys(context),
            "crew": context.marks(context.library.people),
            "people": [_person(context, person) for person in context.library.people],
            "sorties": [sortie_card(context, proved) for proved in context.sorties],
            "tiles": _tiles(context),
        },
    )


def _keys(context: PageContext) -> tuple[Key, ...]:
    library = context.library
    steps = sum(len(task.steps) for task in library.tasks.values())
    outside = sum(proved.timeline.finish for proved in context.sorties)
    return (
        Key("Sorties", str(len(context.sorties)), "planned"),
        Key("Time outside", hours(outside), "h"),
        Key("Tasks", str(len(library.tasks)), "tasks"),
        Key("Steps", str(steps), "steps"),
    )


def _person(context: PageContext, person: str) -> tuple[MarkChip, str]:
    record = context.library.people[person]
    return context.mark(person), str(record.note or record.name or "")


def sortie_card(context: PageContext, proved: SortieEvidence) -> SortieCard:
    """A sortie with its main numbers and its tasks in the order in which they begin."""
    sortie = proved.sortie
    identifier = str(sortie.id)
    return SortieCard(
        context.link("sortie", identifier),
        Link("Timeline", context.links.target("timeline", identifier)),
        f"_{identifier}",
        sortie_keys(proved),
        task_lines(context, proved),
        tuple(context.link("task", str(name)) for name in sortie.get_aheads),
        starts(sortie),
        str(sortie.revision or ""),
        glance_of(context, proved),
    )


def starts(sortie: Sortie) -> str:
    """When a sortie starts: `2042-05-11 07:30 UTC`, or nothing."""
    moment = start_of(sortie)
    return f"{moment:%Y-%m-%d %H:%M} UTC" if moment else ""


def sortie_keys(proved: SortieEvidence) -> tuple[Key, ...]:
    """Planned length, limit, reserve, and what is left."""
    limits, timeline = proved.sortie.limits, proved.timeline
    reserve = [Key("Reserve", hours(limits.reserve.likely), "h")] if limits.reserve else []
    return (
        Key("Planned", hours(timeline.finish), "h"),
        Key("Limit", hours(limits.length.likely), "h"),
        *reserve,
        Key("Margin", hours(timeline.margin), "h"),
        Key("Steps", str(len(proved.plan.steps)), "steps"),
    )


def task_lines(context: PageContext, proved: SortieEvidence) -> tuple[TaskLine, ...]:
    """The tasks of a sortie by their letters, which follow when somebody first sets out for each."""
    spans: dict[str, tuple[float, float]] = {}
    for times in proved.timeline.times:
        name = task_of(times.step)
        start, end = spans.get(name, (times.start, times.end))
        spans[name] = (min(start, times.start), max(end, times.end))
    letters = glance_of(context, proved).letters
    names = sorted(spans, key=lambda name: (len(letters.get(name, "")), letters.get(name, ""), spans[name], name))
    return tuple(_line(context, proved, name, *spans[name]) for name in names)


def _line(context: PageContext, proved: SortieEvidence, name: str, start: float, end: float) -> TaskLine:
    task = context.library.tasks[name]
    acting = {person for times in context.by_task(proved)[name] for person in times.step.people}
    people = [person for person in proved.plan.flows if person in acting]
    return TaskLine(
        context.link("task", name), stretch(start, end), context.marks(people), context.priority(task), task.optional,
        len(task.steps), f"task:{name}", glance_of(context, proved).letters.get(name, ""),
    )  # fmt: skip


def _tiles(context: PageContext) -> tuple[Tile, ...]:
    page = context.links.page
    return (
        Tile(Link("Tasks", page("tasks/index")), "task", "Every step with all that it needs."),
        Tile(Link("People", page("people/index")), "person", "Each person's own way through the day."),
        Tile(Link("Tools and bags", page("tools/index")), "tool", "What is carried, and where it begins."),
        Tile(Link("Places", page("places/index")), "place", "The worksites and the ways between them."),
        Tile(Link("Hazards", page("hazards/index")), "hazard", "What can hurt, and how to stay clear of it."),
        Tile(Link("Learning", page("outcomes")), "outcome", "What you can do afterwards, and the checks."),
    )
