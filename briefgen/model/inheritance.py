"""The hazards of a step: those that it names, and those of where it is done and of what it is done with.

A place's hazards belong to every step that somebody outside does there, or that brings them there; an equipment's to
every step of somebody outside that sets it; a tool's to every step that has it in use.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from briefgen.model.library import Library
from briefgen.model.steps import Step
from briefgen.model.tasks import Task, WrittenTask
from briefgen.source import Ref, Text


@dataclass(frozen=True)
class Carried:
    """A hazard of a step. `through` is the word by which it comes: in the step or its task, with its place.

    `kind` and `source` are the record from which it is inherited; both are empty where the step itself names it.
    """

    hazard: Ref
    through: Text
    kind: str = ""
    source: str = ""

    @property
    def inherited(self) -> bool:
        """Whether the step has it from elsewhere."""
        return bool(self.kind)


def hazards_of(library: Library, task: Task | WrittenTask, step: Step) -> tuple[Carried, ...]:
    """Every hazard of a step once: its own as written, then those that it inherits."""
    found: dict[str, Carried] = {}
    for one in (*(Carried(ref, ref) for ref in step.hazards), *inherited(library, task, step)):
        if one.hazard in library.hazards:
            found.setdefault(str(one.hazard), one)
    return tuple(found.values())


def inherited(library: Library, task: Task | WrittenTask, step: Step) -> Iterator[Carried]:
    """What a step has from its place, from the equipment that it sets, and from the tools in use."""
    outside = any(name in library.people and library.people[name].outside for name in step.who)
    if outside:
        for place in (step.at or task.place, step.to):
            record = library.places.get(place) if place else None
            if place and record:
                yield from (Carried(ref, place, "place", str(place)) for ref in record.hazards)
        for name in step.sets:
            equipment = library.equipment.get(name)
            if equipment:
                yield from (Carried(ref, name, "equipment", str(name)) for ref in equipment.hazards)
    for use in step.uses:
        tool = library.tools.get(use.tool)
        if tool:
            yield from (Carried(ref, use.tool, "tool", str(use.tool)) for ref in tool.hazards)


def hazard_names(library: Library, task: Task | WrittenTask, step: Step) -> tuple[str, ...]:
    """The hazards of a step, own and inherited, by id."""
    return tuple(str(one.hazard) for one in hazards_of(library, task, step))


def needed_states(library: Library, task: Task | WrittenTask, step: Step) -> dict[str, str]:
    """The states that must hold throughout a step: those that it requires, and those that its hazards ask for."""
    asked = {str(name): str(state) for name, state, _ in asked_states(library, step, hazards_of(library, task, step))}
    return {str(name): str(state) for name, state in step.requires.items()} | asked


def asked_states(library: Library, step: Step, carried: Iterable[Carried]) -> Iterator[tuple[Ref, Text, Carried]]:
    """The states of controls that inherited hazards ask for: an equipment, its state, and the hazard.

    Left out is what the step requires itself, and what it brings about: who switches a control can't wait for it.
    """
    for one in carried:
        if one.inherited:
            for name, state in library.hazards[one.hazard].controls.items():
                if name not in step.requires and name not in step.sets:
                    yield name, state, one
