"""People, steps and states in the words of a question."""

from __future__ import annotations

from briefgen.model.library import Library
from briefgen.practice.question import ReadUp
from briefgen.proof.plan import PlannedStep


def deed(step: PlannedStep) -> str:
    """What is done, without its stop; of a block's step with the item of its round."""
    return step.step.told.strip().rstrip(".")


def state_words(library: Library, equipment: str, state: str) -> str:
    """`Feed A: isolated`."""
    return f"{library.equipment[equipment].label_text}: {state}"


def look_at(step: PlannedStep) -> ReadUp:
    """The step on its task's page."""
    return ReadUp("task", str(step.task.id), step.step.key)
