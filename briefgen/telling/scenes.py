"""A scene of the told sortie as data, and all of them for one sortie.

Pure: the author's scenes go in, or where there are none, the plan; what fills the screen is resolved to a figure or to
the map over a stretch of time. Times are seconds since the sortie's start, with the likely durations.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass, replace

from briefgen.model.telling import Scene as WrittenScene
from briefgen.model.telling import Shows
from briefgen.proof.evidence import SortieEvidence
from briefgen.source import Ref
from briefgen.telling.speech import speaking_seconds
from briefgen.telling.stretches import Interval, span_of_steps, span_of_tasks, ways_to


@dataclass(frozen=True)
class FigureShown:
    """A picture, and its callouts in the order in which they are spoken of."""

    figure: str
    look: tuple[str, ...] = ()


@dataclass(frozen=True)
class MapShown:
    """The map over a stretch of the sortie; a stretch of no length is a moment."""

    stretch: Interval


Shown = FigureShown | MapShown


@dataclass(frozen=True)
class ToldScene:
    """One picture and what is said over it.

    `steps` are the steps that it tells of, by their index in the plan, `stretch` the time in which they run. `spoken`
    is how long its words take in seconds, `planned` how long the author gives it (None where nothing is said of it).
    `written` is the author's scene, if there is one.
    """

    number: int
    title: str
    shown: Shown
    says: str
    tasks: tuple[str, ...]
    steps: tuple[int, ...]
    stretch: Interval
    spoken: float
    planned: float | None = None
    phase: str = ""
    written: WrittenScene | None = None

    @property
    def seconds(self) -> float:
        """How long the scene takes: as its author plans, or else as long as its words."""
        return self.spoken if self.planned is None else self.planned


def scenes_of(proved: SortieEvidence) -> tuple[ToldScene, ...]:
    """The scenes of a sortie in order: the written ones, or else those that follow from the plan."""
    found = _written(proved) if proved.sortie.scenes else _derived(proved)
    phases = {str(task): str(phase.title) for phase in proved.sortie.phases for task in phase.tasks}
    return tuple(
        replace(scene, number=number, phase=next((phases[task] for task in scene.tasks if task in phases), ""))
        for number, scene in enumerate(found, start=1)
    )


def _scene(proved: SortieEvidence, title: str, shown: Shown, says: str, tasks: Iterable[str]) -> ToldScene:
    steps = tuple(_steps_told(proved, shown, tuple(tasks)))
    stretch = shown.stretch if isinstance(shown, MapShown) else span_of_steps(proved, steps)
    return ToldScene(0, title, shown, says, tuple(tasks), steps, stretch, speaking_seconds(proved.library, says))


def _written(proved: SortieEvidence) -> Iterator[ToldScene]:
    for written in proved.sortie.scenes:
        tasks = tuple(map(str, written.tasks)) or _tasks_shown(written.shows)
        shown = resolve(proved, written.shows)
        scene = _scene(proved, str(written.title), shown, str(written.says), tasks)
        planned = None if written.minutes is None else written.minutes * 60
        yield replace(scene, planned=planned, written=written)


def _tasks_shown(shows: Shows) -> tuple[str, ...]:
    if shows.task is not None:
        return (str(shows.task),)
    return (shows.step.task,) if shows.step is not None else ()


def resolve(proved: SortieEvidence, shows: Shows) -> Shown:
    """What an author's `shows` puts on the screen: a step or a task by its figure, or else on the map."""
    if shows.figure is not None:
        look = tuple(map(str, shows.look)) or ((shows.figure.part,) if shows.figure.part else ())
        return FigureShown(str(shows.figure), look)
    if shows.map:
        return MapShown(Interval(shows.map[0].likely, shows.map[-1].likely))
    if shows.step is not None:
        planned = proved.plan.step(str(shows.step))
        steps = [planned] if planned else []
        figures = [ref for one in steps for ref in one.step.figures]
        stretch = span_of_steps(proved, [one.index for one in steps])
    else:
        task = str(shows.task)
        record = proved.library.tasks.get(task)
        figures = [*record.figures, *(ref for step in record.steps for ref in step.figures)] if record else []
        stretch = ways_to(proved, task) or span_of_tasks(proved, [task])
    return _figure_of(figures) or MapShown(stretch)


