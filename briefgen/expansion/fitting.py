"""A step that brings a thing into its place leaves it there: written out, as if the author had said so."""

from __future__ import annotations

from briefgen.model.library import Library
from briefgen.model.steps import Step
from briefgen.model.tasks import WrittenTask
from briefgen.source import Ref


def fitting(step: Step, task: WrittenTask, library: Library) -> Step:
    """The step, leaving every tool that what it sets fits; where it says itself where it leaves one, that stands."""
    left = {str(name) for name in step.leaves}
    more = {}
    for equipment, state in step.sets.items():
        record = library.equipment.get(equipment)
        place = step.at or task.place or (record.place if record else None)
        for name, tool in library.tools.items() if place else ():
            fits = any(one == equipment and state == its for one, its in tool.fitted_as.items())
            if fits and name not in left and place:
                more[Ref(name, equipment.position, ("tools",))] = Ref(str(place), equipment.position, ("places",))
    return step.model_copy(update={"leaves": {**step.leaves, **more}}) if more else step
