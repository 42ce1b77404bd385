"""Everybody's flow holds all of their steps, each once, and only their own."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.findings import Level, Related
from briefgen.model.library import Library
from briefgen.model.work import Sortie, Step, Task
from briefgen.proof.evidence import Evidence
from briefgen.proof.ordering.loose import loose_people
from briefgen.proof.plan import flow_keys, step_keys
from briefgen.rules.registry import Needs, Trouble, rule
from briefgen.rules.shared.lines import list_line

_TASK = """
tasks:
  look:
    title: Look
    purpose: To know.
    place: lock
    steps:
      - {id: see, who: ev1, do: Look at it., takes: 2 min}
      - {id: say, who: ground, do: Say what it means., takes: 2 min, after: [look/see]}
"""


def _flown_tasks(library: Library, sortie: Sortie) -> dict[str, Task]:
    """The tasks that any flow of a sortie names, wholly or in part."""
    names = (ref.task for refs in sortie.flow.values() for ref in refs)
    return {name: library.tasks[name] for name in names if name in library.tasks}


@rule(
    "step-not-in-flow", Level.ERROR, Needs.RECORDS,
    wrong=_TASK.replace("who: ground", "who: ▸ev2")
    + "sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}}}",
    right=_TASK.replace("who: ground", "who: ev2")
    + "sorties: {s: {title: S, flow: {ev1: [look], ev2: [look]}, limits: {length: 1 h}}}",
)  # fmt: skip
def step_not_in_flow(evidence: Evidence) -> Iterator[Trouble]:
    """Everybody outside who has a step in a task that is flown has that step in their own flow.

    Else the step has no place in that person's order, and everybody assumes that somebody does it. Of people inside and
    on the ground the whole flow may be left out; one that is written holds all of their steps, too.
    """
    library = evidence.library
    for sortie in library.ordered_sorties:
        flows = {str(person): set(flow_keys(library, sortie, person)) for person in sortie.flow}
        unsure = _unsure(library, sortie) | set(loose_people(library, sortie))
        for task in _flown_tasks(library, sortie).values():
            for step in task.steps:
                yield from _missing(library, sortie, task, step, flows, unsure)


def _unsure(library: Library, sortie: Sortie) -> set[str]:
    """Whose flow can't be told, because a name in it leads nowhere: that is a finding of its own, and enough."""
    strangers = any(name not in library.people for name in sortie.flow)
    named = {str(name) for name in sortie.flow}
    unsure = {str(name) for name in library.people if strangers and name not in named}
    for name, refs in sortie.flow.items():
        tasks = ((library.tasks.get(ref.task), ref.step) for ref in refs)
        if any(task is None or (step and not task.named(step)) for task, step in tasks):
            unsure.add(str(name))
    return unsure


def _missing(
    library: Library, sortie: Sortie, task: Task, step: Step, flows: dict[str, set[str]], unsure: set[str]
) -> Iterator[Trouble]:
    for person in (name for name in step.who if name not in unsure):
        record = library.people.get(person)
        if record and f"{task.id}/{step.key}" not in flows.get(str(person), ()):
            yield Trouble(
                person.position,
                f"{record.label_text} does step “{step.key}” of “{task.title}”, but it is not in {record.label_text}'s "
                f"flow of “{sortie.title}”.",
                (Related(sortie.spot("flow"), f"the flows of “{sortie.title}”"),),
                list_line(person, _entries(sortie, person), f"{task.id}/{step.key}"),
                sortie.spot("flow"),
            )


def _entries(sortie: Sortie, person: str) -> list[str]:
    return next(([str(ref) for ref in refs] for name, refs in sortie.flow.items() if name == person), [])


@rule(
    "step-twice", Level.ERROR, Needs.RECORDS,
    wrong=_TASK + "sorties: {s: {title: S, flow: {ev1: [look, ▸look], ground: [look]}, limits: {length: 1 h}}}",
    right=_TASK + "sorties: {s: {title: S, flow: {ev1: [look], ground: [look]}, limits: {length: 1 h}}}",
)  # fmt: skip
def step_twice(evidence: Evidence) -> Iterator[Trouble]:
    """A flow names each step once.

    A step that is done twice is two steps: write it twice, so that each can be waited for.
    """
    library = evidence.library
    for sortie in library.ordered_sorties:
        for refs in sortie.flow.values():
            seen: set[str] = set()
            for ref in refs:
                # A whole task stands for what the flow does not name singly, so the two don't clash.
                names = step_keys(library, ref.task, ref.step) if ref.step else []
                if seen.intersection(names or [str(ref)]):
                    yield Trouble(ref.position, f"“{ref}” stands in this flow for the second time. Take one out.")
                seen.update(names or [str(ref)])