def _figure_of(refs: list[Ref]) -> FigureShown | None:
    """The first figure that is named, with all of its callouts that are."""
    if not refs:
        return None
    first = str(refs[0])
    return FigureShown(first, tuple(dict.fromkeys(ref.part for ref in refs if ref == first and ref.part)))


def _steps_told(proved: SortieEvidence, shown: Shown, tasks: tuple[str, ...]) -> Iterator[int]:
    """The steps of its tasks: on the map those that run then; over a figure those that name what is looked at.

    Where no step names the callouts that are looked at, it is those that name the figure, and else all.
    """
    steps = [step for step in proved.plan.steps if str(step.task.id) in tasks]
    if isinstance(shown, MapShown):
        times = proved.timeline.times
        yield from (one.index for one in steps if shown.stretch.overlaps(times[one.index].start, times[one.index].end))
        return
    refs = {step.index: [ref for ref in step.step.figures if ref == shown.figure] for step in steps}
    looked = [index for index, own in refs.items() if any(ref.part in shown.look for ref in own)]
    yield from looked or [index for index, own in refs.items() if own] or refs


def _derived(proved: SortieEvidence) -> Iterator[ToldScene]:
    """The sortie's purpose over the whole map, then task by task in the order in which they begin."""
    sortie = proved.sortie
    start = Interval(0.0, 0.0)
    says = str(sortie.purpose or sortie.note or "")
    yield _scene(proved, sortie.label_text, MapShown(start), says, ())
    begins = {task: span_of_tasks(proved, [task]).start for task in sorted(proved.tasks)}
    for task in sorted(begins, key=lambda name: (begins[name], name)):
        yield from _derived_task(proved, task)


def _derived_task(proved: SortieEvidence, task: str) -> Iterator[ToldScene]:
    """Why it is done and the way there, then its figures, each with a part of the script."""
    record = proved.library.tasks[task]
    title, parts = record.label_text, _paragraphs(str(record.script or ""))
    figures = list(_figures_in_order(proved, task))
    way = ways_to(proved, task)
    opening = [str(record.purpose)] if figures else [str(record.purpose), *parts]
    where = MapShown(way or span_of_tasks(proved, [task]))
    yield _scene(proved, title, where, "\n\n".join(opening), (task,))
    for number, shown in enumerate(figures):
        own = parts[number:] if number == len(figures) - 1 else parts[number : number + 1]
        words = "\n\n".join(own) or " ".join(_instructions(proved, task, shown.figure))
        label = proved.library.figures[shown.figure].label_text
        yield _scene(proved, f"{title}: {label}", shown, words, (task,))


def _instructions(proved: SortieEvidence, task: str, figure: str) -> Iterator[str]:
    """What is done in a task's steps that name a figure: there is that to say where no part of the script is left."""
    for step in proved.plan.steps:
        if str(step.task.id) == task and any(ref == figure for ref in step.step.figures):
            yield str(step.step.do)


def _figures_in_order(proved: SortieEvidence, task: str) -> Iterator[FigureShown]:
    """A task's figures in the order in which its steps name them, each once with all callouts named."""
    record = proved.library.tasks[task]
    steps = [step.step for step in proved.plan.steps if str(step.task.id) == task]
    refs = [*record.figures, *(ref for step in steps for ref in step.figures)]
    for figure in dict.fromkeys(map(str, refs)):
        yield FigureShown(figure, tuple(dict.fromkeys(ref.part for ref in refs if ref == figure and ref.part)))


def _paragraphs(text: str) -> list[str]:
    return [part.strip() for part in text.split("\n\n") if part.strip()]
