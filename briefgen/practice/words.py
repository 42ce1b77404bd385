"""People, steps and states in the words of a question."""

from __future__ import annotations

from briefgen.model.library import Library
from briefgen.practice.question import ReadUp
from briefgen.proof.plan import PlannedStep


def deed(library: Library, step: PlannedStep) -> str:
    """What is done, without its stop; of a block's step with the item of its round."""
    words, origin = str(step.step.do).strip().rstrip("."), step.step.origin
    equipment = library.equipment.get(origin.equipment) if origin.item else None
    return f"{words} ({equipment.item_words(origin.item)})" if equipment else words


def state_words(library: Library, equipment: str, state: str) -> str:
    """`Feed A: isolated`."""
    return f"{library.equipment[equipment].label_text}: {state}"


def look_at(step: PlannedStep) -> ReadUp:
    """The step on its task's page."""
    return ReadUp("task", str(step.task.id), step.step.key)
