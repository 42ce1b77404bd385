"""What must be there before a task begins: tasks, states, tools, places and people."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace

from briefgen.language.wording import count, steps_words
from briefgen.model.inheritance import needed_states
from briefgen.model.tasks import Prerequisite
from briefgen.model.work import Step, Task
from briefgen.pages.context import PageContext
from briefgen.pages.rows import Chip, Link, MarkChip
from briefgen.pages.things.ledger import chain, finds, spot_chip
from briefgen.proof.deciding.plans import cast
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


def preparation(context: PageContext, task: Task) -> Preparation:
    """What a task needs at its beginning."""
    outside = [step for step in task.steps if any(context.library.people[person].outside for person in step.who)]
    places = dict.fromkeys(str(step.at or task.place) for step in outside if step.at or task.place)
    anchors = dict.fromkeys(str(step.anchors) for step in task.steps if step.anchors)
    return Preparation(
        tuple(_before(context, task, need) for need in task.prerequisites),
        tuple(_whoever(context, task)),
        tuple(context.link("task", str(name)) for name in task.serves),
        clock_words(task.not_before) if task.not_before else "",
        tuple(_states(context, task)),
        tuple(_tools(context, task)),
        tuple(context.chip("place", place) for place in places),
        context.marks(dict.fromkeys(str(person) for step in task.steps for person in step.who)),
        tuple(context.chip("place", name) for name in anchors),
    )


def _whoever(context: PageContext, task: Task) -> Iterator[tuple[Link, str]]:
    """Who does a task that whoever is free may do, in each sortie that may take it up."""
    for proved in context.sorties if task.whoever else ():
        if str(task.id) in map(str, proved.sortie.get_aheads):
            found = next((one for one in proved.extras.fitting if one.task == str(task.id)), None)
            sortie = context.link("sortie", str(proved.sortie.id))
            if found is None:
                yield sortie, "it does not fit as planned"
                continue
            roles = cast(proved.library.tasks[str(task.id)], found.record)
            names = {role: context.mark(person).name for role, person in roles.items()}
            other = f", with {names['other']} as the other" if len(names) > 1 else ""
            yield sortie, f"today's plan says {next(iter(names.values()))}{other}"


def _states(context: PageContext, task: Task) -> Iterator[Chip]:
    """The states that a step requires and that no earlier step of the task has set."""
    known: set[str] = set()
    for step in task.steps:
        for name, state in needed_states(context.library, task, step).items():
            if name not in known:
                known.add(str(name))
                yield context.chip("equipment", str(name), str(state), "needs")
        known |= set(map(str, step.sets))


def _tools(context: PageContext, task: Task) -> Iterator[ToolLine]:
    steps: dict[str, list[Link]] = {}
    spent: dict[str, int] = {}
    for step in task.steps:
        for name in dict.fromkeys(map(str, (*(use.tool for use in step.uses), *step.picks, *step.spends, *step.hands))):
            link = Link(f"step {context.number(task, step)}", context.links.target("task", str(task.id), step.key))
            steps.setdefault(name, []).extend([] if step.origin.again else [link])
        for name, number in step.spends.items():
            spent[name] = spent.get(name, 0) + number * _times(context, step)
    for name, links in steps.items():
        record = context.library.thing(name)
        if record:
            amount = count(spent[name], "piece") if name in spent else ""
            yield ToolLine(context.thing(name, amount), _origin(context, task, name), tuple(links))


def _origin(context: PageContext, task: Task, name: str) -> tuple[Chip, ...]:
    """Where the task's first step that handles a thing finds it; for a task in nobody's flow, where it is stowed."""
    for proved in context.sorties_of(str(task.id)):
        found = finds(context, proved).get((str(task.id), name))
        if found:
            return tuple(spot_chip(context, spot) for spot in found)
    return tuple(spot_chip(context, spot) for spot in chain(first_spots(context.library), name))


def _times(context: PageContext, step: Step) -> int:
    return len(chosen_items(context.library.equipment[step.each.equipment], step)) if step.each else 1


def _before(context: PageContext, task: Task, need: Prerequisite) -> Link:
    """The task that must be done before, and before which steps, where it is not the whole task."""
    link = context.link("task", str(need.task))
    steps = [step for name in need.before for step in task.named(name)[:1]]
    if not steps:
        return link
    words = steps_words([context.number(task, step) for step in steps])
    return replace(link, words=f"{link.words} (before {words})")
