"""Which control must hold while a step is done that carries a hazard."""

from __future__ import annotations

from collections.abc import Iterator

from briefgen.model.inheritance import needed_states
from briefgen.model.library import Library
from briefgen.practice.question import Choose, Exercise, QuestionKind
from briefgen.practice.words import deed, look_at, state_words
from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.naming import people_called
from briefgen.proof.plan import PlannedStep


def make(proved: SortieEvidence) -> Iterator[Exercise]:
    """One for each control of each hazard, once for a task and the people who meet it there."""
    asked: set[tuple[str, str, tuple[str, ...], str]] = set()
    for step in proved.plan.steps:
        for carried in step.hazards:
            for control, state in proved.library.hazards[carried.hazard].controls.items():
                key = (str(carried.hazard), str(step.task.id), step.people, str(control))
                if key not in asked and control in proved.library.equipment:
                    asked.add(key)
                    yield _question(proved.library, step, str(carried.hazard), (str(control), str(state)))


def _question(library: Library, step: PlannedStep, hazard: str, right: tuple[str, str]) -> Exercise:
    record = library.hazards[hazard]
    who = people_called(library, step.people)
    return Exercise(
        id=f"controls:{step.key}:{hazard}:{right[0]}",
        kind=KIND.name,
        asks=f"{str(record.hazard).rstrip('.')}. What must hold while {who} does this: {deed(step)}?",
        answer=Choose((state_words(library, *right),), tuple(_others(library, step))),
        because=f"{record.consequence} {record.avoid}",
        look=look_at(step),
        people=step.people,
        outcomes=tuple(map(str, step.task.outcomes)),
    )


def _others(library: Library, step: PlannedStep) -> Iterator[str]:
    """States of controls that this step asks nothing of, and the states that what it asks for must not be in."""
    needed = needed_states(library, step.task, step.step).items() | {
        (str(name), str(state)) for one in step.hazards for name, state in library.hazards[one.hazard].controls.items()
    }
    controls = {str(name) for hazard in library.hazards.values() for name in hazard.controls}
    controls |= {name for name, equipment in library.equipment.items() if equipment.control}
    for name in sorted(controls & library.equipment.keys()):
        for state in library.equipment[name].states:
            if (name, str(state)) not in needed:
                yield state_words(library, name, str(state))


KIND = QuestionKind("controls", "What keeps the hazard controlled", make)
