"""What everybody does while a scene is told, and which hazards are met in it. Pure: read from the computed timeline."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from briefgen.proof.evidence import SortieEvidence
from briefgen.proof.schedule.timeline import Leg
from briefgen.telling.scenes import MapShown, ToldScene
from briefgen.telling.stretches import Interval


@dataclass(frozen=True)
class Meanwhile:
    """A person and the tasks that they work on in a stretch, in the order in which these come up."""

    person: str
    tasks: tuple[str, ...]


def meanwhile(proved: SortieEvidence, stretch: Interval) -> tuple[Meanwhile, ...]:
    """What each person with a flow does in a stretch: the tasks of the steps then, or else of the next one."""
    return tuple(Meanwhile(person, tuple(_tasks(proved, person, stretch))) for person in proved.plan.flows)


def _tasks(proved: SortieEvidence, person: str, stretch: Interval) -> Iterator[str]:
    times = proved.timeline.of(person)
    running = [one.step for one in times if stretch.overlaps(one.start, one.end)]
    ahead = [one.step for one in times if one.start >= stretch.end][:1]
    yield from dict.fromkeys(str(step.task.id) for step in running or ahead)


def hazards_met(proved: SortieEvidence, scene: ToldScene) -> tuple[str, ...]:
    """The hazards of a scene's steps, and on the map of the ways then, each once, in the order of the clock."""
    steps = sorted((proved.timeline.times[index] for index in scene.steps), key=lambda one: (one.start, one.step.index))
    found = [carried.hazard for one in steps for carried in one.step.hazards]
    if isinstance(scene.shown, MapShown):
        routes = (route for leg in _legs(proved, scene) if leg.way for route in leg.way.routes)
        found += [hazard for route in routes for hazard in proved.library.routes[route].hazards]
    return tuple(dict.fromkeys(map(str, found)))


def _legs(proved: SortieEvidence, scene: ToldScene) -> list[Leg]:
    """The ways in a scene's stretch that lead to steps of its tasks."""
    return [
        leg
        for leg in proved.timeline.legs
        if str(proved.plan.steps[leg.step].task.id) in scene.tasks and scene.stretch.overlaps(leg.start, leg.end)
    ]
