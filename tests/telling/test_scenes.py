"""The scenes of a sortie against the plan: written ones as written, others as they follow from it."""

from __future__ import annotations

import pytest

from briefgen.proof.evidence import SortieEvidence
from briefgen.telling.meanwhile import hazards_met, meanwhile
from briefgen.telling.scenes import FigureShown, MapShown, scenes_of
from briefgen.telling.stretches import Interval, span_of_tasks, ways_to
from tests.demo import demo

SORTIES = list(demo().evidence.sorties.values())
WRITTEN, DERIVED = SORTIES
each_sortie = pytest.mark.parametrize("proved", SORTIES, ids=lambda proved: str(proved.sortie.id))


def test_written_scenes_are_told_as_they_are_written() -> None:
    scenes = scenes_of(WRITTEN)
    assert [scene.title for scene in scenes] == [str(one.title) for one in WRITTEN.sortie.scenes]
    assert [scene.number for scene in scenes] == list(range(1, len(scenes) + 1))
    assert {scene.phase for scene in scenes if scene.tasks} == {str(phase.title) for phase in WRITTEN.sortie.phases}


def test_the_demos_first_sortie_is_told_in_twelve_minutes_and_at_least_twenty_scenes() -> None:
    scenes = scenes_of(WRITTEN)
    assert len(scenes) >= 20
    assert sum(scene.seconds for scene in scenes) <= 12 * 60
    assert sum(scene.spoken for scene in scenes) <= 12 * 60


def test_scenes_that_nobody_wrote_tell_of_every_task_in_the_order_of_the_sortie() -> None:
    scenes = scenes_of(DERIVED)
    told = list(dict.fromkeys(task for scene in scenes for task in scene.tasks))
    assert set(told) == DERIVED.tasks
    begins = [span_of_tasks(DERIVED, [task]).start for task in told]
    assert begins == sorted(begins)


def test_scenes_that_nobody_wrote_say_every_purpose_and_every_script_once() -> None:
    said = "\n\n".join(scene.says for scene in scenes_of(DERIVED))
    for task in DERIVED.tasks:
        record = DERIVED.library.tasks[task]
        assert said.count(str(record.purpose)) == 1, task
        for part in str(record.script or "").split("\n\n"):
            assert said.count(part.strip()) >= 1, task


def test_scenes_that_nobody_wrote_show_every_figure_that_the_steps_name() -> None:
    shown = {scene.shown.figure for scene in scenes_of(DERIVED) if isinstance(scene.shown, FigureShown)}
    assert {str(ref) for step in DERIVED.plan.steps for ref in step.step.figures} <= shown


@each_sortie
def test_what_everybody_does_meanwhile_is_what_the_timeline_says(proved: SortieEvidence) -> None:
    for scene in scenes_of(proved):
        for one in meanwhile(proved, scene.stretch):
            running = {
                str(times.step.task.id)
                for times in proved.timeline.of(one.person)
                if times.start < scene.stretch.end and scene.stretch.start < times.end
            }
            assert running <= set(one.tasks)
            assert running or len(one.tasks) <= 1


@each_sortie
def test_every_hazard_of_a_scenes_steps_is_met_in_it(proved: SortieEvidence) -> None:
    for scene in scenes_of(proved):
        carried = {str(hazard) for index in scene.steps for hazard in proved.plan.steps[index].step.hazards}
        assert carried <= set(hazards_met(proved, scene))


@each_sortie
def test_every_hazard_of_a_sortie_is_met_in_some_scene(proved: SortieEvidence) -> None:
    met = {hazard for scene in scenes_of(proved) for hazard in hazards_met(proved, scene)}
    assert {str(hazard) for step in proved.plan.steps for hazard in step.step.hazards} <= met


@each_sortie
def test_ways_to_a_task_are_ways_of_the_timeline(proved: SortieEvidence) -> None:
    for task in proved.tasks:
        way = ways_to(proved, task)
        if way is not None:
            ends = {(leg.start, leg.end) for leg in proved.timeline.legs}
            assert way.start in {start for start, _ in ends}
            assert way.end in {end for _, end in ends}
            assert way.start < way.end


def test_a_moment_lies_in_the_stretch_that_it_begins() -> None:
    assert Interval(5, 5).overlaps(5, 6)
    assert not Interval(5, 5).overlaps(4, 5)
    assert not Interval(0, 5).overlaps(5, 6)


def test_the_map_is_shown_over_the_moments_that_are_written() -> None:
    scene = next(scene for scene in scenes_of(WRITTEN) if scene.title == "Our ways part")
    assert scene.shown == MapShown(Interval(1800, 2040))