_GET_AHEAD = """
tasks:
  look: {title: Look, purpose: To know., place: lock, steps: [{who: ev1, do: Look at it., takes: 2 min}]}
  wipe: {title: Wipe, purpose: To see., place: k2, priority: get-ahead, steps: [{who: ev1, do: Wipe it., takes: 1 min}]}
"""


@rule(
    "get-ahead-otherwise", Level.WARNING, Needs.RECORDS,
    wrong=_GET_AHEAD
    + "sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, get_aheads: [▸look, wipe]}}",
    right=_GET_AHEAD + "sorties: {s: {title: S, flow: {ev1: [look]}, limits: {length: 1 h}, get_aheads: [wipe]}}",
)  # fmt: skip
def get_ahead_otherwise(evidence: Evidence) -> Iterator[Trouble]:
    """A get-ahead is in nobody's flow of that sortie, and is not required.

    It is done if time is left, so the plan does not count on it. What must be done belongs into a flow.
    """
    library = evidence.library
    for sortie in library.sorties.values():
        flown = _flown_tasks(library, sortie)
        for ref in sortie.get_aheads:
            task = library.tasks.get(ref)
            if task and ref in flown:
                yield Trouble(
                    ref.position,
                    f"“{task.title}” is a get-ahead of “{sortie.title}” and in a flow of it, too. Take one out.",
                )
            elif task and not task.optional and not task.serves:
                yield Trouble(
                    ref.position,
                    f"“{task.title}” is required, but only a get-ahead of “{sortie.title}”: nothing makes sure that it "
                    "is done. Put it into a flow, or write that it is a get-ahead.",
                    (Related(task.id.position, f"“{task.title}”"),),
                    "priority: get-ahead", task.spot("priority"),
                )  # fmt: skip


@rule(
    "not-their-step", Level.ERROR, Needs.RECORDS,
    wrong=_TASK + "sorties: {s: {title: S, flow: {ev1: [look], ev2: [▸look], ground: [look]}, limits: {length: 1 h}}}",
    right=_TASK + "sorties: {s: {title: S, flow: {ev1: [look], ground: [look]}, limits: {length: 1 h}}}",
)  # fmt: skip
def not_their_step(evidence: Evidence) -> Iterator[Trouble]:
    """A flow names only tasks and steps in which that person has something to do.

    Else the person waits for a task that never mentions them.
    """
    library = evidence.library
    for sortie in library.ordered_sorties:
        for person, refs in sortie.flow.items():
            record = library.people.get(person)
            for ref in refs:
                task = library.tasks.get(ref.task)
                known = (task.named(ref.step) if ref.step else task.steps) if task else ()
                # A misspelt name in one of the steps may be meant for this person.
                misspelt = any(name not in library.people for step in known for name in step.who)
                if record and known and not misspelt and not any(person in step.who for step in known):
                    yield Trouble(
                        ref.position, f"{record.label_text} has nothing to do in “{ref}”: name {record.label_text} in "
                        "“who” of a step, or take this out of the flow.",
                    )  # fmt: skip


@rule(
    "empty-flow", Level.WARNING, Needs.RECORDS,
    wrong=_TASK + "sorties: {s: {title: S, flow: {ev1: [look], ground: [look], ▸ev2: []}, limits: {length: 1 h}}}",
    right=_TASK + "sorties: {s: {title: S, flow: {ev1: [look], ground: [look]}, limits: {length: 1 h}}}",
)  # fmt: skip
def empty_flow(evidence: Evidence) -> Iterator[Trouble]:
    """Every sortie has something to do, and so has everybody who is in its flow.

    A flow without tasks is mostly one that was never filled in; nothing of it can be proved or briefed.
    """
    for sortie in evidence.library.ordered_sorties:
        if not sortie.flow:
            yield Trouble(sortie.spot("flow"), f"Nobody does anything in “{sortie.title}”: its flow is empty.")
        for person, refs in sortie.flow.items():
            if not refs:
                record = evidence.library.people.get(person)
                name = record.label_text if record else person
                yield Trouble(
                    person.position, f"The flow of {name} in “{sortie.title}” is empty: name a task, or take it out."
                )
