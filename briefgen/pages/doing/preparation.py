"""What must be there before a task begins: tasks, states, tools, places and people."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from briefgen.language.wording import count, listing, steps_words
from briefgen.model.inheritance import needed_states
from briefgen.model.tasks import Prerequisite
from briefgen.model.work import Step, Task
from briefgen.pages.desk import Desk
from briefgen.pages.rows import Chip, Link, MarkChip
from briefgen.pages.things.ledger import chain, finds, spot_chip
from briefgen.proof.holding.custody import first_spots
from briefgen.proof.plan import chosen_items
from briefgen.proof.schedule.gates import clock_words


@dataclass(frozen=True)
class ToolLine:
    """A tool or bag that the task needs, where it is then (the nearest spot first), and in which steps."""

    chip: Chip
    origin: tuple[Chip, ...]
    steps: tuple[Link, ...]


@dataclass(frozen=True)
class Preparation:
    """Everything to have ready."""

    prerequisites: tuple[Link, ...]
    whoever: tuple[tuple[Link, str], ...]
    serves: tuple[Link, ...]
    clock: str
    states: tuple[Chip, ...]
    tools: tuple[ToolLine, ...]
    places: tuple[Chip, ...]
    people: tuple[MarkChip, ...]
    anchors: tuple[Chip, ...]


def preparation(desk: Desk, task: Task) -> Preparation:
    """What a task needs at its beginning."""
    outside = [step for step in task.steps if any(desk.library.people[person].outside for person in step.who)]
    places = dict.fromkeys(str(step.at or task.place) for step in outside if step.at or task.place)
    anchors = dict.fromkeys(str(step.anchors) for step in task.steps if step.anchors)
    return Preparation(
        tuple(_before(desk, task, need) for need in task.prerequisites),
        tuple(_whoever(desk, task)),
        tuple(desk.link("task", str(name)) for name in task.serves),
        clock_words(task.not_before) if task.not_before else "",
        tuple(_states(desk, task)),
        tuple(_tools(desk, task)),
        tuple(desk.chip("place", place) for place in places),
        desk.marks(dict.fromkeys(str(person) for step in task.steps for person in step.who)),
        tuple(desk.chip("place", name) for name in anchors),
    )


def _whoever(desk: Desk, task: Task) -> Iterator[tuple[Link, str]]:
    """Who does a task that whoever is free may do, in each sortie that may take it up."""
    for case in desk.cases if task.whoever else ():
        if str(task.id) in map(str, case.sortie.get_aheads):
            found = next((one for one in case.extras.fitting if one.task == str(task.id)), None)
            sortie = desk.link("sortie", str(case.sortie.id))
            if found is None:
                yield sortie, "it does not fit as planned"
                continue
            names = [desk.mark(one.person).name for one in found.between if case.library.people[one.person].outside]
            yield sortie, f"today's plan says {listing(names)}"


def _states(desk: Desk, task: Task) -> Iterator[Chip]:
    """The states that a step requires and that no earlier step of the task has set."""
    known: set[str] = set()
    for step in task.steps:
        for name, state in needed_states(desk.library, task, step).items():
            if name not in known:
                known.add(str(name))
                yield desk.chip("equipment", str(name), str(state), "needs")
        known |= set(map(str, step.sets))


def _tools(desk: Desk, task: Task) -> Iterator[ToolLine]:
    steps: dict[str, list[Link]] = {}
    spent: dict[str, int] = {}
    for step in task.steps:
        for name in dict.fromkeys(map(str, (*(use.tool for use in step.uses), *step.picks, *step.spends, *step.hands))):
            link = Link(f"step {desk.number(task, step)}", desk.links.target("task", str(task.id), step.key))
            steps.setdefault(name, []).append(link)
        for name, number in step.spends.items():
            spent[name] = spent.get(name, 0) + number * _times(desk, step)
    for name, links in steps.items():
        record = desk.library.thing(name)
        if record:
            amount = count(spent[name], "piece") if name in spent else ""
            yield ToolLine(desk.thing(name, amount), _origin(desk, task, name), tuple(links))


def _origin(desk: Desk, task: Task, name: str) -> tuple[Chip, ...]:
    """Where the task's first step that handles a thing finds it; for a task in nobody's flow, where it is stowed."""
    for case in desk.cases_of(str(task.id)):
        found = finds(desk, case).get((str(task.id), name))
        if found:
            return tuple(spot_chip(desk, spot) for spot in found)
    return tuple(spot_chip(desk, spot) for spot in chain(first_spots(desk.library), name))


def _times(desk: Desk, step: Step) -> int:
    return len(chosen_items(desk.library.equipment[step.each.equipment], step)) if step.each else 1


def _before(desk: Desk, task: Task, need: Prerequisite) -> Link:
    """The task that must be done before, and before which steps, where it is not the whole task."""
    link = desk.link("task", str(need.task))
    steps = [step for name in need.before for step in task.named(name)[:1]]
    if not steps:
        return link
    words = steps_words([desk.number(task, step) for step in steps])
    return replace(link, words=f"{link.words} (before {words})")
