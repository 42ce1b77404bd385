"""Scenes of the told sortie as rows: what fills the screen, what is said, who is where, and what can hurt there."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from dataclasses import dataclass

from briefgen.pages.context import PageContext
from briefgen.pages.doing.statements import Statement, statements
from briefgen.pages.planning.touched import scene_change
from briefgen.pages.rows import Badge, Link, MarkChip
from briefgen.pages.studying.pictured import Picture, figure_picture, site_picture
from briefgen.proof.evidence import SortieEvidence
from briefgen.telling.meanwhile import hazards_met, meanwhile
from briefgen.telling.scenes import FigureShown, ToldScene, scenes_of
from briefgen.telling.stretches import Interval
from briefgen.units import MINUTE, show_elapsed


@dataclass(frozen=True)
class Busy:
    """A person, and the tasks that they are at meanwhile."""

    mark: MarkChip
    tasks: tuple[Link, ...]


@dataclass(frozen=True)
class SceneRow:
    """A scene, ready to print. `seconds` are what it takes, `until` when it ends since the telling began."""

    anchor: str
    number: int
    title: str
    phase: str
    picture: Picture | None
    says: str
    takes: str
    seconds: int
    until: int
    over: bool
    shorten: int
    clock: str
    tasks: tuple[Link, ...]
    doing: tuple[Busy, ...]
    hazards: tuple[Statement, ...]
    change: Badge | None


def scene_rows(context: PageContext, proved: SortieEvidence) -> tuple[SceneRow, ...]:
    """The scenes of a sortie."""
    return context.once(("scenes", str(proved.sortie.id)), lambda: tuple(_rows(context, proved)))


def _rows(context: PageContext, proved: SortieEvidence) -> Iterator[SceneRow]:
    scenes = scenes_of(proved)
    ranks = _shorten_first(proved, scenes)
    until = 0.0
    for scene in scenes:
        until += scene.seconds
        yield SceneRow(
            anchor=f"scene-{scene.number}",
            number=scene.number,
            title=context.texts.plain(scene.title),
            phase=context.texts.plain(scene.phase) if scene.phase else "",
            picture=_picture(context, proved, scene),
            says=scene.says,
            takes=minutes_words(scene.seconds),
            seconds=round(scene.seconds),
            until=round(until),
            over=scene.planned is not None and scene.spoken > scene.planned,
            shorten=ranks.get(scene.number, 0),
            clock=_clock(scene.stretch),
            tasks=tuple(context.link("task", task) for task in scene.tasks if task in context.library.tasks),
            doing=tuple(
                Busy(context.mark(one.person), tuple(context.link("task", task) for task in one.tasks))
                for one in meanwhile(proved, scene.stretch)
                if scene.tasks
            ),
            hazards=statements(context, hazards_met(proved, scene)),
            change=scene_change(context, proved, scene),
        )


def minutes_words(seconds: float) -> str:
    """`1:35 min`, or nothing where no time is known.

    >>> minutes_words(95), minutes_words(0)
    ('1:35 min', '')
    """
    whole = round(seconds)
    return f"{whole // 60}:{whole % 60:02d} min" if whole else ""


def _clock(stretch: Interval) -> str:
    if stretch.end - stretch.start < MINUTE:
        return show_elapsed(stretch.start)
    return f"{show_elapsed(stretch.start)} to {show_elapsed(stretch.end)}"


def _shorten_first(proved: SortieEvidence, scenes: Iterable[ToldScene]) -> dict[int, int]:
    """Which scenes to shorten when late, as ranks from 1: optional tasks first, then scenes that meet no hazard."""

    def rank(scene: ToldScene) -> tuple[int, float]:
        tasks = [proved.library.tasks[name] for name in scene.tasks if name in proved.library.tasks]
        optional = bool(tasks) and all(task.optional for task in tasks)
        return (0 if optional else 1 if not hazards_met(proved, scene) else 2, -scene.seconds)

    chosen = sorted((scene for scene in scenes if scene.seconds and rank(scene)[0] < 2), key=rank)
    return {scene.number: place for place, scene in enumerate(chosen, start=1)}


def _picture(context: PageContext, proved: SortieEvidence, scene: ToldScene) -> Picture | None:
    if isinstance(scene.shown, FigureShown):
        return figure_picture(context, scene.shown)
    return site_picture(context, proved, scene.shown.stretch)
